"use strict";
// Forms work without this. With it, a form keeps a local draft, so that a dropped
// connection loses nothing, and the measuring page answers while one types.
(() => {
  const store = {
    get(key) { try { return JSON.parse(localStorage.getItem("draft:" + key)); } catch { return null; } },
    set(key, value) { try { localStorage.setItem("draft:" + key, JSON.stringify(value)); } catch { /* no room: no draft */ } },
    drop(key) { try { localStorage.removeItem("draft:" + key); } catch { /* nothing kept */ } },
  };
  const saved = document.body.dataset.saved;
  if (saved) {
    store.drop(saved);
    const here = new URL(location);
    here.searchParams.delete("saved");
    history.replaceState(null, "", here);
  }

  // What a person typed, without the hidden fields that are not of the readings.
  const typed = (form) => [...new FormData(form)].filter(([name]) => form.querySelector(`input[type=hidden]:not([data-kept])[name="${CSS.escape(name)}"]`) === null);

  // A draft keeps the id of its request until the server says that it is saved, so that
  // what was sent and got no answer is never saved twice.
  const keep = (form, key, sent) => store.set(key, { request: form.elements.namedItem("request")?.value, sent, typed: typed(form) });

  // Buttons that go elsewhere or only show the page again save nothing.
  const saves = (button) => !button?.hasAttribute("formaction") && !("reads" in (button?.dataset ?? {})) &&
    button?.name !== "enter" && (button?.name !== "do" || button.value === "save");

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
  const room = (cells) => {
    const last = cells?.querySelector(".cell:last-child");
    if (last?.querySelector("input").value) next(last);
  };

  const grow = (form) => {
    form.addEventListener("input", (event) => room(event.target.closest("[data-grows]")));
    for (const cells of form.querySelectorAll("[data-grows]")) room(cells);
    for (const more of form.querySelectorAll("[data-grown]")) more.hidden = true;
  };

  // Puts a draft back; true when the page had a place for every reading.
  const fill = (form, draft) => {
    const names = new Set(draft.map(([name]) => name));
    let whole = true;
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
  const rebuild = (form, draft) => {
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

  const offerAnew = (form, key, sent) => {
    const line = document.createElement("p");
    const button = document.createElement("button");
    line.className = "note";
    line.setAttribute("role", "status");
    line.textContent = sent
      ? "What you typed here was sent, but no answer came back. Send it again: it is saved only once. "
      : "What was typed here before and not saved was put back. ";
    button.type = "button";
    button.textContent = "Start anew";
    button.addEventListener("click", () => { store.drop(key); location.reload(); });
    line.append(button);
    form.before(line);
  };

  // An answer that no longer fits the fields is crossed out, and says why.
  const outdate = (why) => {
    const panel = document.getElementById("panel");
    document.getElementById("running").classList.add("stale");
    if (!panel.querySelector(".answer:not(.quiet)")) return;
    panel.classList.add("stale");
    let line = document.getElementById("stale");
    if (!line) {
      line = document.createElement("p");
      line.id = "stale";
      line.className = "note";
      panel.prepend(line);
    }
    if (line.textContent !== why) line.textContent = why;
  };

  // The line in view: the answer in short, or what stands in its way.
  const run = (text) => {
    const line = document.getElementById("running");
    line.classList.remove("stale");
    if (line.textContent !== text) line.textContent = text;
  };

  // What is asked about a reading stands at its field, whoever was typing where.
  const place = (asked) => {
    for (const old of document.querySelectorAll(".typing .question")) old.remove();
    for (const question of asked.querySelectorAll(".question")) {
      const home = document.getElementById(question.dataset.ask)?.closest(".field, .cell");
      for (let fold = home?.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
      home?.append(question);
    }
  };

  // Answers while typing: the page's own form is sent, and only the answer of what
  // comes back is put in.
  const live = (form) => {
    let timer = 0;
    let running = null;
    const { changed, offline } = form.dataset;
    const ask = async () => {
      running?.abort();
      const mine = running = new AbortController();
      const body = new URLSearchParams(new FormData(form));
      body.set("do", "preview");
      try {
        const got = await fetch(form.getAttribute("action"), {
          method: "POST", body, signal: mine.signal, headers: { "Wellstowed-Part": "answer" },
        });
        const part = new DOMParser().parseFromString(await got.text(), "text/html");
        const panel = part.getElementById("panel");
        for (const echo of part.querySelectorAll("[data-echo]")) {
          const at = document.getElementById(echo.dataset.echo + "-echo");
          if (at) at.textContent = echo.textContent;
        }
        const fault = got.ok ? "" : (part.querySelector(".faults li") ?? part.querySelector(".faults h2"))?.textContent ?? offline;
        const ticked = document.activeElement?.closest(".question") && document.activeElement.name;
        const asked = part.getElementById("asked");
        if (got.ok && asked) place(asked);
        if (panel && (got.ok || panel.querySelector(".answer:not(.quiet)"))) document.getElementById("panel").replaceWith(panel);
        else outdate(fault);
        if (ticked) document.getElementsByName(ticked)[0]?.focus();
        run(fault || part.getElementById("running").textContent);
      } catch { // no connection: the draft is kept, the next reading asks again
        if (mine.signal.aborted) return;
        outdate(offline);
        run(offline);
      }
    };
    const soon = () => { outdate(changed); clearTimeout(timer); timer = setTimeout(ask, 350); };
    form.addEventListener("input", soon);
    return soon;
  };

  // A fault speaks of what was typed before: it goes once that is typed anew.
  const mend = (field) => {
    if (field.type === "radio") field.closest(".choice.wrong")?.querySelector(".fault")?.remove();
    if (!field.hasAttribute("aria-invalid")) return;
    field.removeAttribute("aria-invalid");
    field.closest(".wrong")?.classList.remove("wrong");
    document.getElementById(field.id + "-fault")?.remove();
    document.querySelector(`.faults a[href="#${CSS.escape(field.id)}"]`)?.closest("li").remove();
    if (!document.querySelector(".faults li")) document.getElementById("faults")?.remove();
  };

  // What hangs on a choice shows once that choice is taken.
  const hang = (form) => {
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

  // Counts one more into a field at each tap.
  for (const button of document.querySelectorAll("button[data-adds]")) {
    const field = document.getElementById(button.dataset.adds);
    button.hidden = false;
    button.addEventListener("click", () => {
      field.value = (parseInt(field.value, 10) || 0) + 1;
      field.dispatchEvent(new Event("input", { bubbles: true }));
    });
  }

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

  // A page that reads a form back sends it on: from then on its draft is sent.
  for (const form of document.querySelectorAll("form:not([data-draft])")) {
    const key = form.elements.namedItem("draft")?.value;
    const draft = key && store.get(key);
    if (draft) form.addEventListener("submit", (event) => store.set(key, { ...draft, sent: saves(event.submitter) }));
  }

  // What the browser knows of where it stands is put in where nothing is typed: its time
  // zone, and the currency of the country it is set to.
  const money = {
    US: "USD", CA: "CAD", GB: "GBP", CH: "CHF", LI: "CHF", SE: "SEK", NO: "NOK", DK: "DKK", PL: "PLN", CZ: "CZK", HU: "HUF", RO: "RON", AU: "AUD", NZ: "NZD",
  };
  const euro = "AT BE BG CY DE EE ES FI FR GR HR IE IT LT LU LV MT NL PT SI SK";
  const country = (navigator.language ?? "").split("-").pop();
  const known = {
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    currency: money[country] ?? (euro.includes(country) && country.length === 2 ? "EUR" : undefined),
  };
  for (const field of document.querySelectorAll("[data-offer]")) {
    if (field.value === "" && known[field.dataset.offer]) field.value = known[field.dataset.offer];
  }

  for (const form of document.querySelectorAll("form[data-draft]")) {
    const show = hang(form);
    grow(form);
    form.addEventListener("input", (event) => mend(event.target));
    const key = form.dataset.draft;
    const soon = "live" in form.dataset ? live(form) : () => {};
    form.addEventListener("input", () => keep(form, key, false));
    form.addEventListener("submit", (event) => keep(form, key, saves(event.submitter)));
    if (!("fresh" in form.dataset)) {
      keep(form, key, false);
      continue;
    }
    const draft = store.get(key);
    if (!Array.isArray(draft?.typed)) continue;
    const whole = fill(form, draft.typed);
    if (draft.request) form.elements.namedItem("request").value = draft.request;
    show();
    if (whole) {
      offerAnew(form, key, draft.sent);
      soon();
    } else {
      rebuild(form, draft.typed);
    }
  }
})();
