package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whether wood can be promised is told on a page of its own, and with what is read back.
func TestWhetherWoodCanBePromised(t *testing.T) {
	d := withShop(t)
	assert.Contains(t, d.get("/promise").text(), "No batch of wood is kept")
	b := d.get("/batches/new").fill("Name of the batch", "June oak").fill("Species", "red oak").fill("How much", "3 cords").fill("Split on", "2026-06-01")
	require.Equal(t, http.StatusSeeOther, b.press("Keep this batch").status)
	p := d.get("/promise?quantity=2+cords+oak&day=")
	assert.Contains(t, p.text(), "Yes, from June oak: 1 cord left after it.")
	assert.Equal(t, 1, p.doc.Find("figure svg").Length())
	assert.Contains(t, d.get("/promise?quantity=4+cords+oak").text(), "1 cord short: 3 cords of such wood is free.")
	soon := d.get("/promise?quantity=2+cords+seasoned+oak&day=tomorrow")
	assert.Contains(t, soon.text(), "Not before ")
	wrong := d.get("/promise?quantity=lots&day=sometime")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.Equal(t, "lots", wrong.doc.Find("#quantity").AttrOr("value", ""), "what was typed is kept")

	o := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "5 cords").fill("Species", "red oak").fill("Price per cord", "280").press("Read it back")
	assert.Contains(t, o.text(), "2 cords short: 3 cords of such wood is free.")
	assert.Contains(t, o.text(), "would be promised twice")
	taken := o.press("Take the order, $1,400.00")
	require.Equal(t, http.StatusSeeOther, taken.status, "asked about, never refused")
	assert.Contains(t, d.get("/promise").text(), "5 cords (640 ft³), red oak no day yet")
}

func TestPromisesFitAPhone(t *testing.T) {
	d := withShop(t)
	require.Equal(t, http.StatusSeeOther, d.get("/batches/new").fill("Name of the batch", "June oak").fill("Species", "red oak").fill("How much", "3 cords").fill("Split on", "2026-06-01").press("Keep this batch").status)
	p := newPhone(t, d)
	p.open("/promise?quantity=2+cords+seasoned+oak&day=tomorrow")
	p.shot("promise")
	p.fits()
}

// Wood of a batch is set aside on the order's page, and the delivery begins with that batch.
func TestWoodIsSetAsideOnTheOrdersPage(t *testing.T) {
	d := withShop(t)
	require.Equal(t, http.StatusSeeOther, d.get("/batches/new").fill("Name of the batch", "June oak").fill("Species", "red oak").fill("How much", "3 cords").press("Keep this batch").status)
	order := d.takeOrder("1 cord")
	page := d.get(order)
	form := page.doc.Find(`form[action="` + order + `/aside"]`)
	require.Equal(t, 1, form.Length())
	batch := form.Find("option").Last().AttrOr("value", "")
	aside := d.postJSON(order+"/aside", `{"batch": "`+batch+`", "version": `+form.Find("[name=version]").AttrOr("value", "")+`}`)
	require.Equal(t, http.StatusOK, aside.status, aside.body)
	assert.Contains(t, d.get(order).text(), "Set aside")
	assert.Contains(t, d.get("/promise").text(), "set aside")
	assert.Equal(t, batch, d.get(order+"/deliver").doc.Find(`[name=batch] option[selected], [name=batch][checked]`).AttrOr("value", ""))
}
