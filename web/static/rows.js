// Lists of readings that grow with what is typed.

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
