"use strict";
// Once the minute of a delivery is over, its page says that the receipt is numbered and links to
// it. Nobody is moved on: who was reading, or was about to press, decides.
(() => {
  const line = document.getElementById("numbered");
  if (!line) return;
  const link = line.querySelector("a");
  let every;
  const look = async () => {
    const got = await fetch(location.href, { headers: { Accept: "text/html" } }).catch(() => null); // no signal: later
    if (!got || (got.ok && !got.redirected)) return;
    clearInterval(every);
    document.removeEventListener("visibilitychange", look);
    link.textContent = got.ok ? line.dataset.done : line.dataset.stuck;
    if (!got.ok) return;
    link.href = got.url;
    for (const form of document.querySelectorAll("main form")) form.hidden = true;
    document.getElementById("until").hidden = true;
  };
  setTimeout(() => { every = setInterval(look, 5000); }, line.dataset.wait * 1000);
  document.addEventListener("visibilitychange", look); // the phone was put away meanwhile
})();
