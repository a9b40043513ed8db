package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The shop prints a page of labels; what is wrong is said at its field and nothing is lost.
func TestLabelsForPackages(t *testing.T) {
	d := withShop(t)
	require.Equal(t, 1, d.get("/shop").doc.Find(`a[href="/labels"]`).Length())
	form := d.get("/labels")
	assert.Contains(t, form.text(), "at least 1/4 inch high")
	labels := d.get("/labels?identity=Firewood%2C+split+red+oak&quantity=0.75+cu+ft&price=7.50&origin=")
	require.Equal(t, http.StatusOK, labels.status, labels.body)
	assert.Equal(t, "application/pdf", labels.header.Get("Content-Type"))
	assert.JSONEq(t, `{"what":"Firewood, split red oak","quantity":"0.75 ft³","also":"21.2 L","price":"$7.50 ($10.00 per ft³)",
		"packer":"Packed by Alder Lane Firewood, 4 Alder Lane, Hartwell"}`, d.getJSON("/labels?identity=Firewood%2C+split+red+oak&quantity=0.75+cu+ft&price=7.50").body)

	wrong := d.get("/labels?identity=a+truckload+of+oak&quantity=96&price=x")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	for _, field := range []string{"identity", "quantity", "price"} {
		assert.Equal(t, 1, wrong.doc.Find(`.faults a[href="#`+field+`"]`).Length(), field)
	}
	assert.Equal(t, "96", wrong.values.Get("quantity"), "what was typed is kept")
	for _, quantity := range []string{"", "2+cords", "0.01+L", "-1+L"} {
		assert.Equal(t, http.StatusUnprocessableEntity, d.get("/labels?identity=Oak&quantity="+quantity).status, quantity)
	}
	sellUnder(t, d, "minnesota")
	assert.Equal(t, 1, d.get("/labels?identity=Oak&quantity=0.75+cu+ft").doc.Find(`.faults a[href="#origin"]`).Length(), "the county and state are asked for")
	sellUnder(t, d, "canada")
	assert.Contains(t, d.getJSON("/labels?identity=Oak&quantity=21.5+dm3").body, `"quantity":"21.5 dm³"`)
}
