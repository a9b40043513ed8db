package receipts

import (
	"bytes"
	"image/jpeg"
	"strconv"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
	seen "wellstowed/measure/face"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
)

// The room a photo has on the page, two beside each other, in millimetres.
const (
	photoHeight = 62.0
	photoGap    = 6.0
)

// A captioned photo is a JPEG with the lines under it, wrapped to a width; one without a
// picture has its lines only.
type captioned struct {
	jpeg    []byte
	caption func(width float64) []written
	tapped  []*stack.RowPhoto // rows that were read from it
}

// photos are pictures two by two under their heading, each with its caption.
func (w *paper) photos(all []captioned) {
	if len(all) == 0 {
		return
	}
	w.heading(w.print.Heading("Photos"), photoHeight+6*noteFace().lead())
	width := (w.inner() - photoGap) / 2
	for from := 0; from < len(all); from += 2 {
		pair := all[from:min(from+2, len(all))]
		captions, shown := make([]column, len(pair)), make([]shownPhoto, len(pair))
		high := 0.0
		for i, p := range pair {
			captions[i] = column{x: w.left() + float64(i)*(width+photoGap), lines: p.caption(width)}
			shown[i] = w.photo(from+i, p.jpeg, width)
			shown[i].tapped = p.tapped
			high = max(high, shown[i].height)
		}
		w.need(min(high+highest(captions)+4, w.bottom()-marginTop))
		for i, s := range shown {
			w.show(s, captions[i].x, w.y+high)
		}
		w.y += high + 1
		w.columns(captions...)
		w.gap(3)
	}
}

// sheetPhotos are the photos that a sheet names, on a page of their own; where the names were
// erased, what is known of them.
func (w *paper) sheetPhotos(s orders.Sheet, t stack.Tally) {
	all := make([]captioned, len(s.Photos))
	for i, p := range s.Photos {
		rows, tapped := tappedIn(t, p.SHA256)
		all[i].tapped = tapped
		if i < len(s.Pictures) {
			all[i].jpeg = s.Pictures[i]
		}
		all[i].caption = func(width float64) []written {
			lines := append(w.lines(labelFace(), width, w.print.PhotoShows(i+1, p.Shows)), w.lines(noteFace(), width,
				w.print.PhotoTaken(photos.Photo{Taken: p.Taken, FromCamera: p.FromCamera, TakenLocal: p.TakenLocal}, s.Zone),
				w.print.Say(measure.Say("%d × %d pixels", p.Width, p.Height)),
				w.print.Field("SHA-256 of the original", p.SHA256))...)
			for _, n := range rows {
				lines = append(lines, w.lines(noteFace(), width, w.print.Say(measure.Say("Row %d was read from it: its sticks and its outline, as tapped, are drawn over it.", n)))...)
			}
			return lines
		}
	}
	if len(all) > 0 {
		w.turn()
	}
	w.photos(all)
}

// tappedIn are the rows, from 1, that were read from the picture of a hash, and their photos.
func tappedIn(t stack.Tally, sha256 string) (numbers []int, tapped []*stack.RowPhoto) {
	rows, _ := t.Stack.(stack.Rows)
	for i, row := range rows.Rows {
		for _, p := range []*stack.RowPhoto{row.Photo, row.Beside} {
			if p != nil && p.SHA256 == sha256 {
				numbers, tapped = append(numbers, i+1), append(tapped, p)
			}
		}
	}
	return numbers, tapped
}

// A shownPhoto is a picture with the size it has on paper, in millimetres; without a
// name it can't be painted.
type shownPhoto struct {
	name          string
	width, height float64
	tapped        []*stack.RowPhoto
}

// photo makes a picture as large as its room allows; nothing of no bytes.
func (w *paper) photo(n int, data []byte, width float64) shownPhoto {
	if len(data) == 0 {
		return shownPhoto{}
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil || config.Width == 0 || config.Height == 0 {
		if w.faults == nil {
			w.faults = badPicture(n)
		}
		return shownPhoto{}
	}
	s := shownPhoto{name: "photo-" + strconv.Itoa(n), width: width, height: width * float64(config.Height) / float64(config.Width)}
	if s.height > photoHeight {
		s.width, s.height = photoHeight*float64(config.Width)/float64(config.Height), photoHeight
	}
	w.pdf.RegisterImageOptionsReader(s.name, jpegPhoto(), bytes.NewReader(data))
	return s
}

func jpegPhoto() gofpdf.ImageOptions { return gofpdf.ImageOptions{ImageType: "JPEG"} }

// show paints a picture standing on a line.
func (w *paper) show(s shownPhoto, x, foot float64) {
	if s.name == "" || w.dry {
		return
	}
	w.pdf.ImageOptions(s.name, x, foot-s.height, s.width, s.height, false, jpegPhoto(), 0, "")
	w.frame(x, foot-s.height, s.width, s.height, hairline)
	for _, p := range s.tapped {
		w.outlines(p, s, x, foot-s.height)
	}
}

// outlines draws what was tapped over a picture, white under black so that it is seen on any:
// the sticks, the outline of the wood and of its gaps, and a mark at each point. The picture
// is upright, as it was when it was tapped.
func (w *paper) outlines(p *stack.RowPhoto, s shownPhoto, x, top float64) {
	at := func(q seen.Pixel) (float64, float64) {
		return x + q.X/float64(p.Width)*s.width, top + q.Y/float64(p.Height)*s.height
	}
	var lines [][2]seen.Pixel
	for i, r := range p.References {
		for _, other := range p.References[:i] {
			if other.X == r.X {
				lines = append(lines, [2]seen.Pixel{other.Pixel, r.Pixel})
			}
		}
	}
	for _, outline := range append([][]seen.Pixel{p.Outline}, p.Voids...) {
		for i, q := range outline {
			lines = append(lines, [2]seen.Pixel{q, outline[(i+1)%len(outline)]})
		}
	}
	for _, pen := range []struct {
		width float64
		grey  int
	}{{0.9, 255}, {0.35, 0}} {
		w.stroke(pen.width, pen.grey)
		for _, l := range lines {
			x0, y0 := at(l[0])
			x1, y1 := at(l[1])
			w.pdf.Line(x0, y0, x1, y1)
		}
		for _, r := range p.References {
			cx, cy := at(r.Pixel)
			w.pdf.Line(cx-1.5, cy, cx+1.5, cy)
			w.pdf.Line(cx, cy-1.5, cx, cy+1.5)
		}
		for _, q := range p.Outline {
			cx, cy := at(q)
			w.pdf.Rect(cx-0.5, cy-0.5, 1, 1, "D")
		}
	}
	w.stroke(hairline, 0)
}

func badPicture(n int) error {
	return &act.Error{Kind: act.Invalid, Message: measure.Say("Photo %d can’t be printed.", n+1),
		Fields: []*measure.InputError{{Field: "photos[" + strconv.Itoa(n) + "]", Code: "unreadable",
			Reason: measure.Say("its copy is no JPEG picture"), Accepts: measure.Say("a JPEG picture")}}}
}
