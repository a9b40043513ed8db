// What the keys of the pad make of a length that is being typed.

// Inches after feet, and centimetres after metres, are typed without their unit and get it.
const behind = { ft: "in", m: "cm" };
const ended = /^(.*\b(ft|m) .*?) (in|cm)$/;

const open = (text) => text.match(ended)?.[1] ?? text;

const closed = (text) => {
  const larger = text.match(/\b(ft|m) [\d.\/ ]*\d$/)?.[1];
  return larger ? text + " " + behind[larger] : text;
};

// shorter takes the last thing typed off: a unit and a fraction as a whole.
const shorter = (text) => text.replace(/ ?(\d+\/\d+|ft|in|cm|m|.)$/, "").trimEnd();

const longer = (text, key) => {
  const number = text.match(/[\d.]*$/)[0];
  if (key.includes("/")) {
    if (number.includes(".")) return text;
    const before = text.replace(/ ?\d+\/\d+$/, "");
    return before === "" ? key : before + " " + key;
  }
  if (/^[a-z]/.test(key)) return text === "" || /[a-z]$/.test(text) ? text : text + " " + key;
  if (/\d\/\d+$/.test(text) || key.includes(".") && number.includes(".")) return text;
  return /[a-z]$/.test(text) ? text + " " + key : text + key;
};

// pressed is the text after a key: a digit, ".", ".5", a fraction such as "1/2", a unit or
// "delete".
export const pressed = (text, key) => {
  const was = open(text.trim());
  return closed(key === "delete" ? shorter(was) : longer(was, key));
};

// show writes a length with its fractions set by hand: the numerator above, a slash, the
// denominator.
export const show = (at, text, unit) => {
  at.replaceChildren();
  for (const [i, part] of text.split(/(\d+\/\d+)/).entries()) {
    if (i % 2 === 0) {
      at.append(part);
      continue;
    }
    const [over, under] = part.split("/");
    const f = document.createElement("span");
    f.className = "f";
    const up = document.createElement("i");
    const down = document.createElement("u");
    [up.textContent, down.textContent] = [over, under];
    f.append(up, "⁄", down);
    at.append(f);
  }
  const small = document.createElement("small");
  small.textContent = /[a-z]$/.test(text) ? "" : unit;
  at.append(small);
};

const bare = /^[\s\d.,\/½¼¾⅛⅜⅝⅞⅓⅔]*\d?[\s\d.,\/½¼¾⅛⅜⅝⅞⅓⅔]+$/;

// turn changes the unit of bare numbers on a form; what was typed in the old one gets that
// unit, so that no reading changes.
export const turn = (form, unit) => {
  const held = form.elements.namedItem("unit");
  for (const field of form.querySelectorAll(".length input")) {
    if (field.value.trim() && bare.test(field.value)) field.value = field.value.trim() + " " + held.value;
  }
  for (const said of form.querySelectorAll(".length .unit")) said.textContent = unit;
  for (const e of form.querySelectorAll(".unit-line [data-other]")) [e.textContent, e.dataset.other] = [e.dataset.other, e.textContent];
  const button = form.querySelector(".unit-line button");
  button.value = "unit " + held.value;
  held.value = unit;
  held.dispatchEvent(new Event("input", { bubbles: true }));
};
