// The measuring page answers on the phone itself, once it is loaded: what the server would
// say, by the same program, with signal or without. The server stays the truth on what is
// saved.
import { answers, shownWidth } from "./live.js";

// What the program asks of the machine it runs on: the hour, chance, and where to write
// what it can't go on from. There are no files, arguments or settings.
const machine = (memory) => {
  const view = () => new DataView(memory().buffer);
  const none = (a, b) => { view().setUint32(a, 0, true); view().setUint32(b, 0, true); return 0; };
  const given = {
    clock_time_get(which, _, out) { view().setBigUint64(out, BigInt(Math.round((which === 0 ? Date.now() : performance.now()) * 1e6)), true); return 0; },
    random_get(at, n) { crypto.getRandomValues(new Uint8Array(memory().buffer, at, n)); return 0; },
    fd_write(_, parts, n, out) {
      let written = 0;
      for (let i = 0; i < n; i++) written += view().getUint32(parts + 8 * i + 4, true);
      view().setUint32(out, written, true);
      return 0;
    },
    fd_prestat_get() { return 8; }, // no such file
    args_sizes_get: none,
    environ_sizes_get: none,
    proc_exit(code) { throw new Error(`the program ended: ${code}`); },
  };
  return new Proxy(given, { get: (all, name) => all[name] ?? (() => 0) });
};

// load gives a function that asks the program: what it takes and gives is JSON.
export const load = async (program) => {
  let run = null;
  const { instance } = await WebAssembly.instantiate(program, { wasi_snapshot_preview1: machine(() => run.memory) });
  run = instance.exports;
  run._initialize();
  return (question) => {
    const sent = new TextEncoder().encode(JSON.stringify(question));
    const at = run.room(sent.length);
    new Uint8Array(run.memory.buffer, at, sent.length).set(sent);
    const length = run.ask();
    const said = JSON.parse(new TextDecoder().decode(new Uint8Array(run.memory.buffer, run.told(), length)));
    if (said.fault) throw new Error(said.fault);
    return said;
  };
};

// Fields that every form has and that are no readings.
const own = ["csrf", "request", "draft", "clock"];

// takeOver answers a form here. What is wrong or asked about is worded better beside its
// field, by the server where it can be asked; so is a row that is only half read.
const takeOver = (form, ask) => {
  const page = JSON.parse(form.dataset.phone);
  const server = answers.answer;
  answers.answer = async (asked, signal) => {
    if (asked !== form) return server(asked, signal);
    const fields = [...new FormData(form)].filter(([name]) => !own.includes(name));
    const { ok, part } = ask({ page: { ...page, width: shownWidth(form), face: Number(form.dataset.face ?? 0) }, fields });
    const here = { ok, part: new DOMParser().parseFromString(part, "text/html") };
    // so is a reading that is asked about, until the server no longer asks
    const whole = ok && !form.dataset.open && !here.part.querySelector(".question") && !form.querySelector(".question");
    if (whole) return here;
    try {
      return await server(form, signal);
    } catch (away) {
      if (signal.aborted) throw away;
      return here;
    }
  };
  form.dataset.answers = "here";
};

// phone loads the program once the page has nothing better to do.
export const phone = (form) => {
  const idle = window.requestIdleCallback ?? ((then) => setTimeout(then, 1000));
  idle(async () => {
    try {
      const got = await fetch(form.dataset.program);
      if (!got.ok) return;
      takeOver(form, await load(await got.arrayBuffer()));
    } catch { /* without it, the server answers */ }
  });
};
