// What a phone keeps for itself: forms that found no signal, in the order they were sent,
// and a few facts about the copies it holds. Pages and the worker share this.
"use strict";
const outbox = (() => {
  const opened = new Promise((done, fail) => {
    const asked = indexedDB.open("wellstowed", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("waiting", { keyPath: "seq", autoIncrement: true });
      asked.result.createObjectStore("facts");
    };
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  opened.catch(() => { /* each use says so */ });
  // One transaction on a store, done when it is on the disk.
  const within = async (store, mode, work) => {
    const db = await opened;
    return new Promise((done, fail) => {
      const tx = db.transaction(store, mode, { durability: "strict" });
      const asked = work(tx.objectStore(store));
      tx.oncomplete = () => done(asked.result);
      tx.onabort = tx.onerror = () => fail(tx.error);
    });
  };
  const told = new BroadcastChannel("outbox");
  const changing = async (work) => {
    const got = await within("waiting", "readwrite", work);
    told.postMessage("changed");
    return got;
  };
  const hash = async (text) => [...new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text)))]
    .map((b) => b.toString(16).padStart(2, "0")).join("");
  return {
    hash, told,
    all: () => within("waiting", "readonly", (s) => s.getAll()),
    get: (seq) => within("waiting", "readonly", (s) => s.get(seq)),
    put: (item) => changing((s) => s.put(item)),
    drop: (seq) => changing((s) => s.delete(seq)),
    fact: (name) => within("facts", "readonly", (s) => s.get(name)),
    know: (name, value) => within("facts", "readwrite", (s) => s.put(value, name)),
    // wipe forgets the copies, what waits, and every fact.
    wipe: async () => {
      await caches.delete("copies");
      await within("facts", "readwrite", (s) => s.clear());
      await changing((s) => s.clear());
    },
  };
})();
