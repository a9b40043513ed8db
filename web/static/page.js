// Every page works without scripts; what they add begins here.
import { hang, mend } from "./choices.js";
import { fill, keep, offerAnew, rebuild, saves, store } from "./drafts.js";
import "./enter.js";
import { faces } from "./face.js";
import { live } from "./live.js";
import "./offers.js";
import { grow } from "./rows.js";
import { steps } from "./steps.js";
import { phone } from "./wasm.js";

const saved = document.body.dataset.saved;
if (saved) {
  store.drop(saved);
  const here = new URL(location);
  here.searchParams.delete("saved");
  history.replaceState(null, "", here);
}

// Counts one more into a field at each tap.
for (const button of document.querySelectorAll("button[data-adds]")) {
  const field = document.getElementById(button.dataset.adds);
  button.hidden = false;
  button.addEventListener("click", () => {
    field.value = (parseInt(field.value, 10) || 0) + 1;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}

// Find goes to its field, ready to be typed in.
document.querySelector("[data-finds]")?.addEventListener("click", () => setTimeout(() => document.getElementById("find").focus()));

// A page that reads a form back sends it on: from then on its draft is sent.
for (const form of document.querySelectorAll("form:not([data-draft])")) {
  const key = form.elements.namedItem("draft")?.value;
  const draft = key && store.get(key);
  if (draft) form.addEventListener("submit", (event) => store.set(key, { ...draft, sent: saves(event.submitter) }));
}

for (const form of document.querySelectorAll("form[data-draft]")) {
  const show = hang(form);
  grow(form);
  form.addEventListener("input", (event) => mend(event.target));
  const key = form.dataset.draft;
  const soon = "live" in form.dataset ? live(form) : () => {};
  if ("phone" in form.dataset) phone(form);
  faces(form);
  form.addEventListener("input", () => keep(form, key, false));
  form.addEventListener("submit", (event) => keep(form, key, saves(event.submitter)));
  const fit = "steps" in form.dataset ? steps(form) : () => {};
  if (!("fresh" in form.dataset)) {
    keep(form, key, false);
    fit();
    continue;
  }
  const draft = store.get(key);
  if (!Array.isArray(draft?.typed)) {
    fit();
    continue;
  }
  const whole = fill(form, draft.typed);
  if (draft.request) form.elements.namedItem("request").value = draft.request;
  show();
  fit();
  if (whole) {
    offerAnew(form, key, draft.sent);
    soon();
  } else {
    rebuild(form, draft.typed);
  }
}
