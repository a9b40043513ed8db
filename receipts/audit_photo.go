package receipts

import (
	"bytes"
	"image/jpeg"
	"strconv"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

// The room a photo has on the page, two beside each other, in millimetres.
const (
	photoHeight = 62.0
	photoGap    = 6.0
)

// photos are the pictures two by two, each with what it shows, when it was taken and
// the hash of its original.
func (a *auditPaper) photos() {
	if len(a.pictures) == 0 {
		return
	}
	a.heading(a.print.Heading("Photos"), photoHeight+6*noteFace().lead())
	width := (a.inner() - photoGap) / 2
	for from := 0; from < len(a.pictures); from += 2 {
		pair := a.pictures[from:min(from+2, len(a.pictures))]
		captions, shown := make([]column, len(pair)), make([]shownPhoto, len(pair))
		high := 0.0
		for i, p := range pair {
			captions[i] = column{x: a.left() + float64(i)*(width+photoGap), lines: a.caption(from+i+1, p.Photo, width)}
			shown[i] = a.photo(from+i, p.JPEG, width)
			high = max(high, shown[i].height)
		}
		a.need(min(high+highest(captions)+4, a.bottom()-marginTop))
		for i, s := range shown {
			a.show(s, captions[i].x, a.y+high)
		}
		a.y += high + 1
		a.columns(captions...)
		a.gap(3)
	}
}

func (a *auditPaper) caption(n int, p audits.Photo, width float64) []written {
	lines := a.lines(labelFace(), width, a.print.Say(measure.Say("Photo %d: %s", n, a.print.Said(p.Of))))
	return append(lines, a.lines(noteFace(), width,
		a.print.PhotoTaken(p, a.r.Zone),
		a.print.Say(measure.Say("Added by %s, %s.", p.By, a.print.Time(p.Added, a.r.Zone))),
		a.print.Field("SHA-256 of the original", p.SHA256))...)
}

// A shownPhoto is a picture with the size it has on paper, in millimetres; without a
// name it can't be painted.
type shownPhoto struct {
	name          string
	width, height float64
}

// photo makes a picture as large as its room allows.
func (a *auditPaper) photo(n int, data []byte, width float64) shownPhoto {
	config, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil || config.Width == 0 || config.Height == 0 {
		if a.faults == nil {
			a.faults = badPicture(n)
		}
		return shownPhoto{}
	}
	s := shownPhoto{"photo-" + strconv.Itoa(n), width, width * float64(config.Height) / float64(config.Width)}
	if s.height > photoHeight {
		s.width, s.height = photoHeight*float64(config.Width)/float64(config.Height), photoHeight
	}
	a.pdf.RegisterImageOptionsReader(s.name, jpegPhoto(), bytes.NewReader(data))
	return s
}

func jpegPhoto() gofpdf.ImageOptions { return gofpdf.ImageOptions{ImageType: "JPEG"} }

// show paints a picture standing on a line.
func (a *auditPaper) show(s shownPhoto, x, foot float64) {
	if s.name == "" || a.dry {
		return
	}
	a.pdf.ImageOptions(s.name, x, foot-s.height, s.width, s.height, false, jpegPhoto(), 0, "")
	a.frame(x, foot-s.height, s.width, s.height, hairline)
}

func badPicture(n int) error {
	return &act.Error{Kind: act.Invalid, Message: measure.Say("Photo %d can’t be printed.", n+1),
		Fields: []*measure.InputError{{Field: "photos[" + strconv.Itoa(n) + "]", Code: "unreadable",
			Reason: measure.Say("its copy is no JPEG picture"), Accepts: measure.Say("a JPEG picture")}}}
}
