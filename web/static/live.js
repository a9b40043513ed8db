// The measuring page answers while one types.
// An answer that no longer fits the fields is crossed out, and says why.
const outdate = (why) => {
  const panel = document.getElementById("panel");
  document.getElementById("running").classList.add("stale");
  if (!panel.querySelector(".answer:not(.quiet)")) return;
  panel.classList.add("stale");
  let line = document.getElementById("stale");
  if (!line) {
    line = document.createElement("p");
    line.id = "stale";
    line.className = "note";
    panel.prepend(line);
  }
  if (line.textContent !== why) line.textContent = why;
};

// The line in view: the answer in short, or what stands in its way.
const run = (said) => {
  const line = document.getElementById("running");
  line.classList.remove("stale");
  if (line.textContent !== (said.textContent ?? said)) line.replaceChildren(...(said.childNodes ?? [said]));
};

// What is asked about a reading stands at its field, whoever was typing where.
const place = (asked) => {
  for (const old of document.querySelectorAll(".typing .question")) old.remove();
  for (const question of asked.querySelectorAll(".question")) {
    const home = document.getElementById(question.dataset.ask)?.closest(".field, .cell");
    for (let fold = home?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    home?.append(question);
  }
};

// How wide the answer's drawings are shown, in px.
export const shownWidth = (form) => {
  const panel = document.getElementById("panel");
  return Math.round(panel.clientWidth - parseFloat(getComputedStyle(panel).paddingLeft) || form.clientWidth);
};

// What a page is answered by. The server is sent the page's own form and says what it would
// show; another script may put a function here that takes the form and a signal that stops
// it, and gives the same: whether it could be measured, and the page's part that answers.
export const answers = {
  async answer(form, signal) {
    const body = new URLSearchParams(new FormData(form));
    body.set("do", "preview");
    const headers = { "Wellstowed-Part": "answer" };
    const row = document.getElementById(form.dataset.open);
    const wide = (px) => { headers["Wellstowed-Width"] = Math.round(px); };
    wide(shownWidth(form));
    if (form.dataset.face) headers["Wellstowed-Face"] = form.dataset.face;
    if (row) {
      headers["Wellstowed-Open"] = row.id.slice("row-".length);
      headers["Wellstowed-Places"] = form.dataset.places;
      wide(row.querySelector(".in-hand").clientWidth || form.clientWidth);
    }
    const got = await fetch(form.getAttribute("action"), { method: "POST", body, signal, headers });
    return { ok: got.ok, part: new DOMParser().parseFromString(await got.text(), "text/html") };
  },
};

// What stands in the way: before the rows are read, only what was typed and is wrong; that
// the rest is still to be read goes without saying.
const inTheWay = (form, part, offline) => {
  const all = [...part.querySelectorAll(".faults li")];
  const tapping = document.getElementById(form.dataset.at)?.matches(".from-photo:not(.both)");
  if (all.length && (tapping || ["start", "pieces"].includes(form.dataset.at))) {
    const typed = (li) => document.getElementById(decodeURIComponent(li.querySelector("a")?.hash.slice(1) ?? ""))?.value;
    return all.find(typed)?.textContent ?? "";
  }
  return (all[0] ?? part.querySelector(".faults h2"))?.textContent ?? offline;
};

// Puts an answer in its places on the page.
const put = (form, { ok, part }, offline) => {
  const panel = part.getElementById("panel");
  for (const echo of part.querySelectorAll("[data-echo]")) {
    const at = document.getElementById(echo.dataset.echo + "-echo");
    if (at) at.textContent = echo.textContent;
  }
  const fault = ok ? "" : inTheWay(form, part, offline);
  const ticked = document.activeElement?.closest(".question") && document.activeElement.name;
  const asked = part.getElementById("asked");
  if (asked) place(asked);
  const drawn = part.querySelector("figure[data-row]");
  if (drawn) document.querySelector(`#row-${drawn.dataset.row} .in-hand`)?.replaceChildren(...drawn.children);
  for (const at of part.querySelectorAll("[data-face]")) form.dispatchEvent(new CustomEvent("face", { detail: at }));
  if (panel && (ok || panel.querySelector(".answer:not(.quiet)"))) document.getElementById("panel").replaceWith(panel);
  else if (!ok) outdate(fault);
  if (ticked) document.getElementsByName(ticked)[0]?.focus();
  run(fault || (part.getElementById("running") ?? offline));
};

// An answer that is pressed goes into its field in place of what was typed; nothing is sent for
// it. The button is gone once the form is read again: the keyboard goes on from the panel.
const choose = (form, event) => {
  const pressed = event.target.closest('#panel button[name="choose"]');
  const [name, ...words] = pressed?.value.split("=") ?? [];
  const field = form.elements.namedItem(name ?? "");
  if (!field?.matches?.("input, textarea")) return;
  event.preventDefault();
  field.value = words.join("=");
  form.addEventListener("answered", () => {
    if (document.activeElement !== document.body) return;
    const panel = document.getElementById("panel");
    panel.tabIndex = -1;
    panel.focus();
  }, { once: true });
  field.dispatchEvent(new Event("input", { bubbles: true }));
};

// Answers while one types: soon after each reading, at once where a step was made.
export const live = (form) => {
  let timer = 0;
  let running = null;
  const { changed, offline } = form.dataset;
  const ask = async () => {
    running?.abort();
    const mine = running = new AbortController();
    try {
      const got = await answers.answer(form, mine.signal);
      if (mine.signal.aborted) return;
      put(form, got, offline);
      form.dispatchEvent(new Event("answered"));
    } catch { // no connection: the draft is kept, the next reading asks again
      if (mine.signal.aborted) return;
      outdate(offline);
      run(offline);
    }
  };
  const soon = () => { outdate(changed); clearTimeout(timer); timer = setTimeout(ask, 350); };
  form.addEventListener("click", (event) => choose(form, event));
  form.addEventListener("input", soon);
  form.addEventListener("stepped", () => { clearTimeout(timer); timer = setTimeout(ask, 0); });
  return soon;
};
