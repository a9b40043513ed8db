package web_test

import (
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/witness"
)

// witnessedBy puts a server with a witness in the place of the desk's.
func (d *desk) witnessedBy(file witness.File) {
	d.t.Helper()
	d.server = d.serverOf(testClock, nil, orders.WitnessedBy(file))
}

func TestTheSealToCopyDown(t *testing.T) {
	d := withShop(t)
	assert.Contains(t, d.get("/shop").text(), "The seal to copy down")
	none := d.get("/shop/seal")
	assert.Contains(t, none.text(), "No receipt has been issued yet.")
	assert.Contains(t, none.text(), "None is kept.")
	d.handedOver("1 cord")
	issued, err := d.service.Receipt(t.Context(), act.Actor{Role: act.Owner}, 1)
	require.NoError(t, err)
	assert.Contains(t, d.get("/shop/seal").text(), issued.Seal)
	var got struct {
		Number  int64
		Issued  time.Time
		Seal    string
		Witness bool
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON("/shop/seal").body), &got))
	assert.EqualValues(t, 1, got.Number)
	assert.Equal(t, issued.Seal, got.Seal)
	assert.WithinDuration(t, testClock(), got.Issued, time.Second)
	assert.False(t, got.Witness)
}

// A disk that is out is said where people look, the receipt stands, and once it is in
// again one press writes what is lacking.
func TestAWitnessThatIsOutIsSaid(t *testing.T) {
	d := withShop(t)
	path := filepath.Join(t.TempDir(), "witness.txt")
	file := witness.At(path)
	_, err := file.Begin()
	require.NoError(t, err)
	d.witnessedBy(file)
	assert.Contains(t, d.get("/shop/seal").text(), "Kept. It holds all that was issued.")
	require.NoError(t, os.Rename(path, path+".out"))
	d.handedOver("1 cord")
	for _, page := range []string{"/", "/receipts/1", "/shop/seal"} {
		assert.Contains(t, d.get(page).text(), "The witness file cannot be read or written", page)
	}
	require.NoError(t, os.Rename(path+".out", path))
	p := d.get("/shop/seal")
	assert.Contains(t, p.text(), "lacks what was issued last, from receipt 1 on")
	done := p.press("Write to it now")
	require.Equal(t, http.StatusSeeOther, done.status)
	assert.Contains(t, done.follow().text(), "It holds all that was issued.")
	assert.NotContains(t, d.get("/").text(), "witness file")
}
