// A row of the measuring page may be read from a photo in place of its tape, or both ways.

// The way a row is read changes on the page, so that it does without a signal.
const take = (row, way) => {
  const on = row.querySelector("[name$='.photo.on']");
  if (way !== "both") on.value = way === "photo" ? "yes" : "";
  row.classList.toggle("from-photo", on.value === "yes");
  row.classList.toggle("both", way === "both" || way === "photo" && [...row.querySelectorAll(":scope > .field input, :scope > .group input")].some((f) => f.value));
  on.dispatchEvent(new Event("input", { bubbles: true }));
};

export const faces = (form) => {
  form.addEventListener("click", (event) => {
    const button = event.target.closest("[data-way]");
    if (!button) return;
    event.preventDefault();
    const row = button.closest(".row");
    take(row, button.dataset.way);
    if (form.classList.contains("stepping")) form.dispatchEvent(new CustomEvent("reshaped", { detail: row }));
  });
};
