// Enter, or a phone's Go key, leads to the next field once it is let go; the last one
// keeps it. Without this it presses the form's first button, which only shows the page
// again.
const entered = (event) => event.key === "Enter" && !event.isComposing && event.target.matches("input")
  && event.target.form?.querySelector("button[name=enter]");
for (const kind of ["keydown", "keypress"]) {
  document.addEventListener(kind, (event) => { if (entered(event)) event.preventDefault(); });
}
document.addEventListener("keyup", (event) => {
  if (!entered(event)) return;
  const fields = [...event.target.form.elements].filter((e) => e.matches("input:not([type=hidden]), select, textarea") && e.checkVisibility());
  fields[fields.indexOf(event.target) + 1]?.focus();
});
