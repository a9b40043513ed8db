"use strict";
// A name is drawn with a finger. The lines go into a field of the form, points of a box 600
// by 150, and the draft brings them back.
(() => {
  const box = document.getElementById("sign");
  if (!box) return;
  const field = document.getElementById("signature");
  const path = box.querySelector("path");
  const name = document.getElementById("signed_by");
  const clear = document.getElementById("clear");
  let strokes = [];
  let now = null;
  const draw = () => {
    path.setAttribute("d", strokes.map((s) => s.map(([x, y], i) => (i ? "L" : "M") + x + " " + y).join("") + (s.length === 1 ? "h1" : "")).join(""));
    clear.hidden = !strokes.length;
  };
  const changed = () => {
    field.value = strokes.map((s) => s.map((p) => p.join(",")).join(" ")).join(";");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const read = () => {
    strokes = field.value ? field.value.split(";").map((s) => s.split(" ").map((p) => p.split(",").map(Number))) : [];
    draw();
  };
  const at = (event) => {
    const b = box.getBoundingClientRect();
    const within = (v, most) => Math.max(0, Math.min(most, Math.round(v)));
    return [within((event.clientX - b.left) / b.width * 600, 600), within((event.clientY - b.top) / b.height * 150, 150)];
  };
  box.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    box.setPointerCapture(event.pointerId);
    now = [at(event)];
    strokes.push(now);
    draw();
  });
  box.addEventListener("pointermove", (event) => {
    if (!now) return;
    const between = event.getCoalescedEvents?.() ?? [];
    for (const e of between.length ? between : [event]) {
      const [x, y] = at(e);
      const [lastX, lastY] = now.at(-1);
      if (Math.abs(x - lastX) + Math.abs(y - lastY) >= 4 && strokes.flat().length < 2900) now.push([x, y]); // 3000 are taken
    }
    draw();
  });
  const lift = () => {
    if (!now) return;
    now = null;
    if (!name.value) name.value = box.dataset.name;
    changed();
  };
  box.addEventListener("pointerup", lift);
  box.addEventListener("pointercancel", lift);
  clear.addEventListener("click", () => { strokes = []; draw(); changed(); });
  document.getElementById("signing").hidden = false;
  read();
  addEventListener("load", read); // a draft is put back by then

  // What the button does is said on it, with its figure.
  const form = box.closest("form");
  const button = form.querySelector("button.main");
  const said = () => {
    const words = document.getElementById("says");
    const paid = new FormData(form).get("paid_by");
    button.textContent = words?.dataset[paid] ?? words?.dataset.later ?? button.textContent;
  };
  form.addEventListener("answered", said);
  form.addEventListener("change", said);
})();
