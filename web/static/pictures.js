// Pictures that points are tapped in stay in the browser, by the SHA-256 of their bytes.
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
export const hold = async (blob, to) => {
  if (!crypto.subtle) return "";
  const bytes = await blob.arrayBuffer();
  const sum = await crypto.subtle.digest("SHA-256", bytes);
  const name = [...new Uint8Array(sum)].map((b) => b.toString(16).padStart(2, "0")).join("");
  try {
    await within("readwrite", (all) => all.put({ blob: new Blob([bytes], { type: blob.type }), to }, name));
  } catch { /* it has to be chosen again to be kept */ }
  return name;
};

// Sends a picture to be kept with an order; here it stays, to be tapped on. It is true where
// it is kept there.
const send = async (name, { blob, to }, token) => {
  const body = new FormData();
  for (const [field, value] of [["csrf", token], ["request", crypto.randomUUID()], ["shows", "stack"]]) body.set(field, value);
  body.set("photo", blob, "stack." + (blob.type === "image/png" ? "png" : "jpg"));
  const got = await fetch(to, { method: "POST", body, headers: { Accept: "application/json" } });
  const twice = got.status === 422 && (await got.json()).fields?.some((f) => f.code === "twice");
  if (!got.ok && !twice) return false;
  await within("readwrite", (all) => all.put({ blob }, name)); // it can be tapped on, and need not go again
  return true;
};

// Sends what is still to be kept with an order; one after the other, and none twice.
let under = Promise.resolve();
hold.send = (token) => {
  under = under.then(async () => {
    for (const name of await within("readonly", (all) => all.getAllKeys())) {
      const one = await within("readonly", (all) => all.get(name));
      if (one.to) await send(name, one, token);
    }
  }).catch(() => { /* no connection, or nothing is kept: it goes another time */ });
  return under;
};

hold.get = async (name) => { try { return (await within("readonly", (all) => all.get(name)))?.blob; } catch { return undefined; } };
