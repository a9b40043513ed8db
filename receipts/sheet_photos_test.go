package receipts

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/photos"
)

// The photos that a sheet names stand on a page of their own, each with its hash; where the
// pictures were erased, the page says what there was.
func TestSheetNamesItsPhotos(t *testing.T) {
	s := sampleSheet(t, orders.Letter, shortTally)
	s.Photos = []photos.Fact{
		{Shows: photos.OfLoad, SHA256: strings.Repeat("ab", 32), Width: 4000, Height: 3000, Taken: time.Date(2026, 3, 14, 13, 5, 0, 0, time.UTC), FromCamera: true},
		{Shows: photos.OfTicket, SHA256: strings.Repeat("cd", 32), Width: 90, Height: 160},
		{Shows: photos.OfPlace, SHA256: strings.Repeat("ef", 32), Width: 300, Height: 60},
	}
	s.Pictures = [][]byte{picture(t, 160, 120), picture(t, 90, 160), picture(t, 300, 60)}
	without := s
	without.Photos, without.Pictures = nil, nil
	bare, err := newPainter(t).Sheet(without)
	require.NoError(t, err)
	for name, pictures := range map[string][][]byte{"sheet-photos": s.Pictures, "sheet-photos-erased": nil} {
		s.Pictures = pictures
		pdf, err := newPainter(t).Sheet(s)
		require.NoError(t, err)
		sound(t, pdf)
		look(t, name, pdf)
		require.NotEqual(t, pages(t, bare), pages(t, pdf), "a page of their own")
		text := textOf(t, pdf)
		for _, want := range []string{"Photo 1: The load", "Photo 2: A ticket", "Photo 3: Where it was put", "4000 × 3000 pixels",
			"by the camera’s clock", "When it was taken is not known.", strings.Repeat("ef", 32)[:40]} {
			require.Contains(t, text, want)
		}
	}
	s.Pictures = [][]byte{[]byte("no picture")}
	_, err = newPainter(t).Sheet(s)
	require.Error(t, err)
}

// A row that was read from a photo the sheet names has its sticks and outline drawn over the
// picture, and its face straightened among the readings.
func TestSheetDrawsWhatWasTapped(t *testing.T) {
	doc, err := os.ReadFile("../testdata/example-photo.json")
	require.NoError(t, err)
	hash := strings.Repeat("ab", 32)
	s := sampleSheet(t, orders.Letter, strings.Replace(string(doc), `"plumb"`, `"sha256":"`+hash+`","plumb"`, 1))
	s.Photos = []photos.Fact{{Shows: photos.OfStack, SHA256: hash, Width: 4000, Height: 3000}}
	s.Pictures = [][]byte{picture(t, 400, 300)}
	pdf, err := newPainter(t).Sheet(s)
	require.NoError(t, err)
	sound(t, pdf)
	look(t, "sheet-tapped", pdf)
	require.Contains(t, textOf(t, pdf), "Row 1 was read from it")
	s.Photos[0].SHA256 = strings.Repeat("cd", 32)
	other, err := newPainter(t).Sheet(s)
	require.NoError(t, err)
	require.NotContains(t, textOf(t, other), "was read from it")
}
