// A row of the measuring page may be read from a photo in place of its tape, or both ways.
import { hold } from "./pictures.js";

const ends = 4; // of the two sticks
const lens = 4; // how many times the magnifier enlarges
const looked = 250; // ms of a press after which its point was placed by the magnifier
const near = 22; // px within which a drag takes hold of a point

const svg = (name, of, parts = {}) => {
  const e = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(parts)) e.setAttribute(key, value);
  of.append(e);
  return e;
};
const made = (name, of, parts = {}) => {
  const e = Object.assign(document.createElement(name), parts);
  of.append(e);
  return e;
};

// The points of a field: "412, 2210; 420, 1090".
const points = (text) => text.split(/[;\n]/).map((pair) => (pair.match(/-?\d+(\.\d+)?/g) ?? []).map(Number)).filter((p) => p.length === 2);
const text = (list) => list.map(([x, y]) => `${x}, ${y}`).join("; ");

// An editor taps the points of one row in its picture.
const editor = (row, form) => {
  const box = row.querySelector(".tapping");
  const field = (name) => row.querySelector(`[name$=".photo.${name}"]`);
  const stage = box.querySelector(".stage");
  const head = box.querySelector("h2");
  const fault = box.querySelector(".fault");
  const [undo, nudge, gap] = ["undo", "nudge", "gap"].map((tool) => box.querySelector(`[data-tool=${tool}]`));
  const arrows = box.querySelector(".arrows");
  const words = box.dataset;
  const shown = made("canvas", stage);
  const lines = svg("svg", stage, { "aria-hidden": "true", preserveAspectRatio: "none" });
  const dots = made("div", stage, { className: "dots" });
  const glass = made("canvas", stage, { className: "lens", hidden: true, width: 240, height: 240 });
  let picture = null;
  let taps = points(field("taps").value);
  let gaps = field("gaps").value.split("|").map(points).filter((g) => g.length);
  let zooms = taps.map(() => Number(field("zoom").value) || 1);
  let inGap = false; // the last gap is being tapped
  let hand = taps.length - 1; // the point in hand, by its place in all()

  const all = () => [...taps, ...gaps.flat()];
  const named = (i) => {
    if (i < ends) return words.ends.split("|")[i];
    if (i < taps.length) return words.point.replace("%d", i - ends + 1);
    let at = i - taps.length;
    const g = gaps.findIndex((list) => { if (at < list.length) return true; at -= list.length; return false; });
    return words.of.replace("%d", g + 1).replace("%d", at + 1);
  };
  const todo = () => {
    if (!arrows.hidden && hand >= 0) return words.move.replace("%s", named(hand));
    if (inGap) return words.hole;
    if (taps.length < ends) return words.tap.replace("%s", words.ends.split("|")[taps.length]);
    return taps.length < ends + 3 ? words.round : words.more;
  };

  const paint = () => {
    head.textContent = picture ? todo() : "";
    undo.disabled = taps.length === 0;
    nudge.disabled = hand < 0;
    gap.disabled = taps.length < ends + 3;
    nudge.setAttribute("aria-pressed", String(!arrows.hidden));
    gap.setAttribute("aria-pressed", String(inGap));
    if (!picture) return;
    lines.replaceChildren();
    for (const [list, closed] of [[taps.slice(0, 2)], [taps.slice(2, ends)], [taps.slice(ends), taps.length > ends + 2], ...gaps.map((g) => [g, g.length > 2])]) {
      for (const name of ["under", "over"]) if (list.length > 1) svg(closed ? "polygon" : "polyline", lines, { points: list.map((p) => p.join()).join(" "), class: name });
    }
    const focused = dots.contains(document.activeElement) ? [...dots.children].indexOf(document.activeElement) : -1;
    dots.replaceChildren(...all().map(([x, y], i) => {
      const dot = Object.assign(document.createElement("i"), { tabIndex: 0, className: i < ends ? "end" : "" });
      dot.setAttribute("role", "button");
      dot.setAttribute("aria-label", named(i));
      dot.classList.toggle("in", i === hand);
      dot.style.left = `${(100 * x) / picture.width}%`;
      dot.style.top = `${(100 * y) / picture.height}%`;
      return dot;
    }));
    dots.children[focused]?.focus();
  };
  const changed = () => {
    field("taps").value = text(taps);
    field("gaps").value = gaps.filter((g) => g.length).map(text).join(" | ");
    field("zoom").value = zooms.length ? Math.min(...zooms) : "";
    form.dataset.face = row.id.slice("row-".length);
    paint();
    field("taps").dispatchEvent(new Event("input", { bubbles: true }));
    form.dispatchEvent(new Event("stepped"));
  };

  // The place of point i in its list.
  const where = (i) => {
    if (i < taps.length) return [taps, i];
    let at = i - taps.length;
    for (const g of gaps) {
      if (at < g.length) return [g, at];
      at -= g.length;
    }
    return [null, 0];
  };
  const inside = ([x, y]) => [Math.min(Math.max(x, 0), picture.width), Math.min(Math.max(y, 0), picture.height)].map((v) => Math.round(v * 2) / 2);
  const put = (i, at, zoom) => {
    const [list, n] = where(i);
    if (!list) return;
    list[n] = inside(at);
    if (list === taps) zooms[n] = zoom ?? zooms[n];
  };
  const add = (at, zoom) => {
    if (inGap) gaps[gaps.length - 1].push(inside(at));
    else {
      taps.push(inside(at));
      zooms.push(zoom);
    }
    hand = inGap ? all().length - 1 : taps.length - 1;
  };
  const drop = (i) => {
    const [list, n] = where(i);
    if (!list) return;
    if (list === taps) {
      taps.length = i < ends ? n : taps.length; // a stick's end takes what comes after it along
      if (i >= ends) taps.splice(n, 1);
      zooms = zooms.slice(0, taps.length);
    } else list.splice(n, 1);
    gaps = gaps.filter((g) => g.length || g === gaps.at(-1) && inGap);
    hand = Math.min(i, all().length) - 1;
  };
  const move = (i, dx, dy) => {
    const [list, n] = where(i);
    if (!list) return;
    const step = Math.max(1, picture.width / stage.clientWidth / lens); // a pixel of the magnifier
    put(i, [list[n][0] + dx * step, list[n][1] + dy * step], Math.max(lens, 1));
    look(list[n]);
    changed();
  };

  // The magnifier stands in the corner away from the finger.
  const look = ([x, y]) => {
    const pen = glass.getContext("2d");
    const size = (glass.width / devicePixelRatio / lens) * (picture.width / stage.clientWidth);
    glass.hidden = false;
    glass.classList.toggle("right", x < picture.width / 2);
    pen.fillStyle = "#888";
    pen.fillRect(0, 0, glass.width, glass.height);
    pen.drawImage(picture, x - size / 2, y - size / 2, size, size, 0, 0, glass.width, glass.height);
    const mid = glass.width / 2;
    for (const [style, width] of [["#fff", 5], ["#000", 2]]) {
      pen.strokeStyle = style;
      pen.lineWidth = width;
      pen.beginPath();
      for (const [a, b, c, d] of [[mid, 0, mid, mid - 14], [mid, mid + 14, mid, 2 * mid], [0, mid, mid - 14, mid], [mid + 14, mid, 2 * mid, mid]]) {
        pen.moveTo(a, b);
        pen.lineTo(c, d);
      }
      pen.stroke();
    }
  };

  let press = null;
  const spot = (event) => {
    const b = stage.getBoundingClientRect();
    return [((event.clientX - b.left) / b.width) * picture.width, ((event.clientY - b.top) / b.height) * picture.height];
  };
  stage.addEventListener("pointerdown", (event) => {
    if (!picture || event.button) return;
    event.preventDefault();
    stage.setPointerCapture(event.pointerId);
    const at = spot(event);
    const scale = stage.clientWidth / picture.width;
    const distances = all().map(([x, y]) => Math.hypot(x - at[0], y - at[1]) * scale);
    const nearest = distances.indexOf(Math.min(...distances));
    const takes = !arrows.hidden || !inGap && taps.length >= ends + 3; // until then each press is a new point, however near another
    press = { point: takes && distances[nearest] <= near ? nearest : -1, since: event.timeStamp, from: at };
    if (press.point >= 0) {
      const [list, n] = where(press.point);
      press.off = [list[n][0] - at[0], list[n][1] - at[1]]; // the point stays where it is under the finger
    }
    look(at);
  });
  stage.addEventListener("pointermove", (event) => {
    if (!press) return;
    const at = spot(event);
    press.moved ||= Math.hypot(at[0] - press.from[0], at[1] - press.from[1]) * stage.clientWidth / picture.width > 3;
    if (press.point >= 0 && press.moved) {
      hand = press.point;
      const to = [at[0] + press.off[0], at[1] + press.off[1]];
      put(press.point, to, lens);
      paint();
      look(to);
    } else look(at);
  });
  const release = (event) => {
    if (!press || event.type === "pointercancel") {
      press = null;
      glass.hidden = true;
      return;
    }
    const held = event.timeStamp - press.since > looked;
    const chosen = press.point >= 0 && !press.moved && !arrows.hidden;
    if (chosen) dots.children[press.point]?.focus();
    else if (press.point < 0 || !press.moved) add(spot(event), held ? lens : 1);
    press = null;
    glass.hidden = true;
    if (!chosen) changed();
  };
  stage.addEventListener("pointerup", release);
  stage.addEventListener("pointercancel", release);
  stage.addEventListener("focusin", (event) => {
    const i = [...dots.children].indexOf(event.target);
    if (i < 0 || i === hand) return;
    hand = i;
    for (const [n, dot] of [...dots.children].entries()) dot.classList.toggle("in", n === hand);
  });
  stage.addEventListener("focusout", () => { glass.hidden = true; });
  stage.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const i = [...dots.children].indexOf(event.target);
    if (i < 0) return;
    if (by) move(i, ...by.map((d) => d * (event.shiftKey ? 10 : 1)));
    else if (event.key === "Delete" || event.key === "Backspace") {
      drop(i);
      changed();
      dots.children[Math.max(hand, 0)]?.focus();
    } else return;
    event.preventDefault();
  });
  undo.addEventListener("click", () => {
    if (inGap && gaps.at(-1)?.length) gaps.at(-1).pop();
    else if (inGap) {
      gaps.pop();
      inGap = false;
    } else if (gaps.length) gaps.pop();
    else {
      taps.pop();
      zooms.pop();
    }
    hand = all().length - 1;
    changed();
  });
  nudge.addEventListener("click", () => {
    if (hand < 0) hand = all().length - 1;
    arrows.hidden = !arrows.hidden;
    paint();
  });
  gap.addEventListener("click", () => {
    inGap = !inGap;
    if (inGap) gaps.push([]);
    gaps = gaps.filter((g) => g.length > 2 || inGap && g === gaps.at(-1));
    changed();
  });
  arrows.addEventListener("click", (event) => {
    const button = event.target.closest("[data-by]");
    if (button) move(hand, ...button.dataset.by.split(" ").map(Number));
  });

  const open = async (blob) => {
    fault.hidden = true;
    try {
      picture = await createImageBitmap(blob, { imageOrientation: "from-image" });
    } catch {
      fault.textContent = words.heic;
      fault.hidden = false;
      return false;
    }
    const scale = Math.min(1, 2048 / Math.max(picture.width, picture.height));
    shown.width = Math.round(picture.width * scale);
    shown.height = Math.round(picture.height * scale);
    shown.getContext("2d").drawImage(picture, 0, 0, shown.width, shown.height);
    lines.setAttribute("viewBox", `0 0 ${picture.width} ${picture.height}`);
    if (Number(field("width").value) !== picture.width || Number(field("height").value) !== picture.height) { // another picture
      [taps, gaps, zooms, hand, inGap] = [[], [], [], -1, false];
    }
    field("width").value = picture.width;
    field("height").value = picture.height;
    for (const part of [stage, undo.parentElement]) part.hidden = false;
    row.querySelector(".how-photo").hidden = true;
    box.classList.add("open");
    return true;
  };
  const file = box.querySelector("input[type=file]");
  file.addEventListener("change", async () => {
    const blob = file.files[0];
    if (!blob || !await open(blob)) return;
    const name = await hold(blob, form.dataset.photos);
    if (field("sha").options) field("sha").add(new Option(file.files[0].name, name)); // it isn't among those kept yet
    field("sha").value = name;
    changed();
    if (form.dataset.photos) hold.send(form.elements.namedItem("csrf").value);
    stage.scrollIntoView({ block: "nearest" });
  });
  field("taps").addEventListener("change", () => { taps = points(field("taps").value); paint(); });
  row.addEventListener("click", (event) => {
    const button = event.target.closest("[data-puts]");
    if (!button) return;
    const into = field("distance");
    into.value = button.dataset.puts;
    into.dispatchEvent(new Event("input", { bubbles: true }));
  });
  form.addEventListener("face", (event) => {
    if (event.detail.dataset.face !== row.id.slice("row-".length)) return;
    const straight = box.querySelector(".straight");
    straight.hidden = false;
    if (event.detail.matches("figure")) straight.querySelector("figure").replaceChildren(...event.detail.children);
    else straight.querySelector(".lead").textContent = event.detail.textContent;
  });
  row.addEventListener("focusin", () => { if (row.matches(".from-photo")) form.dataset.face = row.id.slice("row-".length); });
  box.hidden = false;
  for (const other of row.querySelectorAll(".by-button")) other.hidden = true;
  for (const far of row.querySelectorAll(".far")) far.hidden = false;
  box.editor = true;
  if (field("sha").value) hold.get(field("sha").value).then(async (blob) => { if (blob && await open(blob)) paint(); });
  paint();
};

// A row that was copied from another one has no picture yet, and nothing said of one.
export const cleared = (row) => {
  row.querySelector(".stage")?.replaceChildren();
  for (const part of row.querySelectorAll(".stage, .tools, .straight, .tapping .fault")) part.hidden = true;
  for (const said of row.querySelectorAll(".tapping .fault, .straight .lead, .tapping h2")) said.textContent = "";
  for (const how of row.querySelectorAll(".how-photo")) how.hidden = false;
  row.querySelector(".tapping")?.classList.remove("open");
};

// The way a row is read changes on the page, so that it does without a signal.
const take = (row, way) => {
  const on = row.querySelector("[name$='.photo.on']");
  if (way !== "both") on.value = way === "photo" ? "yes" : "";
  row.classList.toggle("from-photo", on.value === "yes");
  row.classList.toggle("both", way === "both" || way === "photo" && [...row.querySelectorAll(":scope > .field input, :scope > .group input")].some((f) => f.value));
  on.dispatchEvent(new Event("input", { bubbles: true }));
};

export const faces = (form) => {
  const begin = () => {
    for (const row of form.querySelectorAll(".row.from-photo")) {
      const box = row.querySelector(".tapping");
      if (box && !box.editor) editor(row, form);
    }
  };
  form.addEventListener("click", (event) => {
    const button = event.target.closest("[data-way]");
    if (!button) return;
    event.preventDefault();
    const row = button.closest(".row");
    take(row, button.dataset.way);
    begin();
    if (form.classList.contains("stepping")) form.dispatchEvent(new CustomEvent("reshaped", { detail: row }));
  });
  begin();
  if (!form.dataset.photos) return;
  const token = form.elements.namedItem("csrf").value;
  hold.send(token);
  // What is saved names the pictures that are kept: it waits for those on their way.
  let sent = false;
  form.addEventListener("submit", (event) => {
    if (sent || event.submitter?.value !== "save" || !form.querySelector(".row.from-photo") || !navigator.onLine) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    sent = true;
    Promise.race([hold.send(token), new Promise((done) => setTimeout(done, 20000))]).then(() => form.requestSubmit(event.submitter));
  }, { capture: true });
};
