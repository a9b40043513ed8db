package web_test

import (
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The invented rack of testdata/lot-rack.json, worked through by buttons alone.
func TestAVolunteerWorksARackOfThirty(t *testing.T) {
	d := withShop(t)
	p := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", "30").fill("Labelled, on each", "0.75 cu ft").fill("Seed of the draw", "12345").press("Draw the sample")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "Measure 12 of 30 packages")
	assert.Contains(t, p.text(), "Pick packages 3, 6, 9, 12, 13, 14, 16, 18, 19, 22, 26, 30.")
	assert.Contains(t, p.text(), "The size of the sample is known from memory: NIST Handbook 133")
	for number, volume := range map[string]string{"3": "1290", "6": "1301 cu in", "9": "1284", "12": "1278", "13": "1310", "14": "1296",
		"16": "1269", "18": "1305", "19": "1288", "22": "1282", "26": "1299", "30": "1294"} {
		p.fill("Package "+number+": volume", volume)
	}
	p = p.press("Judge the lot")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "Pass: on the average of 12 packages")
	assert.Contains(t, p.text(), "Volunteer measurement, not an official result")
	assert.Contains(t, p.text(), "from memory: NIST Handbook 133, Appendix A, Table 2-1")
	report := p.press("Print the report")
	assert.Equal(t, "application/pdf", report.header.Get("Content-Type"))
	assert.True(t, strings.HasPrefix(report.body, "%PDF-"))

	doc, err := os.ReadFile("../testdata/lot-rack.json")
	require.NoError(t, err)
	byJSON := d.postJSON("/lots", string(doc))
	require.Equal(t, http.StatusOK, byJSON.status, byJSON.body)
	assert.Contains(t, byJSON.body, `"finding":"pass"`)
}

// The invented bundles of testdata/lot-canada.csv, judged by Canada’s own plan: 25 % of
// forty, an average within 3.250·s/√10, and one package over 3 %, where two would fail.
func TestThePickedRulesDecideThePlan(t *testing.T) {
	d := withShop(t)
	p := d.get("/lots").fill("The lot", "Corner Store").fill("Whose rules", "canada").fill("Packages in the lot", "40").fill("Labelled, on each", "25 L").fill("Seed of the draw", "12345").press("Draw the sample")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "Measure 10 of 40 packages")
	assert.Contains(t, p.text(), "Plan: Canada: examination of a lot by sample.")
	assert.Equal(t, "canada", p.labelled("Whose rules").Find("option[selected]").AttrOr("value", ""))
	for number, volume := range map[string]string{"3": "24.80 L", "14": "25.15 L", "16": "24.58 L", "22": "24.20 L", "26": "25.06 L",
		"30": "24.69 L", "31": "24.85 L", "32": "25.09 L", "35": "24.26 L", "38": "25.04 L"} {
		p.fill("Package "+number+": volume", volume)
	}
	passed := p.press("Judge the lot")
	assert.Contains(t, passed.text(), "Pass: on the average of 10 packages")
	assert.Contains(t, passed.text(), "read: Weights and Measures Regulations (Canada), C.R.C. c. 1605, current to 24 July 2025, section 52(4)(b) and Schedule III, part IV")
	failed := passed.fill("Package 35: volume", "24.24 L").press("Judge the lot")
	assert.Contains(t, failed.text(), "Fail: too many packages are short by more than the individual limit.")
	report := failed.press("Print the report")
	assert.Equal(t, "application/pdf", report.header.Get("Content-Type"))
	refused := d.get("/lots").fill("Packages in the lot", "40").fill("Labelled, on each", "25 L").set("rules", "atlantis").press("Draw the sample")
	assert.Contains(t, refused.text(), "That rule set isn’t here")
	assert.Contains(t, d.get("/lots").fill("The lot", "Rack").fill("Whose rules", "england").fill("Packages in the lot", "40").fill("Labelled, on each", "25 L").press("Draw the sample").text(),
		"Plan: NIST Handbook 133, Category A. These rules state none of their own: England")
}

func TestAnotherDrawKeepsWhatWasTyped(t *testing.T) {
	d := withShop(t)
	p := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", "30").fill("Labelled, on each", "0.75 cu ft").fill("Seed of the draw", "12345").press("Draw the sample")
	p = p.fill("Package 3: volume", "1290").press("Draw again, with a new seed")
	assert.Equal(t, "1290", p.labelled("Package 3: volume").AttrOr("value", ""))
	assert.NotEqual(t, "12345", p.labelled("Seed of the draw").AttrOr("value", ""))
}

func TestLotSizes(t *testing.T) {
	d := withShop(t)
	for size, sample := range map[string]string{"1": "1", "11": "11", "12": "12", "250": "12", "251": "24"} {
		p := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", size).fill("Labelled, on each", "0.75 cu ft").press("Draw the sample")
		assert.Contains(t, p.text(), "Measure "+sample+" of "+size+" packages")
	}
	one := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", "1").fill("Labelled, on each", "0.75 cu ft").press("Draw the sample")
	one = one.fill("Package 1: or length", "16").fill("Package 1: and end", "81").press("Judge the lot")
	assert.Contains(t, one.text(), "Can’t be judged on the average")
}

func TestWrongLotsAreShownAgainAsTyped(t *testing.T) {
	d := withShop(t)
	for _, size := range []string{"", "many", "0", "-4", "1e309", "99999999"} {
		p := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", size).fill("Labelled, on each", "1").press("Draw the sample")
		assert.Equal(t, http.StatusUnprocessableEntity, p.status, size)
		assert.Equal(t, size, p.labelled("Packages in the lot").AttrOr("value", ""))
	}
	drawn := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", "30").fill("Labelled, on each", "0.75 cu ft").fill("Seed of the draw", "12345").press("Draw the sample")
	for _, wrong := range []string{"abc", "1e309", "-4", "4 cords", "12 in"} {
		p := drawn.fill("Package 9: volume", wrong).press("Judge the lot")
		require.Equal(t, http.StatusUnprocessableEntity, p.status, wrong)
		box := p.labelled("Package 9: volume")
		assert.Equal(t, wrong, box.AttrOr("value", ""))
		assert.Contains(t, p.doc.Find(".faults").Text(), "Package 9")
		assert.Equal(t, "true", box.AttrOr("aria-invalid", ""), "the fault stands at the third package: %s", p.text())
	}
	largest := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", "30").fill("Labelled, on each", "1 cu ft").fill("Seed of the draw", "18446744073709551615").press("Draw the sample")
	assert.Equal(t, http.StatusOK, largest.status, "every seed that the command line draws from")
	untaped := drawn.fill("Package 9: volume", "").press("Judge the lot")
	assert.Equal(t, http.StatusUnprocessableEntity, untaped.status, "nothing was measured")
}

// Whoever draws until the packages please leaves a trace: every seed drawn for a lot is
// on the page, with the verdict too, whatever its name's case, and after a reload.
func TestEveryDrawForALotIsKept(t *testing.T) {
	d := withShop(t)
	p := d.get("/lots").fill("The lot", "Corner Store").fill("Packages in the lot", "2").fill("Labelled, on each", "0.75 cu ft").press("Draw the sample")
	require.Equal(t, http.StatusOK, p.status, p.body)
	first := p.labelled("Seed of the draw").AttrOr("value", "")
	p = p.press("Draw again, with a new seed")
	second := p.labelled("Seed of the draw").AttrOr("value", "")
	assert.Contains(t, p.text(), "Seed "+first+", of 2 packages")
	fresh := d.get("/lots").fill("The lot", "corner  STORE").fill("Packages in the lot", "2").fill("Labelled, on each", "0.75 cu ft").fill("Seed of the draw", "777").press("Draw the sample")
	assert.Equal(t, 3, fresh.doc.Find("section.note ol li").Length(), "%s", fresh.text())
	assert.Contains(t, fresh.text(), "the seed was typed")
	fresh.fill("Package 1: volume", "1290").fill("Package 2: volume", "1301")
	judged := fresh.press("Judge the lot")
	require.Equal(t, http.StatusOK, judged.status, judged.body)
	for _, seed := range []string{first, second, "777"} {
		assert.Contains(t, judged.text(), "Seed "+seed)
	}
	assert.Contains(t, judged.text(), "drawn", "each package says how it was picked")
	nameless := d.get("/lots").fill("Packages in the lot", "2").fill("Labelled, on each", "0.75 cu ft").press("Draw the sample")
	assert.Equal(t, http.StatusUnprocessableEntity, nameless.status, "a draw without a lot would leave no trace")
}
