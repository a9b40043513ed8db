// What the browser knows of where it stands is put in where nothing is typed: its time
// zone, and the currency of the country it is set to.
const money = {
  US: "USD", CA: "CAD", GB: "GBP", CH: "CHF", LI: "CHF", SE: "SEK", NO: "NOK", DK: "DKK", PL: "PLN", CZ: "CZK", HU: "HUF", RO: "RON", AU: "AUD", NZ: "NZD",
};
const euro = "AT BE BG CY DE EE ES FI FR GR HR IE IT LT LU LV MT NL PT SI SK";
// The countries whose rules are known as one set; of others, such as the United States,
// each state has its own, and nothing is proposed.
const law = { CA: "canada", GB: "england", IE: "ireland", FR: "france", DE: "germany" };
const country = (navigator.language ?? "").split("-").pop();
const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
const known = {
  zone: /^(UTC|GMT|Etc\/.*)$/.test(zone) ? undefined : zone, // a machine’s, not a place’s
  currency: money[country] ?? (euro.includes(country) && country.length === 2 ? "EUR" : undefined),
  rule_set: law[country],
};
for (const field of document.querySelectorAll("[data-offer]")) {
  if (field.value !== "" || !known[field.dataset.offer]) continue;
  field.value = known[field.dataset.offer];
  for (const told of document.querySelectorAll("[data-offered]")) told.hidden = false;
}
