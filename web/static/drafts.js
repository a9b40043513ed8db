// A form keeps a local draft, so that a dropped connection loses nothing.
import { addRow, room } from "./rows.js";
import { turn } from "./pad.js";

export const store = {
  get(key) { try { return JSON.parse(localStorage.getItem("draft:" + key)); } catch { return null; } },
  set(key, value) { try { localStorage.setItem("draft:" + key, JSON.stringify(value)); } catch { /* no room: no draft */ } },
  drop(key) { try { localStorage.removeItem("draft:" + key); } catch { /* nothing kept */ } },
};

// What a person typed, without the hidden fields that are not of the readings.
const typed = (form) => [...new FormData(form)].filter(([name]) => form.querySelector(`input[type=hidden]:not([data-kept])[name="${CSS.escape(name)}"]`) === null);

// A draft keeps the id of its request until the server says that it is saved, so that
// what was sent and got no answer is never saved twice.
export const keep = (form, key, sent) => store.set(key, { request: form.elements.namedItem("request")?.value, sent, typed: typed(form) });

// Buttons that go elsewhere or only show the page again save nothing.
export const saves = (button) => !button?.hasAttribute("formaction") && !("reads" in (button?.dataset ?? {})) &&
  button?.name !== "enter" && (button?.name !== "do" || button.value === "save");

// Puts a draft back; true when the page had a place for every reading.
export const fill = (form, draft) => {
  const names = new Set(draft.map(([name]) => name));
  let whole = true;
  const rows = Math.max(...draft.map(([name]) => Number(name.match(/^stack\.rows\[(\d+)\]/)?.[1] ?? 0)));
  if ("steps" in form.dataset) while (form.querySelectorAll("fieldset.row").length <= rows) addRow(form);
  const unit = draft.find(([name]) => name === "unit")?.[1];
  if ("steps" in form.dataset && unit && unit !== form.elements.namedItem("unit").value) turn(form, unit);
  for (const box of form.querySelectorAll("input[type=checkbox]")) box.checked = names.has(box.name);
  for (const [name, value] of draft) {
    const found = form.elements.namedItem(name);
    if (!found) {
      if (value !== "") whole = false;
    } else if (found.type !== "checkbox") {
      if (found.type === "hidden" && found.value !== value) whole = false; // the page shows another unit
      found.value = value;
      if (found instanceof Element) room(found.closest("[data-grows]"));
    }
  }
  return whole;
};

// Sends the draft so that the server makes the missing rows.
export const rebuild = (form, draft) => {
  for (const [name, value] of draft) {
    if (form.elements.namedItem(name)) continue;
    const extra = document.createElement("input");
    extra.type = "hidden";
    extra.name = name;
    extra.value = value;
    form.append(extra);
  }
  form.requestSubmit(form.querySelector("button[value=preview]"));
};

export const offerAnew = (form, key, sent) => {
  const line = document.createElement("p");
  const button = document.createElement("button");
  line.className = "note";
  line.setAttribute("role", "status");
  const say = document.body.dataset;
  line.textContent = (sent ? say.unanswered : say.putBack) + " ";
  button.type = "button";
  button.textContent = say.startOver;
  button.addEventListener("click", () => { store.drop(key); location.reload(); });
  line.append(button);
  form.before(line);
};
