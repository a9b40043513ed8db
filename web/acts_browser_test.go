package web_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// paper is the text of a PDF that an address sends, in one line.
func (d *desk) paper(path string) string {
	d.t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv("CI") == "true" {
			d.t.Fatal("pdftotext is not installed, and CI=true asks for what it reads")
		}
		d.t.Skip("pdftotext is not installed: the papers are not read")
	}
	file := filepath.Join(d.t.TempDir(), "paper.pdf")
	require.NoError(d.t, os.WriteFile(file, []byte(d.get(path).body), 0o600))
	text, err := exec.Command(tool, "-raw", file, "-").Output()
	require.NoError(d.t, err, path)
	return strings.Join(strings.Fields(string(text)), " ")
}

// opensAnAudit opens an audit of receipt 1 on the phone, tells the seller, keeps the wood and
// fixes a plan for two measurers; it gives the audit's path.
func (p *phone) opensAnAudit() string {
	p.t.Helper()
	p.open("/audits/new?receipt=1")
	p.fill("Who audits", "Pim Holt")
	p.tap("label", "As a volunteer")
	p.press("button", "Open the audit")
	path := ask[string](p, `location.pathname`)
	assert.NotContains(p.t, p.text(), "One person measured")
	p.tap("label", "By phone")
	p.put("when", "2026-11-19T09:00")
	p.put("appointed", "2026-11-20T10:00")
	p.press("button", "Record the notice")
	p.put("since", "2026-11-19T17:00")
	p.tap("label", "No")
	p.put("apart", "none")
	p.press("button", "Record it")
	for id, value := range map[string]string{"measurers": "2", "stations": "4", "lengths": "4", "pieces": "5"} {
		p.put(id, value)
	}
	p.press("button", "Fix the plan")
	assert.Contains(p.t, p.text(), "Plan fixed 20 November 2026")
	return path
}

// linksTo makes a measurer's link and gives its path.
func (p *phone) linksTo(name string) string {
	p.t.Helper()
	p.fill("Who measures", name)
	p.press("button", "Make the link")
	assert.Contains(p.t, p.text(), "Only this computer can open these pages")
	return ask[string](p, `new URL(document.querySelector("a[href^='/audits/measuring/']").href).pathname`)
}

// An audit is opened, told, planned, measured by two who see nothing of it, answered and
// closed on a phone; what weakens it stands in the report's box.
func TestPhoneAuditsFromOpeningToClosing(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	p := newPhone(t, d)
	path := p.opensAnAudit()
	first := p.linksTo("Una Reed")
	p.open(path)
	second := p.linksTo("Tobias Fenn")
	p.open(path + "?do=close")
	assert.Contains(t, p.text(), "Close the audit: 4 things missing")
	assert.True(t, ask[bool](p, `document.querySelector("form[action$='/close'] button.main").disabled`))
	p.press("a", "whether the seller came")
	assert.Equal(t, "attendance", ask[string](p, `new URLSearchParams(location.search).get("do")`), "what is missing leads to where it is done")
	p.measures(first, "37.125")
	p.put("gaps.count", "3")
	p.seals()
	p.measures(second, "37.25")
	p.put("gaps.count", "2")
	p.seals()
	p.open(path)
	p.tap("label", "No")
	p.press("button", "Record it")
	ask[bool](p, `(() => { for (const d of document.querySelectorAll("details")) d.open = true;
		for (const r of document.querySelectorAll("form[action$='/checklist'] input[type=radio]")) if (r.value === (r.name === "items.used" ? "no" : "yes")) r.click();
		document.getElementById("items.weather.note").value = "dry, 41 °F"; return true; })()`)
	p.press("button", "Save the answers")
	p.fill("The result in your own words", "Less than was paid for.")
	p.press("button", "Close and make the report")
	assert.Contains(t, p.text(), "What limits it")
	assert.Contains(t, p.text(), "The seller wasn’t there when it was measured.")
	p.shot("audit-closed")
	report := d.paper(path + "/pdf")
	_, limits, found := strings.Cut(report, "WHAT LIMITS IT")
	require.True(t, found, "%s", report)
	assert.Contains(t, limits[:min(len(limits), 900)], "The seller wasn’t there when it was measured.")
	assert.Contains(t, report, "Less than was paid for.")
	p.open("/audits?seller=Alder+Lane+Firewood")
	assert.Contains(t, p.text(), "One audit: too few to say what is usual.")
	p.open("/audits/stowing")
	assert.Contains(t, p.text(), "How tightly people stack")
	assert.Contains(t, p.text(), "Too few to say: 0 of the")
}

// A tax that is ticked without a name and a rate is refused by both, and stays ticked.
func TestPhoneIsToldWhatATaxLacks(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.open("/charges")
	p.tap("label", "the wood")
	p.press("button", "Save the charges")
	faults := ask[string](p, `document.querySelector("#faults").innerText`)
	assert.Contains(t, faults, "what the tax is called on receipts, such as Sales tax")
	assert.Contains(t, faults, "Rate")
	assert.True(t, ask[bool](p, `document.querySelector("[name=tax_wood]").checked`), "it stays ticked")
	p.fill("Name of the tax", "Sales tax")
	p.fill("Rate", "5.5 %")
	p.press("button", "Save the charges")
	assert.Contains(t, p.text(), "Saved.")
}

// A lot's sample is drawn from a seed on the phone; drawing again leaves its trace.
func TestPhoneDrawsALotTwice(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.open("/lots")
	for label, value := range map[string]string{"The lot": "Corner Store", "Packages in the lot": "30", "Labelled, on each": "0.75 cu ft"} {
		p.fill(label, value)
	}
	p.press("button", "Draw the sample")
	first := p.text()
	assert.Regexp(t, `Pick packages \d+, \d+`, first)
	seed := regexp.MustCompile(`drawn from the seed (\d+);`).FindStringSubmatch(first)
	require.Len(t, seed, 2, first)
	p.press("button", "Draw again, with a new seed")
	assert.NotContains(t, p.text(), "drawn from the seed "+seed[1]+";", "it is another draw")
	assert.Contains(t, ask[string](p, `document.querySelector("main").textContent`), seed[1], "and the first is still named")
	p.fits()
}

// A quantity beside a bed filled to its line that holds another is refused by name, and both
// stay as they were.
func TestPhoneIsToldThatAQuantityAndABedContradict(t *testing.T) {
	d := withShop(t)
	kept := d.get("/bodies").fill("Truck or trailer", "red truck").fill("Line", "lower board").choose("Ranked, as in a stack").
		fill("Length inside", "8").fill("Width inside", "4").fill("Floor to the line", "24").fill("Taped by", "Odell").press("Keep this bed")
	require.Equal(t, 303, kept.status, "%s", kept.body)
	order := d.takeOrder("1 cord")
	p := newPhone(t, d)
	p.open(order + "/deliver")
	p.press("button", "red truck, lower board: 1/2 cord (64 ft³)")
	p.fill("Delivered", "1 cord")
	p.press("button", "Make the receipt")
	assert.Contains(t, ask[string](p, `document.querySelector("#faults").innerText`), "the truck or trailer filled to its line holds 1/2 cord (64 ft³)")
	assert.Equal(t, "1 cord", ask[string](p, find("label", "Delivered")+`.value`))
	assert.True(t, ask[bool](p, `document.querySelector("input[name=body]").checked`))
	assert.Zero(t, d.receipts(order))
}

// Money goes back by its own choice alone: a minus is refused and turns nothing.
func TestPhoneGivesMoneyBackByItsOwnChoice(t *testing.T) {
	d := withShop(t)
	order := d.handedOver("1 cord")
	p := newPhone(t, d)
	p.open(order + "/payments")
	p.fill("Amount", "-20")
	p.tap("label", "Cash")
	p.press("button", "Record it")
	assert.Contains(t, ask[string](p, `document.querySelector("#faults").innerText`), "An amount is not below zero")
	assert.Equal(t, "-20", ask[string](p, find("label", "Amount")+`.value`))
	p.fill("Amount", "20")
	p.tap("label", "Given back to the customer")
	p.press("button", "Record it")
	p.open(order + "/payments")
	assert.Contains(t, p.text(), "Owes $300.00")
}

// A correction and a void are titled so, on the page and on paper, and the old one printed
// again says across it what ended it; as it was issued it says nothing of the kind.
func TestPhonePrintsWhatEndedAReceipt(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	p := newPhone(t, d)
	p.open("/receipts/1/correct")
	p.fill("Delivered", "0.9 cord")
	p.fill("Why", "The last row was not unloaded")
	p.press("button", "Make the corrected receipt")
	assert.Equal(t, "Correction 2", ask[string](p, `document.querySelector("h1").textContent`))
	p.open("/receipts/2/void")
	p.fill("Why", "The load came back")
	p.press("button", "Make it void")
	assert.Equal(t, "Void 3", ask[string](p, `document.querySelector("h1").textContent`))
	p.fits()
	assert.Contains(t, d.paper("/receipts/2/pdf?as=issued"), "Correction 2")
	assert.Contains(t, d.paper("/receipts/3/pdf"), "Void 3")
	assert.Contains(t, d.paper("/receipts/1/pdf"), "Corrected by receipt 2")
	assert.NotContains(t, d.paper("/receipts/1/pdf?as=issued"), "Corrected by")
	assert.Contains(t, d.paper("/receipts/2/pdf"), "receipt 3")
}

// A bin and a round stack held against cords: how much is there, what it is likely once
// stacked, and what to do, in words that need no explaining.
func TestPhoneHoldsABinAndARoundStackAgainstCords(t *testing.T) {
	p := newPhone(t, withShop(t))
	for kind, read := range map[string]func(){
		"bin": func() {
			p.tap("label", "Put in as it fills")
			p.fill("Inside length", "96")
			p.fill("Inside width", "60")
			for _, n := range []string{"1", "2", "3", "4"} {
				p.fill("Height "+n, "45")
			}
		},
		"round": func() {
			for _, n := range []string{"1", "2", "3"} {
				p.fill("Diameter "+n, "84")
				p.fill("Height "+n, "60")
			}
		},
	} {
		p.open("/measure?kind=" + kind)
		p.fill("Sold", "1 cord")
		read()
		p.until(`document.querySelector("#panel .answer:not(.quiet)") !== null && !document.querySelector("#panel.stale")`)
		p.fits()
		said := ask[string](p, `document.getElementById("panel").innerText`)
		assert.Contains(t, said, "ft³", kind)
		assert.Regexp(t, `[Ll]ikely 0\.\d+ to [01]\.\d+ of the 1 cord`, said, kind)
		assert.Contains(t, said, "What to do", kind)
		for _, jargon := range []string{"basis", "coverage", "uncertainty", "residual", "standard deviation", "degrees of freedom", "sold_basis", "unresolved"} {
			assert.NotContains(t, said, jargon, kind)
		}
		p.shot("kind-" + kind)
	}
}
