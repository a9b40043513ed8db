// What is wrong with the page that is shown, as a list of sentences.
(() => {
  const faults = [];
  const fault = (what, e) => faults.push(what + (e ? ": " + e.outerHTML.replace(/\s+/g, " ").slice(0, 140) : ""));
  for (const d of document.querySelectorAll("details")) d.open = true;
  const seen = (e) => e.checkVisibility({ checkVisibilityCSS: true, contentVisibilityAuto: true });
  const all = (selector) => [...document.querySelectorAll(selector)];

  // Language, title, landmarks, identities.
  if (!/^[a-z]{2}/.test(document.documentElement.lang)) fault("no language");
  if (document.querySelectorAll("main").length !== 1) fault("not one main part");
  const ids = all("[id]").map((e) => e.id);
  for (const id of new Set(ids)) if (ids.filter((other) => other === id).length > 1) fault("the id " + id + " is there twice");
  for (const e of all("[aria-describedby], [aria-labelledby]"))
    for (const id of ((e.getAttribute("aria-describedby") ?? "") + " " + (e.getAttribute("aria-labelledby") ?? "")).trim().split(/\s+/))
      if (!document.getElementById(id)) fault("it is described by " + id + ", which is not there", e);

  // Headings: one of the first order, and none that skips an order.
  let before = 0;
  if (document.querySelectorAll("h1").length !== 1) fault("not one first heading");
  for (const h of all("h1, h2, h3, h4, h5, h6").filter(seen)) {
    const order = Number(h.tagName[1]);
    if (order > before + 1) fault("a heading skips from h" + before, h);
    if (!h.textContent.trim()) fault("an empty heading", h);
    before = order;
  }

  // Names.
  for (const e of all("input:not([type=hidden]), select, textarea"))
    if (!(e.getAttribute("aria-label") ?? [...(e.labels ?? [])].map((l) => l.textContent).join("")).trim()) fault("a field without a name", e);
  for (const e of all("a[href], button, summary"))
    if (!((e.getAttribute("aria-label") ?? "") + e.textContent).trim()) fault("nothing says what it does", e);
  for (const e of all("img:not([alt])")) fault("a picture without words", e);
  for (const e of all("svg"))
    if (e.getAttribute("aria-hidden") !== "true" && !e.getAttribute("aria-label") && !e.querySelector("title")) fault("a drawing without words", e);
  for (const e of all("fieldset")) if (!e.querySelector("legend")?.textContent.trim()) fault("a group without a name", e);

  // Contrast of text as it is shown: 4.5, or 3 for large text (WCAG 2.2, 1.4.3).
  const colour = (text) => { const n = (text.match(/[\d.]+/g) ?? []).map(Number); return n.length < 3 ? [0, 0, 0, 0] : [n[0], n[1], n[2], n[3] ?? 1]; };
  const over = (top, under) => [0, 1, 2].map((i) => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
  const paper = (e) => {
    const layers = [];
    for (let p = e; p; p = p.parentElement) layers.push(colour(getComputedStyle(p).backgroundColor));
    let base = matchMedia("(prefers-color-scheme: dark)").matches ? [18, 18, 18, 1] : [255, 255, 255, 1];
    for (const layer of layers.reverse()) base = over(layer, base);
    return base;
  };
  const light = (c) => {
    const [r, g, b] = c.slice(0, 3).map((v) => ((v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (a, b) => { const [x, y] = [light(a), light(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
  const poor = new Set();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (!walker.currentNode.textContent.trim() || !seen(e) || e.closest("title, desc, script, style, option, .unseen, .skip, [disabled]")) continue;
    const style = getComputedStyle(e), drawn = e.closest("svg");
    const ink = colour(drawn ? style.fill : style.color), under = paper(drawn ? drawn.parentElement : e);
    const size = parseFloat(style.fontSize), large = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
    const found = ratio(over(ink, under), under);
    if (found < (large ? 3 : 4.5)) poor.add("contrast " + found.toFixed(2) + " of “" + walker.currentNode.textContent.trim().slice(0, 40) + "”");
  }
  for (const e of all("input:not([type=hidden]):not([type=radio]):not([type=checkbox]), select, textarea").filter(seen)) {
    const style = getComputedStyle(e), under = paper(e);
    if (ratio(over(colour(style.color), under), under) < 4.5) poor.add("contrast of a field: " + e.name);
    if (ratio(over(colour(style.borderTopColor), under), paper(e.parentElement)) < 3) poor.add("the edge of a field is hard to see: " + e.name);
  }
  faults.push(...poor);

  // Targets of 48 px, but for a link inside a sentence.
  for (const e of all("a[href], button, input:not([type=hidden]), select, textarea, summary").filter(seen)) {
    if (e.matches(".skip, p a, dd a, li a:not(.button):not(:only-child), small a, td a, figcaption a")) continue;
    const box = (e.matches("[type=radio], [type=checkbox]") ? e.closest("label") ?? e : e).getBoundingClientRect();
    if (box.height < 47.9 || box.width < 47.9) fault("a target of " + Math.round(box.width) + " by " + Math.round(box.height) + " px", e);
  }

  // A focus that is seen, on one of each kind.
  const kinds = new Set();
  for (const e of all("a[href], button, input:not([type=hidden]), select, textarea, summary").filter(seen)) {
    const kind = e.tagName + e.type + e.className;
    if (kinds.has(kind) || e.matches(".skip, [disabled]")) continue;
    kinds.add(kind);
    e.focus({ focusVisible: true });
    const style = getComputedStyle(e);
    if (document.activeElement === e && (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2)) fault("a focus that is not seen", e);
  }

  // Nothing off the side.
  if (document.documentElement.scrollWidth > document.documentElement.clientWidth) {
    const wide = all("main *").find((e) => e.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !e.closest(".scroll"));
    fault("it runs off the side", wide);
  }
  return faults;
})()
