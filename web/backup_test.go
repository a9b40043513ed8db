package web_test

import (
	"context"
	"errors"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// The board is silent about a fresh backup, and says to the owner in plain words when
// there is none or the last is old.
func TestTheBoardSaysWhenABackupIsOld(t *testing.T) {
	d := withShop(t)
	assert.NotContains(t, d.get("/").text(), "backup", "there is nothing to lose yet")
	d.takeFor("Ada Moss", "1 cord", "today")
	assert.Contains(t, d.get("/").text(), "There is no backup of this shop yet.")
	require.NoError(t, d.service.BackupMade(t.Context(), ownerHere, orders.Backup{At: testClock(), Path: "/stick/shop.db", By: "owner"}))
	assert.NotContains(t, d.get("/").text(), "backup")
	d.restart(func() time.Time { return testClock().Add(9 * 24 * time.Hour) })
	assert.Contains(t, d.get("/").text(), "The last backup is 9 days old.")
	page := d.get("/shop/backups")
	assert.Contains(t, page.text(), "/stick/shop.db")
	assert.Contains(t, page.text(), "serve --backup-to FOLDER")
	assert.Contains(t, d.getJSON("/shop/backups").body, `"path":"/stick/shop.db"`)
}

var ownerHere = act.Actor{Person: "owner", Role: act.Owner}

// With a folder to go to, a backup is made from the page; why one can't be made is said
// there and on the board until one is.
func TestABackupIsMadeFromThePage(t *testing.T) {
	d := withShop(t)
	d.takeFor("Ada Moss", "1 cord", "today")
	full := true
	d.server = d.serverOf(testClock, nil, orders.BackedUp(6*time.Hour, func(ctx context.Context, by string) error {
		if full {
			return errors.New("no space is left on the stick")
		}
		return d.service.BackupMade(ctx, ownerHere, orders.Backup{At: testClock(), Path: "/stick/shop.db", By: by})
	}))
	require.Equal(t, http.StatusSeeOther, d.get("/shop/backups").press("Back up now").status)
	for _, page := range []string{"/", "/shop/backups"} {
		assert.Contains(t, d.get(page).text(), "The last backup could not be made: no space is left on the stick")
	}
	full = false
	require.Equal(t, http.StatusSeeOther, d.get("/shop/backups").press("Back up now").status)
	assert.Contains(t, d.get("/shop/backups").text(), "There is a fresh backup, and it was read back whole.")
	assert.NotContains(t, d.get("/").text(), "backup")
	late := d.serverOf(func() time.Time { return testClock().Add(14 * time.Hour) }, nil, orders.BackedUp(6*time.Hour, nil))
	d.server = late
	assert.Contains(t, d.get("/").text(), "The last backup is 14 hours old, and one should have been made since.")
}
