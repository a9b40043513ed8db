// Lists of readings that grow with what is typed.
import { cleared } from "./face.js";

// The place after one in a list of readings: the same, empty, its number one higher. The
// list of a row's lengths begins behind its length, so places are not always named by
// the number that they show.
const next = (cell) => {
  const place = cell.cloneNode(true);
  const field = place.querySelector("input");
  const higher = (digits) => Number(digits) + 1;
  field.id = field.name = field.name.endsWith("]") ? field.name.replace(/\d+(?=\]$)/, higher) : field.name + "s[0]";
  field.value = "";
  field.removeAttribute("aria-invalid");
  field.removeAttribute("aria-describedby");
  place.classList.remove("wrong");
  for (const said of place.querySelectorAll(".question, .fault")) said.remove();
  const unit = place.querySelector(".unit");
  if (unit) {
    unit.id = field.id + "-unit";
    field.setAttribute("aria-describedby", unit.id);
  }
  place.querySelector("label").htmlFor = field.id;
  for (const word of place.querySelectorAll("label > span")) word.textContent = word.textContent.replace(/\d+(?=\D*$)/, higher);
  cell.after(place);
};

// A list of readings keeps an empty place at its end, so that as many as were read go
// in without asking the server for room.
export const room = (cells) => {
  const last = cells?.querySelector(".cell:last-child");
  if (last?.querySelector("input").value) next(last);
};

export const grow = (form) => {
  form.addEventListener("input", (event) => room(event.target.closest("[data-grows]")));
  for (const cells of form.querySelectorAll("[data-grows]")) room(cells);
  for (const more of form.querySelectorAll("[data-grown]")) more.hidden = true;
};

const names = ["id", "name", "for", "aria-describedby", "data-adds", "data-when", "data-set", "value", "formaction"];

// A row after the last one: the same, empty, with as many places for heights as were read.
export const addRow = (form) => {
  const rows = form.querySelectorAll("fieldset.row");
  const last = rows[rows.length - 1];
  const row = last.cloneNode(true);
  const at = rows.length - 1;
  for (const e of [row, ...row.querySelectorAll("*")]) {
    for (const name of names) {
      const value = e.getAttribute(name);
      if (value && (name !== "value" || e.matches("button"))) {
        e.setAttribute(name, value.replaceAll(`rows[${at}]`, `rows[${at + 1}]`).replace(`row-${at + 1}`, `row-${at + 2}`).replace(`picture-${at + 1}`, `picture-${at + 2}`).replace(new RegExp(`^(heights|voids)\\+${at}$`), `$1+${at + 1}`));
      }
    }
  }
  for (const said of row.querySelectorAll("legend, label, label > span")) {
    if (said.children.length === 0) said.textContent = said.textContent.replace(new RegExp(`^(\\D*)${at + 1}(?=\\D)|^(\\D+)${at + 1}$`), (all, a, b) => (a ?? b) + (at + 2));
  }
  for (const old of row.querySelectorAll(".question, .fault")) if (!old.closest(".tapping")) old.remove();
  cleared(row);
  for (const figure of row.querySelectorAll("figure")) figure.replaceChildren();
  for (const echo of row.querySelectorAll(".echo")) echo.textContent = "";
  row.classList.remove("from-photo", "both");
  for (const field of row.querySelectorAll("input, select, textarea")) {
    field.removeAttribute("aria-invalid");
    if (field.matches("[type=radio], [type=checkbox]")) field.checked = field.defaultChecked = false;
    else if (field.matches("select")) field.selectedIndex = 0;
    else if (field.type !== "hidden" || "kept" in field.dataset) field.value = "";
    field.closest(".wrong")?.classList.remove("wrong");
  }
  for (const details of row.querySelectorAll("details")) details.open = false;
  for (const cells of row.querySelectorAll("[data-grows]")) {
    const read = [...last.querySelector(`[id="${CSS.escape(cells.querySelector("input").id.replace(`rows[${at + 1}]`, `rows[${at}]`))}"]`).closest(".cells").querySelectorAll("input")].filter((f) => f.value).length;
    [...cells.children].slice(Math.max(read, 1)).forEach((cell) => cell.remove());
    if (read) cells.dataset.plan = read;
  }
  last.after(row);
  return row;
};
