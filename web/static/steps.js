// On a narrow page the measuring form goes step by step: what decides, the pieces, one row
// after another, how it was read, the answer. Lengths are typed with the pad's own keys.
import { pressed, show, turn } from "./pad.js";
import { addRow } from "./rows.js";

const narrow = matchMedia("(max-width: 59.99rem)");

export const steps = (form) => {
  const pad = form.querySelector(".pad");
  const line = form.querySelector(".stepline");
  const on = form.querySelector("[data-step=on]");
  let hand = null; // the field in hand
  let left = null; // the field that was in hand when a question about another took its place
  let kept = new WeakSet(); // questions that were put aside to read again

  const all = () => [...form.querySelectorAll(".step")];
  const current = () => document.getElementById(form.dataset.at);
  const cells = (list) => [...list.querySelectorAll("input")];

  // The fields that the keypad leads through, in their order.
  const listOf = (field) => field.closest(".cells[data-grows]");
  const ofRow = (row) => [row.querySelector(":scope > .field input"), ...places(row.querySelector(":scope > .group .cells"))];
  const places = (list) => {
    const fields = cells(list);
    const filled = fields.filter((f) => f.value).length;
    const plan = Number(list.dataset.plan ?? NaN);
    return Number.isNaN(plan) ? fields.slice(0, filled + 1) : fields.filter((f, i) => i < plan || f.value);
  };
  const ofStep = (step) => step.matches(".from-photo:not(.both)") ? [] : step.matches(".row") ? ofRow(step) : step.id === "pieces" ? places(step.querySelector(".cells")) : [];

  // What a field in hand is: "length", "height" or "piece"; another length has no steps.
  const kind = (field) => field.closest("#pieces .cells") ? "piece" : field.closest(".row > .group") ? "height" : field.matches(".row > .field input") ? "length" : "";

  const paint = () => {
    if (!hand) return;
    const unit = form.elements.namedItem("unit").value;
    show(pad.querySelector(".val"), hand.value, unit);
    const label = hand.labels[0];
    pad.querySelector(".name").textContent = (label.querySelector(".unseen") ?? label).textContent;
    pad.querySelector(".how").textContent = hand.closest("[data-how]")?.dataset.how ?? "";
    pad.dataset.unit = unit;
    const ends = hand.value === "" && ended(hand);
    pad.querySelector(".next").textContent = ends ? pad.dataset[kind(hand)] : pad.dataset.next;
    for (const field of form.querySelectorAll(".in")) field.classList.remove("in");
    hand.classList.add("in");
    mark();
  };

  // An empty place ends its list where that can be: a row has a height, and a stack a row.
  const ended = (field) => {
    const what = kind(field);
    if (what === "length") return [...form.querySelectorAll("fieldset.row")].indexOf(field.closest(".row")) > 0;
    return what === "piece" || what === "height" && cells(listOf(field))[0] !== field;
  };

  // The line of the reading in hand on the drawing of its row.
  const mark = () => {
    const figure = hand.closest(".row")?.querySelector(".in-hand");
    for (const at of figure?.querySelectorAll("[data-role=place]") ?? []) at.classList.toggle("now", kind(hand) === "height" && Number(at.dataset.index) === cells(listOf(hand)).indexOf(hand) + 1);
  };

  // A row is open until as many heights are read as it is to have.
  const tell = () => {
    const step = current();
    delete form.dataset.open;
    if (!step?.matches(".row") || step.matches(".from-photo:not(.both)")) return;
    step.classList.toggle("begun", Boolean(ofRow(step)[0].value)); // there is room for other ways only before that
    const list = step.querySelector(":scope > .group .cells");
    const fields = places(list);
    if ("plan" in list.dataset && fields.every((f) => f.value)) return;
    form.dataset.open = step.id;
    form.dataset.places = Math.max(fields.length, "plan" in list.dataset ? 1 : Math.min(cells(list).length, 4));
  };

  const take = (field) => {
    hand = field;
    field.focus({ preventScroll: true });
    const box = field.getBoundingClientRect();
    if (box.top < 0 || box.bottom > form.querySelector(".bar").getBoundingClientRect().top) field.scrollIntoView({ block: "center" });
    paint();
    question();
  };

  const stepOf = (e) => e?.closest(".step") ?? (e && form.contains(e) && e.closest("#panel, .bar, .typing") ? document.getElementById("rest") : null);

  const go = (step, field) => {
    const list = all();
    form.dataset.at = step.id;
    form.dataset.kind = step.matches(".row") ? "row" : step.id;
    for (const s of list) s.classList.toggle("now", s === step);
    const at = list.indexOf(step);
    line.querySelector("button").disabled = at === 0;
    document.documentElement.style.setProperty("--out", Math.round((100 * (at + 1)) / list.length) + "%");
    const fields = ofStep(step);
    pad.hidden = fields.length === 0;
    if (step.dataset.then) on.textContent = step.dataset.then;
    on.hidden = fields.length > 0 || step.id === "rest";
    hand = null;
    if (fields.length) {
      const given = field && (fields.includes(field) || field.closest(".length"));
      take(given ? field : fields.find((f) => !f.value) ?? fields[0]);
    } else field?.focus();
    if (!field) scrollTo(0, 0);
    tell();
    form.dispatchEvent(new Event("stepped"));
  };

  const lead = (step, field) => {
    if (form.dataset.at !== step.id) history.pushState(null, "", "#" + step.id);
    go(step, field);
  };

  // The next thing to read: the first that is empty after the one in hand. An empty one in
  // hand ends its list.
  const next = () => {
    const list = all();
    const step = current();
    const i = list.indexOf(step);
    const fields = ofStep(step);
    const what = kind(hand);
    if (hand.closest(".photo-part")) return beside();
    if (what === "") return take(fields.find((f) => !f.value) ?? fields[0]);
    if (left && hand.value.trim()) return back();
    if (hand.value.trim() === "") {
      if (!ended(hand)) return take(hand);
      if (what === "length") return lead(document.getElementById("how-step"));
      listOf(hand).dataset.plan = cells(listOf(hand)).filter((f) => f.value).length;
    } else {
      const after = fields.slice(fields.indexOf(hand) + 1).find((f) => !f.value);
      if (after) {
        take(after);
        form.dispatchEvent(new Event("stepped"));
        return undefined;
      }
    }
    if (what === "piece") return lead(list[i + 1]);
    lead(list[i + 1].matches(".row") ? list[i + 1] : addRow(form));
  };

  // The lengths of a photo's sticks: the keys go once all that have to be there are.
  const beside = () => {
    const lengths = [...hand.closest(".sticks").querySelectorAll(".length input")];
    const more = lengths.slice(lengths.indexOf(hand) + 1).find((f) => !f.value && !f.name.endsWith(".proud"));
    if (more) return take(more);
    hand.blur();
    hand = null;
    pad.hidden = !(on.hidden = false);
    return undefined;
  };

  // Where a question was about another reading, one goes on where one was.
  const back = () => {
    const field = left;
    left = null;
    reach(field);
  };

  const type = (key) => {
    if (key === "next") return next();
    if (key.startsWith("to ")) {
      turn(form, key.slice(3));
      return paint();
    }
    hand.value = pressed(hand.value, key);
    hand.dispatchEvent(new Event("input", { bubbles: true }));
  };

  // What is asked about a reading takes the keys' place until it is answered, on this step or
  // one before.
  const question = () => {
    const asked = pad.hidden ? undefined : [...form.querySelectorAll(".typing .step .question")].find((q) => !q.querySelector("input").checked && !kept.has(q));
    const ask = pad.querySelector(".ask");
    ask.hidden = !asked;
    pad.classList.toggle("asking", Boolean(asked));
    if (!asked || ask.question === asked) return;
    ask.question = asked;
    ask.querySelector(".lead").textContent = asked.querySelector(".fault").textContent;
    const field = document.getElementById(asked.dataset.ask);
    if (!field?.matches("input") || field === hand) return;
    left ??= hand;
    hand = field;
    if (stepOf(field) === current()) field.focus({ preventScroll: true });
    paint();
  };

  pad.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps the focus
  pad.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    const asked = pad.querySelector(".ask").question;
    if (button.dataset.ask === "keep") {
      const box = asked.querySelector("input");
      box.checked = true;
      box.dispatchEvent(new Event("input", { bubbles: true }));
      question();
      if (left) back();
      else next();
    } else if (button.dataset.ask === "again") {
      kept.add(asked);
      hand.value = "";
      hand.dispatchEvent(new Event("input", { bubbles: true }));
      reach(hand);
    } else type(button.dataset.key);
  });
  on.addEventListener("click", () => { const list = all(); lead(list[list.indexOf(current()) + 1]); });
  line.querySelector("button").addEventListener("click", () => { const list = all(); lead(list[Math.max(list.indexOf(current()) - 1, 0)]); });
  form.addEventListener("focusin", (event) => {
    if (!form.classList.contains("stepping") || !event.target.matches(".length input") || event.target === hand) return;
    [hand, left] = [event.target, null];
    if (hand.closest(".photo-part")) pad.hidden = !(on.hidden = true);
    paint();
  });
  form.addEventListener("input", (event) => {
    if (event.target !== hand) return;
    tell();
    paint();
  });
  form.addEventListener("answered", () => { if (hand && form.classList.contains("stepping")) { mark(); question(); } });
  form.addEventListener("keyup", (event) => {
    if (event.key !== "Enter" || event.isComposing || event.target !== hand || !form.classList.contains("stepping")) return;
    event.stopPropagation();
    if (hand) next();
  });
  form.addEventListener("click", (event) => {
    if (event.target.closest("button[value='row+']") && !form.querySelector("[name$='.photo.whole']")) {
      event.preventDefault();
      const row = addRow(form);
      if (form.classList.contains("stepping")) lead(row);
      else row.querySelector(":scope > .field input").focus();
    } else if (event.target.closest(".unit-line button")) {
      event.preventDefault();
      turn(form, event.target.closest("button").value.slice("unit ".length));
    } else if (event.target.closest("#panel .stack svg")) tapped(event);
  });

  // A tap on the drawing of the stack leads to the reading nearest to it.
  const tapped = (event) => {
    let best = null;
    for (const station of document.querySelectorAll("#panel .stack [data-role=station]")) {
      const box = station.getBoundingClientRect();
      const away = Math.hypot(event.clientX - box.x - box.width / 2, Math.max(box.top - 40 - event.clientY, event.clientY - box.bottom, 0) * 3);
      if (!best || away < best.away) best = { away, station };
    }
    const field = best && document.getElementById(`stack.rows[${best.station.dataset.row - 1}].heights[${best.station.dataset.index - 1}]`);
    if (field) reach(field);
  };
  const reach = (field) => { if (form.classList.contains("stepping")) lead(stepOf(field), field); else field.focus(); };

  const home = () => {
    const e = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    return [stepOf(e), e?.matches("input, select") ? e : undefined];
  };
  const follow = () => {
    if (!form.classList.contains("stepping")) return;
    const [step, field] = home();
    if (step) go(step, field);
  };
  form.addEventListener("reshaped", (event) => go(event.detail));
  addEventListener("popstate", follow);
  addEventListener("hashchange", follow);

  // A list that others were read after is as long as it was read.
  const settle = () => {
    const lists = [document.querySelector("#pieces .cells"), ...[...form.querySelectorAll(".row > .group .cells")]];
    for (const [i, list] of lists.entries()) {
      const filled = cells(list).filter((f) => f.value).length;
      if (filled && lists.slice(i + 1).some((l) => cells(l).some((f) => f.value))) list.dataset.plan ??= filled;
    }
  };

  const fit = () => {
    form.classList.toggle("stepping", narrow.matches);
    document.body.classList.toggle("in-steps", narrow.matches);
    line.hidden = !narrow.matches;
    for (const field of form.querySelectorAll(".length input")) field.inputMode = narrow.matches ? "none" : "";
    if (!narrow.matches) {
      pad.hidden = on.hidden = true;
      document.documentElement.style.removeProperty("--out");
      return;
    }
    settle();
    const [step, field] = home();
    const wrong = form.querySelector("[aria-invalid], .step .fault:not([hidden])");
    const answered = document.querySelector("#panel .answer:not(.quiet)");
    go(step ?? stepOf(wrong) ?? (answered ? document.getElementById("rest") : all()[0]), field);
  };
  narrow.addEventListener("change", fit);
  document.querySelector("header").append(line);
  return fit;
};
