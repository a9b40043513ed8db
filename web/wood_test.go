package web_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestAnybodyCanAskWhatWoodWeighs(t *testing.T) {
	d := newDesk(t)
	empty := d.get("/wood")
	require.Equal(t, http.StatusOK, empty.status)
	assert.Equal(t, "1 cord", empty.labelled("How much").AttrOr("value", ""))
	assert.Contains(t, empty.text(), "Say which wood")

	page := d.get("/wood?" + url.Values{"species": {"red oak"}, "quantity": {"1 cord"}, "moisture": {"20"}, "basis": {"dry"}}.Encode())
	require.Equal(t, http.StatusOK, page.status)
	// 80 ft³ of red oak at 20 % dry basis are 3,529 lb and 25.3 million Btu
	// (University of Missouri Extension G5450 prints 25.3); 7/8 to 9/8 of it.
	for _, want := range []string{
		"3,100 to 4,000 lb", "22 to 28 million Btu", "20 % dry basis, which is 16.7 % wet basis", "44.1 lb/ft³", "second-hand", "Wood Handbook",
	} {
		assert.Contains(t, page.text(), want)
	}
	assert.Equal(t, "red oak", page.labelled("Wood").AttrOr("value", ""))
	assert.Contains(t, d.get("/wood?species=beech&moisture=green").text(), "A plan: then measure.")
}

// The table on the page is the whole table. Iowa State University Extension prints
// about 25 and 51 lb/ft³ at 20 % for basswood and shagbark hickory.
func TestWoodPageHoldsTheTable(t *testing.T) {
	rows := newDesk(t).get("/wood").doc.Find("tbody tr")
	require.Equal(t, 83, rows.Length())
	got := map[string]string{}
	rows.Each(func(_ int, row *goquery.Selection) {
		name, _, _ := strings.Cut(strings.TrimSpace(row.Find("td").First().Contents().First().Text()), "\n")
		got[strings.TrimSpace(name)] = row.Find("td").Eq(2).Text()
	})
	assert.Equal(t, "24.7", got["Basswood"])
	assert.Equal(t, "50.8", got["Shagbark hickory"])
	assert.Equal(t, "44.1", got["Northern red oak"])
}

func TestWoodSaysWhatItDoesNotKnow(t *testing.T) {
	d := newDesk(t)
	page := d.get("/wood?species=oak&moisture=20")
	require.Equal(t, http.StatusUnprocessableEntity, page.status)
	assert.Contains(t, page.text(), "Northern red oak, Oregon white oak")
	page = d.get("/wood?species=beech&moisture=20")
	assert.Contains(t, page.text(), "what the water is measured against")
	assert.NotContains(t, d.get("/wood?species=beech&moisture=20&basis=dry&quantity=two+face+cords+of+16+inch").text(), "face cord")
}

// 70 °F and 65 % come to 12.0 % (Wood Handbook 2021, Table 4-2, from memory).
func TestWoodInAir(t *testing.T) {
	d := newDesk(t)
	assert.Equal(t, 1, d.get("/wood").labelled("Temperature of the air").Length())
	page := d.get("/wood?" + url.Values{"air": {"70"}, "humidity": {"65"}}.Encode())
	require.Equal(t, http.StatusOK, page.status, page.body)
	assert.Contains(t, page.text(), "Wood left in that air dries to 12 % dry basis, which is 10.7 % wet basis.")
	assert.Contains(t, page.text(), "eq. 4-5")
	assert.Equal(t, "70", page.labelled("Temperature of the air").AttrOr("value", ""))
	bad := d.get("/wood?air=warm&humidity=65")
	require.Equal(t, http.StatusUnprocessableEntity, bad.status)
	assert.Equal(t, 1, bad.doc.Find("#air-fault").Length())
	assert.Equal(t, "warm", bad.labelled("Temperature of the air").AttrOr("value", ""))
	assert.Contains(t, d.getJSON("/wood?air=21.1+C&humidity=65").body, `"moisture_dry_basis_percent":11.9`)
}

func TestWoodForPrograms(t *testing.T) {
	d := newDesk(t)
	var got struct {
		Pounds struct{ Low, Mid, High float64 } `json:"weight_pounds"`
		Wet    float64                          `json:"moisture_wet_basis_percent"`
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON("/wood?species=red+oak&moisture=25&basis=dry").body), &got))
	assert.InDelta(t, 20, got.Wet, 0.001)
	assert.Greater(t, got.Pounds.High, got.Pounds.Low)
	var table struct {
		Species []struct {
			Name   string
			Status string `json:"gravity_status"`
		}
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON("/wood").body), &table))
	require.Len(t, table.Species, 83)
	assert.Equal(t, "second-hand", table.Species[0].Status)
	assert.Equal(t, http.StatusUnprocessableEntity, d.getJSON("/wood?species=nothing").status)
}

func TestMoistureIsReadAndPrinted(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	p := d.get(path + "/moisture")
	require.Equal(t, http.StatusOK, p.status)
	assert.Contains(t, p.text(), "Nothing was read yet")
	for _, name := range []string{"basis", "method", "fresh_face"} {
		assert.Empty(t, p.values.Get(name), "%s is not chosen for anybody", name)
	}
	refused := p.fill("Readings", "15\n16\n17\n18\n16").press("Save the readings")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Equal(t, "15\n16\n17\n18\n16", strings.TrimSpace(refused.labelled("Readings").Text()), "what was typed stays")
	assert.Equal(t, 1, refused.doc.Find(`#faults a[href="#basis"]`).Length())

	refused.choose("Dry basis, as pin meters read").choose("Pin meter")
	refused.choose("On freshly split faces, in the middle").fill("Temperature of the wood", "60 F").fill("Name of who reads", "Wren Okafor")
	page := refused.press("Save the readings").follow()
	require.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.text(), "At or below 20 % dry basis, by these readings.")
	assert.Contains(t, page.text(), "16.4 % dry basis, 5 pieces")
	assert.Contains(t, page.text(), "wood at 60 °F")
	assert.Contains(t, d.get(path).text(), "At or below 20 % dry basis")

	refusedMeter := d.postJSON(path+"/moisture", `{"readings": "18", "basis": "dry", "method": "pin meter", "fresh_face": "yes", "accuracy": "-1", "correction": "lots"}`)
	assert.Contains(t, refusedMeter.body, `"field":"accuracy","code":"not-points"`)
	assert.Contains(t, refusedMeter.body, `"field":"correction","code":"not-points"`)

	receipt := d.get(path + "/deliver").press("Make the receipt").follow()
	assert.Contains(t, receipt.text(), "measured: mean 16.4 % dry basis (at most 19.5 % dry basis, the meter ±2.0 points), pin meter, 5 pieces, by Wren Okafor, 20 November 2026")
	assert.NotContains(t, receipt.text(), "not measured")
}

func TestMoistureForPrograms(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	made := d.postJSON(path+"/moisture", `{"readings": "24 26\n25\n28\n27\n26", "basis": "wet", "method": "oven", "fresh_face": "yes"}`)
	require.Equal(t, http.StatusCreated, made.status, made.body)
	assert.Contains(t, made.body, `"verdict":"above"`)
	frozen := d.postJSON(path+"/moisture", `{"readings": "18", "basis": "dry", "method": "pin meter", "fresh_face": "yes", "temperature": "20 F"}`)
	require.Equal(t, http.StatusUnprocessableEntity, frozen.status)
	assert.Contains(t, frozen.body, `"field":"temperature","code":"frozen"`)
	var sets []any
	require.NoError(t, json.Unmarshal([]byte(d.getJSON(path+"/moisture").body), &sets))
	assert.Len(t, sets, 1)
}

// The planning pages read quantities as the shop's rules of sale take them.
func TestPlanningGoesByTheShopsRules(t *testing.T) {
	d := withShop(t)
	sellUnder(t, d, "minnesota")
	for _, path := range []string{"/storage", "/trips"} {
		asked := d.get(path).fill("How much", "1 cord")
		require.Equal(t, 1, asked.form.Find("button.main").Length(), path)
		got := asked.press(strings.TrimSpace(asked.form.Find("button.main").Text()))
		require.Equal(t, http.StatusUnprocessableEntity, got.status, path)
		assert.Contains(t, got.text(), "How is the wood prepared?", path)
	}
	assert.Contains(t, d.get("/wood?species=red+oak&quantity=1+cord&moisture=20&basis=dry").text(), "How is the wood prepared?")
	assert.NotContains(t, d.get("/wood?species=red+oak&quantity=1+cord+sawed&moisture=20&basis=dry").text(), "How is the wood prepared?")
}
