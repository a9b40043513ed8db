package receipts

import (
	"bytes"
	"image/jpeg"
	"strconv"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
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
func (w *paper) sheetPhotos(s orders.Sheet) {
	all := make([]captioned, len(s.Photos))
	for i, p := range s.Photos {
		if i < len(s.Pictures) {
			all[i].jpeg = s.Pictures[i]
		}
		all[i].caption = func(width float64) []written {
			return append(w.lines(labelFace(), width, w.print.PhotoShows(i+1, p.Shows)), w.lines(noteFace(), width,
				w.print.PhotoTaken(photos.Photo{Taken: p.Taken, FromCamera: p.FromCamera, TakenLocal: p.TakenLocal}, s.Zone),
				w.print.Say(measure.Say("%d × %d pixels", p.Width, p.Height)),
				w.print.Field("SHA-256 of the original", p.SHA256))...)
		}
	}
	if len(all) > 0 {
		w.turn()
	}
	w.photos(all)
}

// A shownPhoto is a picture with the size it has on paper, in millimetres; without a
// name it can't be painted.
type shownPhoto struct {
	name          string
	width, height float64
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
	s := shownPhoto{"photo-" + strconv.Itoa(n), width, width * float64(config.Height) / float64(config.Width)}
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
}

func badPicture(n int) error {
	return &act.Error{Kind: act.Invalid, Message: measure.Say("Photo %d can’t be printed.", n+1),
		Fields: []*measure.InputError{{Field: "photos[" + strconv.Itoa(n) + "]", Code: "unreadable",
			Reason: measure.Say("its copy is no JPEG picture"), Accepts: measure.Say("a JPEG picture")}}}
}
