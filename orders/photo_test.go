package orders_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/audits"
)

// shown is the copy that is shown of a photo, decoded.
func (y *sellerYard) shown(auditID string, photo []byte) image.Image {
	y.t.Helper()
	a, err := y.AddPhoto(y.ctx, y.auditing(), auditID, audits.PhotoRequest{Name: "stack", Of: "the stack", Bytes: photo})
	require.NoError(y.t, err)
	_, copied, err := y.AuditPhoto(y.ctx, auditor, auditID, a.Photos[len(a.Photos)-1].ID, false)
	require.NoError(y.t, err)
	img, err := jpeg.Decode(bytes.NewReader(copied))
	require.NoError(y.t, err)
	return img
}

// at is how far a pixel of a shown copy is from a colour: the largest difference of its
// three parts, 0 to 255.
func at(img image.Image, x, y int, want color.RGBA) int {
	r, g, b, _ := img.At(x, y).RGBA()
	far := func(a uint32, b uint8) int { return max(int(a>>8)-int(b), int(b)-int(a>>8)) }
	return max(far(r, want.R), far(g, want.G), far(b, want.B))
}

// sides are the sides of the upright picture that the stored picture's first row and
// first column are at, by the value of Exif's Orientation (TIFF 6.0, 1992, tag 274).
func sides(held uint16) (row, column string) {
	both := map[uint16][2]string{
		1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
		5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"},
	}[held]
	return both[0], both[1]
}

// Of a photo held in any of the eight ways, every pixel is shown where the one who took
// it saw it.
func TestPhotosAreShownUprightPixelByPixel(t *testing.T) {
	t.Parallel()
	const w, h = 24, 16 // stored
	stored := image.NewRGBA(image.Rect(0, 0, w, h))
	colour := func(x, y int) color.RGBA { return color.RGBA{uint8(10 * x), uint8(15 * y), 128, 255} }
	for x := range w {
		for y := range h {
			stored.Set(x, y, colour(x, y))
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, stored, &jpeg.Options{Quality: 100}))
	y := newYard(t)
	audit := y.audited()
	for held := uint16(1); held <= 8; held++ {
		img := y.shown(audit.ID, withExif(b.Bytes(), held))
		wide, high := img.Bounds().Dx(), img.Bounds().Dy()
		row, column := sides(held)
		require.Equal(t, row == "left" || row == "right", wide == h && high == w, "held %d: %d by %d", held, wide, high)
		for r := range h {
			for c := range w {
				at1 := image.Point{}
				for side, n := range map[string]int{row: r, column: c} {
					switch side {
					case "top":
						at1.Y = n
					case "bottom":
						at1.Y = high - 1 - n
					case "left":
						at1.X = n
					case "right":
						at1.X = wide - 1 - n
					}
				}
				if far := at(img, at1.X, at1.Y, colour(c, r)); far > 24 {
					t.Fatalf("held %d: row %d, column %d of the photo is shown %d off at %v", held, r, c, far, at1)
				}
			}
		}
	}
}

// What is transparent is shown white, and a large photo small, in its proportions.
func TestLargeAndTransparentPhotosAreShown(t *testing.T) {
	t.Parallel()
	y := newYard(t)
	audit := y.audited()
	for _, row := range []struct{ w, h, wantW, wantH int }{{1600, 12, 1600, 12}, {1601, 800, 1600, 799}, {3200, 1000, 1600, 500}, {500, 4000, 200, 1600}, {4000, 1, 1600, 1}} {
		half := image.NewNRGBA(image.Rect(0, 0, row.w, row.h)) // its left half is red, the rest is not there
		for x := range row.w / 2 {
			for y := range row.h {
				half.Set(x, y, color.NRGBA{200, 0, 0, 255})
			}
		}
		var b bytes.Buffer
		require.NoError(t, png.Encode(&b, half))
		img := y.shown(audit.ID, b.Bytes())
		name := fmt.Sprintf("%d by %d", row.w, row.h)
		require.Equal(t, image.Pt(row.wantW, row.wantH), img.Bounds().Size(), name)
		require.Less(t, at(img, row.wantW/4, row.wantH/2, color.RGBA{200, 0, 0, 255}), 24, name)
		require.Less(t, at(img, row.wantW*3/4, row.wantH/2, color.RGBA{255, 255, 255, 255}), 24, name)
	}
}
