package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A body is taped once; from then on one tap puts in what it holds, and the next makes
// the receipt.
func TestFillingToTheLineIsOneTap(t *testing.T) {
	d := withShop(t)
	p := d.get("/bodies").fill("Truck or trailer", "red truck").fill("Line", "lower board").choose("Ranked, as in a stack").
		fill("Length inside", "8").fill("Width inside", "4").fill("Floor to the line", "24").fill("Taped by", "Odell").press("Keep this bed")
	require.Equal(t, http.StatusSeeOther, p.status, p.body)
	assert.Contains(t, d.get("/bodies").text(), "1/2 cord (64 ft³) red truck, lower board")

	path := d.takeOrder("1 cord")
	form := d.get(path + "/deliver")
	receipt := form.press("red truck, lower board: 1/2 cord (64 ft³)").press("Make the receipt").follow()
	require.Equal(t, http.StatusOK, receipt.status, receipt.body)
	assert.Contains(t, receipt.text(), "1/2 cord (64 ft³) delivered")
	assert.Contains(t, receipt.text(), "Filled to the line “lower board” of the red truck, taped on 20 November 2026 by Odell.")
	assert.Contains(t, d.get(path).text(), "Still to bring: 1/2 cord")

	load := d.get("/measure?kind=load")
	filled := d.get(load.doc.Find(`a:contains("red truck, lower board")`).AttrOr("href", "")).fill("Sold", "1/2 cord").press("Show the answer")
	require.Equal(t, http.StatusOK, filled.status, filled.body)
	assert.Contains(t, filled.text(), "64 ft³ here")

	require.Equal(t, http.StatusSeeOther, d.get("/bodies").press("Take red truck out of use").status)
	wide := d.get("/bodies").fill("Truck or trailer", "wide truck").fill("Line", "lower board").choose("Ranked, as in a stack").
		fill("Length inside", "8").fill("Width inside", "5").fill("Floor to the line", "24").fill("Taped by", "Odell").press("Keep this bed")
	require.Equal(t, http.StatusSeeOther, wide.status, wide.body)
	assert.Contains(t, d.get("/bodies").text(), "5/8 cord (80 ft³) wide truck, lower board")
	rows := d.get(path + "/deliver").press("wide truck, lower board: 1/2 cord (64 ft³)")
	assert.Equal(t, "1/2 cord", rows.labelled("Delivered").AttrOr("value", ""), "three rows of 16 in pieces are 4 ft, and the foot of air beside them isn't wood")

	sellUnder(t, d, "maine") // which knows loose wood
	loose := d.takeOrder("180 cu ft loose")
	assert.NotContains(t, d.get(loose+"/deliver").text(), "wide truck", "it holds ranked wood")

	assert.NotContains(t, d.get(path+"/deliver").text(), "red truck")
	gone := form.press("red truck, lower board: 1/2 cord (64 ft³)")
	assert.NotEqual(t, http.StatusOK, gone.status)
}

func TestAWrongBodyIsShownAgainAsTyped(t *testing.T) {
	d := withShop(t)
	empty := d.get("/bodies").press("Keep this bed")
	require.Equal(t, http.StatusUnprocessableEntity, empty.status)
	for _, says := range []string{"Truck or trailer", "Line", "How the wood lies in it", "Length inside", "Floor to the line"} {
		assert.Contains(t, empty.doc.Find(".faults").Text()+empty.text(), says)
	}
	for _, wrong := range []string{"abc", "-4", "1e309", "9999 ft", "0"} {
		p := d.get("/bodies").fill("Truck or trailer", "red truck").fill("Line", "lower board").choose("Thrown in").
			fill("Length inside", wrong).fill("Width inside", "5").fill("Floor to the line", "20").press("Keep this bed")
		require.Equal(t, http.StatusUnprocessableEntity, p.status, wrong)
		assert.Equal(t, wrong, p.labelled("Length inside").AttrOr("value", ""))
		assert.Equal(t, "true", p.labelled("Length inside").AttrOr("aria-invalid", ""), wrong)
	}
}
