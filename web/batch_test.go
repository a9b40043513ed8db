package web_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// putUp writes down a batch through its page and gives its path.
func (d *desk) putUp(name, quantity string) string {
	d.t.Helper()
	p := d.get("/batches/new").fill("Name of the batch", name).fill("Species", "red oak").fill("How much", quantity).
		fill("Cut on", "2025-01-12").fill("Split on", "2025-04-20").fill("Cut in", "Slate County, New York").press("Keep this batch")
	require.Equal(d.t, http.StatusSeeOther, p.status, p.body)
	path, _, _ := strings.Cut(p.header.Get("Location"), "?")
	return path
}

// readBatch reads moisture on a batch.
func (d *desk) readBatch(path, readings string) *answer {
	d.t.Helper()
	p := d.get(path+"/moisture").fill("Readings", readings).choose("Dry basis, as pin meters read").choose("Pin meter").
		choose("On freshly split faces, in the middle").fill("Temperature of the wood", "60 F").fill("Name of who reads", "Wren Okafor").press("Save the readings")
	require.Equal(d.t, http.StatusSeeOther, p.status, p.body)
	return p.follow()
}

// choosing takes the choice whose label begins so.
func (a *answer) choosing(begins string) *answer {
	a.d.t.Helper()
	found := 0
	for _, label := range a.doc.Find("label.check").EachIter() {
		if strings.HasPrefix(strings.TrimSpace(label.Text()), begins) {
			box := label.Find("input")
			a.values.Set(box.AttrOr("name", ""), box.AttrOr("value", ""))
			found++
		}
	}
	require.Equal(a.d.t, 1, found, "choices that begin with %q", begins)
	return a
}

// From the batch to the receipt: what is left, what was read, and what the receipt
// rests on.
func TestALoadIsDrawnFromABatch(t *testing.T) {
	d := withShop(t)
	assert.Contains(t, d.get("/batches").text(), "No batch recorded yet.")
	batch := d.putUp("north bay", "2 cords")
	assert.Equal(t, 1, d.get("/").doc.Find(`a[href="/batches"]`).Length(), "the list of orders leads there")
	assert.Contains(t, d.get("/batches").text(), "2 cords (256 ft³) left north bay: red oak, 16 in pieces Moisture not read. Dry by about")
	assert.Contains(t, d.readBatch(batch, "16\n17\n16\n15\n17").text(), "At or below 20 % dry basis")

	order := d.takeOrder("1 1/2 cords")
	page := d.get(order + "/deliver")
	assert.Contains(t, page.text(), "north bay: 2 cords (256 ft³) left. red oak. Read on 20 November 2026: mean 16.2 % dry basis.")
	receipt := page.choosing("north bay").press("Make the receipt").follow()
	require.Equal(t, http.StatusOK, receipt.status, receipt.body)
	for _, want := range []string{
		"From batchnorth bay; cut: 12 January 2025; split: 20 April 2025", "Cut inSlate County, New York",
		"measured on the batch: mean 16.2 % dry basis (at most 19 % dry basis, the meter ±2.0 points), pin meter, 5 pieces, by Wren Okafor, 20 November 2026",
	} {
		assert.Contains(t, receipt.text(), want)
	}
	assert.NotContains(t, receipt.text(), "not measured")
	assert.Contains(t, d.get(order).text(), "Drawn from batch north bay")
	shown := d.get(batch)
	assert.Contains(t, shown.text(), "1/2 cord (64 ft³) left")
	assert.Contains(t, shown.text(), "receipt 1, order 1")

	more := d.get(d.takeOrder("1 cord") + "/deliver").choosing("north bay").press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, more.status)
	assert.Contains(t, more.doc.Find("#batch .fault").Text(), "The load is 1 cord (128 ft³), and 1/2 cord (64 ft³) is left of north bay")
	sellUnder(t, d, "maine") // which knows loose wood
	assert.NotContains(t, d.get(d.takeOrder("180 cu ft loose")+"/deliver").text(), "north bay:", "it is stacked wood")

	var asked struct {
		Left struct {
			Basis string `json:"basis"`
		} `json:"left"`
		Loads  []struct{ Receipt int }
		Drying struct{ Measured bool }
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON(batch).body), &asked))
	assert.Equal(t, "ranked", asked.Left.Basis)
	assert.Len(t, asked.Loads, 1)
	assert.True(t, asked.Drying.Measured)
}

// Nothing is silent: wood stated seasoned that was read to be wet is asked about.
func TestWetWoodStatedSeasonedNeedsAYes(t *testing.T) {
	d := withShop(t)
	batch := d.putUp("north bay", "2 cords")
	d.readBatch(batch, "27\n28\n29\n28\n28")
	asked := d.get(d.takeOrder("1 cord") + "/deliver").choosing("north bay").press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.text(), "The receipt states seasoned, and readings of 20 November 2026 show the wood wetter than 20 % dry basis: mean 28 % dry basis.")
	assert.Equal(t, http.StatusUnprocessableEntity, asked.press("Make the receipt").status, "without a yes it asks again")
	receipt := asked.choose("Yes, I have read this; make the receipt all the same").press("Make the receipt").follow()
	require.Equal(t, http.StatusOK, receipt.status, receipt.body)
	assert.Contains(t, receipt.text(), "seasoned (stated by seller)")
	assert.Contains(t, receipt.text(), "measured on the batch: mean 28 % dry basis")
}

func TestABatchIsCountedCorrectedAndUsedUp(t *testing.T) {
	d := withShop(t)
	batch := d.putUp("north bay", "2 cords")
	page := d.get(batch)
	wrong := page.fill("What lies there now", "50 cu ft loose").fill("Why", "a row was missed").press("Save the count")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.Equal(t, "50 cu ft loose", wrong.labelled("What lies there now").AttrOr("value", ""))
	counted := wrong.fill("What lies there now", "2 1/2 cords").fill("Counted by", "Wren").press("Save the count").follow()
	assert.Contains(t, counted.text(), "2 1/2 cords (320 ft³) left")
	assert.Contains(t, counted.text(), "Counted again: 2 1/2 cords (320 ft³) left")

	form := d.get(batch + "/edit")
	stale := d.get(batch+"/edit").fill("Split on", "2025-06-01").fill("Why", "diary")
	none := form.press("Save the correction")
	require.Equal(t, http.StatusUnprocessableEntity, none.status)
	assert.Equal(t, "Name of the batch", none.doc.Find(`#faults a[href="#name"]`).Text())
	fixed := form.fill("Split on", "2025-05-01").fill("Why", "found in the diary").press("Save the correction").follow()
	assert.Contains(t, fixed.text(), "Split: was 20 April 2025, is 1 May 2025")
	late := stale.press("Save the correction")
	require.Equal(t, http.StatusConflict, late.status)
	assert.Contains(t, late.text(), "Saved meanwhile: 2025-05-01")

	last := d.get(batch)
	last.form = last.doc.Find(`form[action$="/end"]`)
	last.values = formValues(last.form)
	gone := last.fill("What became of the rest", "the rest was bark").press("Mark north bay as used up").follow()
	assert.Contains(t, gone.text(), "Used up")
	assert.Zero(t, gone.doc.Find(`form[action$="/end"]`).Length())
	assert.NotContains(t, d.get(d.takeOrder("1 cord")+"/deliver").text(), "north bay")
	assert.Equal(t, http.StatusNotFound, d.get("/batches/none").status)
}
