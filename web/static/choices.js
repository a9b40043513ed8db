// What a page shows of its own form.

// A fault speaks of what was typed before: it goes once that is typed anew.
export const mend = (field) => {
  if (field.type === "radio") field.closest(".choice.wrong")?.querySelector(".fault")?.remove();
  if (!field.hasAttribute("aria-invalid")) return;
  field.removeAttribute("aria-invalid");
  field.closest(".wrong")?.classList.remove("wrong");
  document.getElementById(field.id + "-fault")?.remove();
  document.querySelector(`.faults a[href="#${CSS.escape(field.id)}"]`)?.closest("li").remove();
  if (!document.querySelector(".faults li")) document.getElementById("faults")?.remove();
};

// What depends on a choice shows once that choice is taken.
export const hang = (form) => {
  const show = () => {
    const sent = new FormData(form);
    const taken = (name, words) => !name || words.split("|").includes(sent.get(name) ?? "");
    for (const part of form.querySelectorAll("[data-when], [data-set]")) {
      const { when, is, set, ways } = part.dataset;
      part.hidden = !(taken(when, is) && taken(set, ways)) && part.querySelector("[aria-invalid]") === null;
    }
    for (const group of form.querySelectorAll(".group-of-blocks:not([data-when], [data-set])")) {
      group.hidden = [...group.children].every((e) => e.hidden || e.matches("legend, summary, .only"));
    }
  };
  form.classList.add("hanging");
  form.addEventListener("change", show);
  show();
  return show;
};
