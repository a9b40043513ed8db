// What a page says of the signal: since when a copy is, what waits to go up, and why a
// phone keeps nothing. The words stand in the page, put there by the server.
"use strict";
(() => {
  const body = document.body;
  const copied = "copy" in body.dataset;
  const tell = (id, fill = {}) => {
    const line = document.getElementById(id);
    if (!line) return;
    for (const [name, value] of Object.entries(fill)) {
      for (const at of line.querySelectorAll(`[data-fill=${name}]`)) at.textContent = value;
    }
    line.hidden = false;
  };
  const lang = document.documentElement.lang;
  const clock = (at) => {
    const then = new Date(at);
    const time = then.toLocaleTimeString(lang, { hour: "numeric", minute: "2-digit" });
    return then.toDateString() === new Date().toDateString() ? time : then.toLocaleDateString(lang, { weekday: "short", day: "numeric", month: "short" }) + ", " + time;
  };

  // A phone that was shut out loses what was typed and not sent as well.
  if ("withdrawn" in body.dataset) localStorage.clear();

  if (!isSecureContext) return tell("off-plain");
  if (!("serviceWorker" in navigator) || !window.indexedDB) return tell("off-browser");

  if (body.dataset.copy) {
    tell("copy", { time: clock(body.dataset.copy) });
    // a day that a field proposed was that of the copy
    const day = (date) => new Date(date - date.getTimezoneOffset() * 60e3).toISOString().slice(0, 10);
    for (const field of document.querySelectorAll("input[type=date]")) {
      if (field.defaultValue === day(new Date(body.dataset.copy)) && field.value === field.defaultValue) field.value = day(new Date());
    }
  }
  if ("posted" in body.dataset) tell("not-sent");

  // Elements of a list, made from the page's own.
  const made = (id, fill) => {
    const part = document.getElementById(id).content.cloneNode(true);
    for (const [name, value] of Object.entries(fill)) for (const at of part.querySelectorAll(`[data-fill=${name}]`)) at.textContent = value;
    return part;
  };
  const word = (name) => document.querySelector(`#words [data-word="${CSS.escape(name)}"]`)?.textContent ?? "";
  const orderOf = (path) => path.match(/^\/orders\/[0-9a-f-]{36}/)?.[0];

  // The pages that open without signal, with their titles.
  const opens = async () => {
    const list = document.getElementById("opens");
    if (!list) return;
    const cache = await caches.open("copies");
    for (const request of await cache.keys()) {
      const page = new DOMParser().parseFromString(await (await cache.match(request)).text(), "text/html");
      const item = document.createElement("li");
      const link = document.createElement("a");
      const name = page.querySelector("main .answer")?.textContent;
      link.href = request.url;
      link.textContent = page.title.replace(/ · [^·]*$/, "") + (name && orderOf(new URL(request.url).pathname) ? ": " + name : "");
      item.append(link);
      list.append(item);
    }
    if (list.children.length) tell("opens-at-all");
  };

  // Whom a form is about: as it says itself, or as the board's copy has it.
  const copyOf = async (path) => {
    const found = await (await caches.open("copies")).match(path);
    return found ? new DOMParser().parseFromString(await found.text(), "text/html") : document;
  };
  const about = (item, at) => {
    const sent = new URLSearchParams(item.body);
    const kind = item.path.split("/").pop();
    const name = sent.get("customer_name") ?? at.querySelector(`.book a.n[href="${orderOf(item.path)}"] b`)?.textContent;
    const much = sent.get("quantity") ?? sent.get("delivered") ?? sent.get("paid") ?? sent.get("day");
    return word(kind) + [much, name].filter(Boolean).map((part, i) => (i ? ", " : ": ") + part).join("");
  };
  const unsaid = ["request", "draft", "version", "do", "usual_length", "confirmed", "clock"];
  // What was written, each field called as the form that it was written into calls it.
  const written = (list, fields, form = document) => {
    for (const [name, value] of fields) {
      if (!value || unsaid.includes(name)) continue;
      const term = document.createElement("dt");
      const said = document.createElement("dd");
      const label = form.querySelector(`label[for="${CSS.escape(name)}"]`);
      term.textContent = word("field " + name) || (label?.querySelector(".unseen") ?? label)?.textContent || name;
      said.textContent = value;
      list.append(term, said);
    }
  };

  const token = async () => (await (await fetch("/offline/copy", { headers: { Accept: "application/json" } })).json()).token;

  // What the shop has now in the fields that this phone changed otherwise.
  const theirs = async (part, item) => {
    const { path, sent } = { path: orderOf(item.path), sent: new URLSearchParams(item.body) };
    if (!path || item.said.status !== 409) return;
    const side = part.querySelector("[data-theirs]");
    const answer = await fetch(path + "/edit", { headers: { Accept: "application/json" } }).catch(() => null);
    if (!answer?.ok) return;
    const now = Object.entries(await answer.json()).filter(([name, value]) => sent.has(name) && String(value) !== sent.get(name));
    written(side.querySelector("dl"), now);
    side.hidden = now.length === 0;
  };

  // What was refused is decided on the server's own page, which shows both sides.
  const decide = (item, at, origin) => {
    const part = made("to-decide", { what: about(item, at), when: clock(item.at), said: item.said.detail ?? "" });
    written(part.querySelector("[data-side=ours]"), new URLSearchParams(item.body), origin);
    theirs(part, item);
    for (const why of part.querySelectorAll("[data-why]")) why.hidden = why.dataset.why !== item.said.why;
    const faults = part.querySelector("ul");
    for (const fault of item.said.why === "refused" ? item.said.fields ?? [] : []) {
      const line = document.createElement("li");
      line.textContent = (word("field " + fault.field) || fault.field) + ": " + (fault.wrong ?? "");
      faults.append(line);
    }
    part.querySelector("a").href = item.said.saved?.path ?? orderOf(item.path) ?? "/";
    const form = part.querySelector("form");
    form.action = item.path;
    const sent = new URLSearchParams(item.body);
    if (/^\/orders($|\/.*\/(day|edit)$)/.test(item.path)) sent.set("written", item.at); // as the worker sends it
    for (const [name, value] of sent) {
      const field = document.createElement("input");
      Object.assign(field, { type: "hidden", name, value });
      form.append(field);
    }
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      try {
        const field = document.createElement("input");
        Object.assign(field, { type: "hidden", name: "csrf", value: await token() });
        form.append(field);
        await outbox.know("deciding", item.seq);
        form.submit();
      } catch {
        tell("not-now");
      }
    });
    part.querySelector("[data-drop]").addEventListener("click", () => outbox.drop(item.seq));
    return part;
  };

  const show = async () => {
    const who = await outbox.fact("who");
    const kept = await outbox.all();
    const all = kept.filter((w) => w.who === who); // what somebody else wrote isn't shown
    const going = all.filter((w) => w.state === "waiting");
    const deciding = all.filter((w) => w.state !== "waiting");
    const list = document.getElementById("going");
    const band = document.getElementById("waits");
    if (all.length && !list) tell("waits", { count: all.length, deciding: deciding.length, time: clock(all[0].at) });
    else if (band) band.hidden = true;
    if (band) document.getElementById("waits-decide").hidden = !deciding.length;
    for (const item of all) {
      const row = document.querySelector(`.book a.n[href="${orderOf(item.path)}"]`)?.closest("li");
      const next = row?.querySelector(".next");
      if (next) next.replaceWith(made(item.state === "waiting" ? "row-waits" : "row-decide", {}));
    }
    if (!list) return;
    const at = await copyOf("/");
    const parts = await Promise.all(going.map(async (item) => {
      const part = made("to-go", { what: about(item, at), when: clock(item.at) });
      written(part.querySelector("dl"), new URLSearchParams(item.body), await copyOf(item.path));
      return part;
    }));
    list.replaceChildren(...parts);
    document.getElementById("deciding").replaceChildren(...await Promise.all(deciding.map(async (item) => decide(item, at, await copyOf(item.path)))));
    for (const [id, there] of [["none", !kept.length], ["others", kept.length > all.length], ["going-head", going.length], ["counts", all.length], ["try", going.length]]) document.getElementById(id).hidden = !there;
    for (const [name, n] of [["going", going.length], ["deciding", deciding.length], ["others", kept.length - all.length]]) {
      for (const at of document.querySelectorAll(`main [data-fill=${name}]`)) at.textContent = n;
    }
  };

  // A form filled in on a copy answers while one types again, once there is signal.
  const renew = async () => {
    if (!copied) return;
    const fresh = await token().catch(() => "");
    for (const field of document.querySelectorAll("input[name=csrf]")) field.value = fresh;
  };

  const ask = async (what) => (await navigator.serviceWorker.ready).active.postMessage(what);

  // Signing out loses what waits, so it is asked about.
  const leave = async (form) => {
    await outbox.wipe();
    localStorage.clear();
    try {
      await token();
    } catch {
      await outbox.know("leaving", true);
      return location.assign("/offline");
    }
    form.submit();
  };
  for (const form of document.querySelectorAll("form[action='/sign-out']")) {
    form.addEventListener("submit", async (event) => {
      event.preventDefault();
      const all = await outbox.all();
      if (!all.length) return leave(form);
      form.previousElementSibling?.matches(".note") && form.previousElementSibling.remove();
      form.before(made("leaving", { count: all.length }));
      form.previousElementSibling.querySelector("button").addEventListener("click", () => leave(form));
    });
  }

  const begin = async () => {
    try {
      await navigator.serviceWorker.register("/sw.js");
    } catch { // such as a certificate that this phone doesn't trust
      if (!copied && navigator.onLine) tell("off-refused");
      return;
    }
    if (location.pathname !== "/outbox" || new URLSearchParams(location.search).has("kept")) {
      const kept = new URLSearchParams(location.search).get("kept");
      if (kept) {
        localStorage.removeItem("draft:" + kept); // it waits now
        history.replaceState(null, "", "/outbox");
      }
    } else {
      await outbox.know("deciding", 0);
    }
    outbox.told.addEventListener("message", show);
    await show();
    await opens();
    addEventListener("online", () => { ask("send"); renew(); });
    document.getElementById("try")?.addEventListener("click", () => ask("send"));
    setInterval(async () => { if ((await outbox.all()).some((w) => w.state === "waiting")) ask("send"); }, 20e3);
    if (copied) return ask("send");
    await ask(location.pathname === "/" ? "refresh" : "send");
  };
  begin();
})();
