// Pictures that points are tapped in stay in the browser, by the SHA-256 of their bytes, until
// they are kept with what is saved.
const open = () => new Promise((done, failed) => {
  const asked = indexedDB.open("pictures", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("pictures");
  asked.onsuccess = () => done(asked.result);
  asked.onerror = () => failed(asked.error);
});

const within = async (mode, act) => {
  const base = await open();
  try {
    return await new Promise((done, failed) => {
      const asked = act(base.transaction("pictures", mode).objectStore("pictures"));
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => failed(asked.error);
    });
  } finally {
    base.close();
  }
};

// Keeps a picture and gives its name; where the browser keeps nothing for a page, the name
// alone. It is empty where the page came over a connection that has no crypto.
export const hold = async (blob) => {
  if (!crypto.subtle) return "";
  const bytes = await blob.arrayBuffer();
  const sum = await crypto.subtle.digest("SHA-256", bytes);
  const name = [...new Uint8Array(sum)].map((b) => b.toString(16).padStart(2, "0")).join("");
  try {
    await within("readwrite", (all) => all.put(new Blob([bytes], { type: blob.type }), name));
  } catch { /* it has to be chosen again to be kept */ }
  return name;
};
hold.get = async (name) => { try { return await within("readonly", (all) => all.get(name)); } catch { return undefined; } };
hold.drop = async (name) => { try { await within("readwrite", (all) => all.delete(name)); } catch { /* nothing was kept */ } };
