// The worker: the day's pages without signal, and forms that go up once it is back. What
// it was built from (its mark, the static files, the shell's pages) stands above this, put
// there by the server, so that any change of a file makes a new worker.
"use strict";
importScripts(build.outbox);

const shell = "shell-" + build.mark; // nobody's own: static files, and the pages that say there is no signal
const copies = "copies"; // pages of the person who is signed in
const keptFor = 3 * 24 * 3600e3; // a copy is gone after this
const fresh = 5 * 60e3; // a copy this young isn't fetched again
const patience = 8e3, longPatience = 25e3; // how long a weak signal is waited for: with a copy or a form at hand, and without

// Pages of which a copy is kept. A link's secret, people, the shop's settings and audits
// are never among them.
const order = "/orders/[0-9a-f-]{36}";
const copied = new RegExp(`^(/|/orders|/orders/new|/waiting|/batches|/measure|/how-to-measure|/storage|/trips|/winter|/wood|/buying|${order}(/deliver|/measure|/payments|/moisture|/settlement|/edit)?)$`);
// Forms that wait for signal. What can't be undone, and whatever asks who one is, does not.
const waits = new RegExp(`^(/orders|/waiting|${order}/(day|edit|deliver|measure|payments|moisture))$`);

// Those of them in which a day may be said in words.
const dated = new RegExp(`^(/orders|${order}/(day|edit))$`);

const away = [502, 503, 504]; // a proxy says that the shop's machine is not there
const within = (ms, work) => Promise.race([work, new Promise((_, late) => setTimeout(() => late(new Error("no answer")), ms))]);
const ask = async (ms, request, how) => {
  const answer = await within(ms, fetch(request, how));
  if (away.includes(answer.status)) throw new Error("not there");
  return answer;
};

// Copies

const wipeCopies = () => caches.delete(copies);

// heed minds who the server takes this phone for: copies are of one person, and a phone
// that was shut out loses everything.
const heed = async (answer) => {
  const who = answer.headers.get("Wellstowed-Who");
  if (!who) return false;
  if (who === "withdrawn") await outbox.wipe();
  else if (who !== await outbox.fact("who")) await wipeCopies();
  await outbox.know("who", who);
  return who !== "withdrawn";
};

const keep = async (cache, path, answer) => {
  const headers = new Headers(answer.headers);
  for (const name of ["Content-Encoding", "Content-Length"]) headers.delete(name);
  headers.set("Wellstowed-Kept", new Date().toISOString());
  // a form's token is a secret of the session: a fresh one is asked for when it is sent
  const text = (await answer.text()).replace(/(name="csrf" value=")[^"]*/g, "$1");
  await (await caches.open(cache)).put(path, new Response(text, { headers }));
};

const pathOf = (url) => {
  url.searchParams.delete("saved");
  return url.pathname + url.search;
};

const isPage = (answer) => answer.ok && answer.type === "basic" && !answer.redirected && (answer.headers.get("Content-Type") ?? "").startsWith("text/html");

// copyOf is the copy of a page, as a page without signal: it says since when, and its form
// has an id of its own, so that the same copy can be filled in twice.
const copyOf = async (url) => {
  const path = pathOf(new URL(url));
  const cache = await caches.open(copies);
  const found = await cache.match(path) ?? await cache.match(path, { ignoreSearch: true });
  if (!found) return undefined;
  const at = found.headers.get("Wellstowed-Kept");
  if (Date.now() - new Date(at) > keptFor) return void await cache.delete(path, { ignoreSearch: true });
  return shown(found, at);
};

const shown = async (found, at, more = "") => {
  const text = (await found.text())
    .replace("<body", `<body data-copy="${at}"${more}`)
    .replace(/(name="request" value=")[^"]*/g, "$1" + crypto.randomUUID());
  return new Response(text, { headers: found.headers });
};

const shellPage = async (path, more) => {
  const found = await (await caches.open(shell)).match(path);
  return found ? shown(found, "", more) : Response.error();
};
const notSent = () => shellPage("/offline", " data-posted");

const opened = async (request) => {
  const url = new URL(request.url);
  const copy = await copyOf(url);
  try {
    await finishLeaving();
    const answer = await ask(copy ? patience : longPatience, request);
    if (await heed(answer) && isPage(answer) && copied.test(url.pathname)) await keep(copies, pathOf(url), answer.clone());
    return answer;
  } catch {
    if (url.pathname === "/outbox") return shellPage("/outbox");
    return await copy ?? shellPage("/offline");
  }
};

// contact asks the server who this phone is, for a form's token, and for the pages of the
// day.
const contact = async () => {
  await finishLeaving();
  const answer = await ask(longPatience, "/offline/copy", { headers: { Accept: "application/json" }, cache: "no-store" });
  await heed(answer);
  if (!answer.ok) throw new Error("no contact");
  return answer.json();
};

// refresh fetches the pages of the day, and drops copies that are too old.
const refresh = async () => {
  const cache = await caches.open(copies);
  const age = async (path) => {
    const found = await cache.match(path);
    return found ? Date.now() - new Date(found.headers.get("Wellstowed-Kept")) : Infinity;
  };
  for (const request of await cache.keys()) {
    if (await age(request) > keptFor) await cache.delete(request);
  }
  const { who, pages } = await contact();
  for (const path of pages) {
    if (await age(path) < fresh) continue;
    const answer = await ask(longPatience, path);
    if (!await heed(answer) || answer.headers.get("Wellstowed-Who") !== who) return;
    if (isPage(answer)) await keep(copies, path, answer);
  }
  if (!await caches.match(build.phone)) await (await caches.open(shell)).add(build.phone);
};

// Signing out without signal wiped the phone at once; the server hears of it at the next
// contact. The page does the wiping, since an answer that clears a site ends its worker.
const finishLeaving = async () => {
  if (!await outbox.fact("leaving")) return;
  const { token } = await (await ask(longPatience, "/offline/copy", { headers: { Accept: "application/json" }, cache: "no-store" })).json();
  await ask(longPatience, "/sign-out", posting(new URLSearchParams({ csrf: token })));
  await outbox.know("leaving", false);
};

// Forms

const posting = (body) => ({
  method: "POST", body: body.toString(), redirect: "manual",
  headers: { "Content-Type": "application/x-www-form-urlencoded;charset=UTF-8", Accept: "application/json" },
});

const saves = (path, body) => waits.test(path) && body.get("enter") === null && ["", "save"].includes(body.get("do") ?? "");

// waitFor keeps a form until there is signal. The same form sent twice waits once; other
// content under the same id waits beside it, and the server tells them apart.
const waitFor = async (path, body) => {
  body.delete("csrf");
  body.delete("minute"); // it is over by the time it goes up
  const text = body.toString();
  const item = { path, body: text, hash: await outbox.hash(text), request: body.get("request"), at: new Date().toISOString(), who: await outbox.fact("who"), state: "waiting" };
  const same = (await outbox.all()).find((w) => w.request === item.request && w.path === path && w.hash === item.hash);
  if (same) await outbox.put({ ...same, state: "waiting", said: null });
  else await outbox.put(item);
  try {
    await self.registration.sync?.register("outbox");
  } catch { /* not allowed here: it goes up when a page is open */ }
  const seen = new URL("/outbox", self.location);
  if (body.get("draft")) seen.searchParams.set("kept", body.get("draft"));
  return Response.redirect(seen, 303);
};

// settled takes out what a form that got through was about: itself, or what its person
// came to decide from the list.
const settled = async (path, request) => {
  const deciding = await outbox.fact("deciding");
  for (const w of await outbox.all()) {
    if (w.request === request || (w.seq === deciding && path.startsWith(orderOf(w.path) || w.path))) await outbox.drop(w.seq);
  }
  await outbox.know("deciding", 0);
};

// orderOf is the path of the order that a form is about, "" for a new one.
const orderOf = (path) => path.match(new RegExp("^" + order))?.[0] ?? "";

const posted = async (request) => {
  const { pathname: path, search } = new URL(request.url);
  const form = (request.headers.get("Content-Type") ?? "").startsWith("application/x-www-form-urlencoded");
  if (!form) return ask(5 * longPatience, request).catch(notSent);
  const copy = request.clone();
  const body = new URLSearchParams(await copy.text());
  try {
    if ((await outbox.all()).some((w) => w.state === "waiting")) await send();
    let answer;
    if (body.get("csrf") === "") { // it was filled in on a copy
      body.set("csrf", (await contact()).token);
      answer = await ask(longPatience, path + search, { ...posting(body), headers: { "Content-Type": "application/x-www-form-urlencoded;charset=UTF-8", Accept: "text/html" } });
    } else {
      answer = await ask(longPatience, request);
    }
    if (answer.type === "opaqueredirect") {
      await settled(path, body.get("request"));
    } else if (answer.type === "basic") await heed(answer);
    return answer;
  } catch {
    return saves(path, body) ? waitFor(path, body) : notSent();
  }
};

// send takes up what waits, in order. What the server refuses is left to be decided, and
// holds up only what is of the same order; without an answer all that is left waits on.
const send = () => navigator.locks.request("outbox", async () => {
  const held = new Set();
  let known;
  for (const item of await outbox.all()) {
    const of = orderOf(item.path);
    if (item.state !== "waiting") held.add(of);
    if (of && held.has(of)) continue;
    if (item.state !== "waiting") continue;
    known ??= await contact();
    if (item.who !== known.who) continue; // it is somebody else's
    const said = await up(item, known.token);
    if (!said) await outbox.drop(item.seq);
    else {
      await outbox.put({ ...item, state: "decide", said });
      held.add(of);
    }
  }
});

// up sends one form and gives what the server said against it, null where it was taken.
const up = async (item, token) => {
  const body = new URLSearchParams(item.body);
  if (await outbox.hash(item.body) !== item.hash) return { why: "damaged" };
  if (dated.test(item.path)) body.set("written", item.at); // “Saturday” was meant from then on
  body.set("csrf", token);
  const answer = await ask(longPatience, item.path, posting(body));
  if (answer.ok) return null;
  if (answer.status === 401 || answer.status === 429) throw new Error("not now");
  const said = await answer.json().catch(() => ({}));
  const fields = (said.fields ?? []).map((f) => f.field);
  return { status: answer.status, detail: said.detail, fields: said.fields, saved: said.saved, why: fields.length === 1 && fields[0] === "confirmed" ? "readback" : "refused" };
};

// The worker's life

const settle = async () => {
  const cache = await caches.open(shell);
  await cache.addAll(build.files);
  for (const path of build.pages) await keep(shell, path, await fetch(path, { credentials: "omit" }));
};

self.addEventListener("install", (event) => event.waitUntil(settle().then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) {
    if (name.startsWith("shell-") && name !== shell) await caches.delete(name);
  }
  await self.clients.claim();
})()));

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.mode === "navigate" && !/^\/(buyer|audits|trust|sign-out)(\/|$)/.test(url.pathname)) {
    if (request.method === "GET") event.respondWith(opened(request));
    else event.respondWith(posted(request));
  } else if (request.method === "GET" && url.pathname.startsWith("/static/")) {
    event.respondWith((async () => await caches.match(request) ??
      fetch(request).catch(async () => await caches.match(request, { ignoreSearch: true }) ?? Response.error()))());
  }
});

const tasks = { send, refresh: async () => { await send(); await refresh(); } };
const quietly = (work) => work.catch(() => { /* no signal: the next contact does it */ });
self.addEventListener("message", (event) => { if (tasks[event.data]) event.waitUntil(quietly(tasks[event.data]())); });
self.addEventListener("sync", (event) => { if (event.tag === "outbox") event.waitUntil(send()); });
