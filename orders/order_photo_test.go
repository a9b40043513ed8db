package orders_test

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
)

func (y *sellerYard) photograph(orderID string, r photos.Request) photos.Kept {
	y.t.Helper()
	k, err := y.Photos.Keep(y.ctx, y.act(), orderID, r)
	require.NoError(y.t, err)
	return k
}

func (y *sellerYard) photosOf(orderID string) []photos.Kept {
	y.t.Helper()
	all, err := y.Photos.Of(y.ctx, driver, orderID)
	require.NoError(y.t, err)
	return all
}

// A photo of the load comes back as it was sent; the next measurement sheet names it under
// its hash, and the one after that doesn’t.
func TestTheNextSheetNamesThePhotosOfAnOrder(t *testing.T) {
	y := newYard(t)
	id := y.take(goodOrder()).ID
	original := withExif(picture(t, "jpeg", 64, 32), 6)
	k, err := y.Photos.Keep(y.ctx, act.Act{Actor: driver, Request: newRequest()}, id, photos.Request{Name: "load.jpg", Shows: "load", Of: "before it was tipped", Bytes: original})
	require.NoError(t, err)
	assert.Equal(t, photos.OfLoad, k.Shows)
	assert.Equal(t, "before it was tipped", k.Of)
	assert.Equal(t, driver.Person, k.By)
	_, back, err := y.Photos.Show(y.ctx, owner, id, k.ID, true)
	require.NoError(t, err)
	assert.Equal(t, original, back)

	first := y.measure(id)
	assert.Equal(t, []photos.Fact{{Shows: photos.OfLoad, SHA256: ledger.Hash(original), Width: 64, Height: 32,
		Taken: time.Date(2026, 3, 8, 20, 20, 5, 0, time.UTC), FromCamera: true, TakenLocal: true}}, first.Sheet.Photos)
	assert.NotContains(t, string(first.Bytes), "tipped", "words about it may name somebody, and are not under the hash")
	assert.Equal(t, first.Sheet.Number, y.photosOf(id)[0].Sheet)
	assert.Empty(t, y.measure(id).Sheet.Photos)
	y.noFaults()

	err = y.Photos.Drop(y.ctx, y.act(), id, k.ID)
	requireKind(t, act.Conflict, err)
	assert.Contains(t, err.Error(), "measurement sheet 1 names this photo")
}

func TestAPhotoThatNoSheetNamesCanBeDropped(t *testing.T) {
	y := newYard(t)
	id := y.take(goodOrder()).ID
	k := y.photograph(id, photos.Request{Name: "a.png", Shows: "ticket", Bytes: picture(t, "png", 8, 8)})
	requireKind(t, act.Forbidden, y.Photos.Drop(y.ctx, act.Act{Actor: driver, Request: newRequest()}, id, k.ID))
	require.NoError(t, y.Photos.Drop(y.ctx, y.act(), id, k.ID))
	require.Empty(t, y.photosOf(id))
	_, _, err := y.Photos.Show(y.ctx, owner, id, k.ID, true)
	requireKind(t, act.NotFound, err)
	y.noFaults()
}

func TestPhotosOfAnOrderThatAreRefused(t *testing.T) {
	y := newYard(t)
	id := y.take(goodOrder()).ID
	png := picture(t, "png", 8, 8)
	y.photograph(id, photos.Request{Shows: "stack", Bytes: png})
	for name, row := range map[string]struct {
		r    photos.Request
		want map[string]string
	}{
		"the same":         {photos.Request{Shows: "load", Bytes: png}, map[string]string{"photo": "twice"}},
		"nothing said":     {photos.Request{Bytes: picture(t, "png", 9, 9)}, map[string]string{"shows": "missing"}},
		"another kind":     {photos.Request{Shows: "dog", Bytes: picture(t, "png", 9, 9)}, map[string]string{"shows": "unknown"}},
		"no photo":         {photos.Request{Shows: "stack"}, map[string]string{"photo": "missing"}},
		"a phone’s format": {photos.Request{Shows: "stack", Bytes: []byte("\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00heic")}, map[string]string{"photo": "heic"}},
	} {
		_, err := y.Photos.Keep(y.ctx, y.act(), id, row.r)
		assert.Equal(t, row.want, faults(t, err), name)
	}
	_, err := y.Photos.Keep(y.ctx, y.act(), newRequest(), photos.Request{Shows: "stack", Bytes: png})
	requireKind(t, act.NotFound, err)
	require.Len(t, y.photosOf(id), 1)
}

// With the names of an order its photos go; the sheet still says that there were some, and
// under which hash.
func TestPhotosGoWithTheNames(t *testing.T) {
	y := newYard(t)
	id := y.take(goodOrder()).ID
	y.photograph(id, photos.Request{Shows: "stack", Of: "by the barn", Bytes: picture(t, "png", 8, 8)})
	issued, err := y.SaveTally(y.ctx, y.act(), id, orders.TallyRequest{Document: cordTally()})
	require.NoError(t, err)
	y.deliver(id, orders.LoadRequest{})
	y.pay(id, orders.PaymentRequest{Amount: "305", Method: "cash"})
	y.now = y.now.AddDate(3, 0, 0)
	y.eraseAll(act.FormatNumber(int64(y.erasurePlan().Count())))
	require.Empty(t, y.photosOf(id))
	sheet, err := y.Sheet(y.ctx, owner, issued.Sheet.Number)
	require.NoError(t, err)
	require.Len(t, sheet.Sheet.Photos, 1)
	y.noFaults()
	_, err = y.Photos.Keep(y.ctx, y.act(), id, photos.Request{Shows: "stack", Bytes: picture(t, "png", 8, 8)})
	requireKind(t, act.Conflict, err)
}

// Kinds are those that a photo may be of, each once.
func TestEveryKindOfPhotoIsTaken(t *testing.T) {
	y := newYard(t)
	id := y.take(goodOrder()).ID
	for i, kind := range photos.Kinds() {
		y.photograph(id, photos.Request{Shows: string(kind), Bytes: picture(t, "png", 8+i, 8)})
	}
	var shown []photos.Kind
	for _, k := range y.photosOf(id) {
		shown = append(shown, k.Shows)
	}
	slices.Sort(shown)
	require.Equal(t, slices.Sorted(slices.Values(photos.Kinds())), shown)
}
