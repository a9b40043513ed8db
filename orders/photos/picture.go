package photos

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/draw"
	"image/jpeg"
	_ "image/png" // photos may be PNG
	"slices"
	"strings"
	"time"

	"github.com/bep/imagemeta"
	xdraw "golang.org/x/image/draw"

	"wellstowed/measure"
	"wellstowed/orders/ledger"
)

// Limits of a photo.
const (
	MaxBytes     = 12_000_000
	maxSide      = 12_000     // pixels
	maxPixels    = 60_000_000 // decoded, about 240 MB
	shownSide    = 1600       // of the copy that is shown, pixels
	shownQuality = 80
)

// A Lens reads one photo at a time, since each takes much memory.
type Lens chan struct{}

// NewLens makes a Lens.
func NewLens() Lens { return make(Lens, 1) }

// Read decodes the bytes of a photo; the faults are of the field "photo". The error is that
// of ctx, where it ended while others were read.
func (l Lens) Read(ctx context.Context, b []byte) (Shot, []*measure.InputError, error) {
	select {
	case l <- struct{}{}:
	case <-ctx.Done():
		return Shot{}, nil, ctx.Err()
	}
	defer func() { <-l }()
	shot, faults := read(b)
	return shot, faults, nil
}

// A Shot is what was read of an image file.
type Shot struct {
	Shown []byte // JPEG, upright and small, with nothing hidden in it

	kind          string // "image/jpeg" or "image/png"
	original      []byte
	width, height int
	taken, offset string // the camera's word, "2006:01:02 15:04:05" and "-05:00"
}

// Photo is what is known of a shot by itself: its hash, its size, and when it was taken by
// the camera's own word, whose clock is read in a zone where it gives none.
func (s Shot) Photo(zone *time.Location) Photo {
	p := Photo{Type: s.kind, SHA256: ledger.Hash(s.original), Bytes: len(s.original), Width: s.width, Height: s.height}
	if s.taken == "" {
		return p
	}
	const clock = "2006:01:02 15:04:05"
	if t, err := time.Parse(clock+"-07:00", s.taken+s.offset); err == nil && s.offset != "" {
		p.Taken, p.FromCamera = t.UTC(), true
	} else if t, err := time.ParseInLocation(clock, s.taken, zone); err == nil {
		p.Taken, p.FromCamera, p.TakenLocal = t.UTC(), true, true
	}
	return p
}

// read decodes an image once its size is known to be bearable.
func read(b []byte) (Shot, []*measure.InputError) {
	accepts := measure.Say("a photo as JPEG or PNG, up to %d MB and %d pixels a side", MaxBytes/1_000_000, maxSide)
	refuse := func(code string, reason measure.Text) (Shot, []*measure.InputError) {
		return Shot{}, []*measure.InputError{{Field: "photo", Code: code, Reason: reason, Accepts: accepts}}
	}
	switch {
	case len(b) == 0:
		return refuse("missing", measure.Say("no photo was sent"))
	case len(b) > MaxBytes:
		return refuse("too-large", measure.Say("it has %d MB", (len(b)+999_999)/1_000_000))
	}
	if isHEIC(b) {
		accepts = measure.Say("the same photo as JPEG: choose JPEG, or “Most Compatible”, in the camera’s settings and take it again, or mail the photo to yourself from the phone, which sends a JPEG")
		return refuse("heic", measure.Say("it is in the format HEIC, which not every computer can show"))
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(b))
	if err != nil || format != "jpeg" && format != "png" {
		return refuse("not-a-photo", measure.Say("it isn’t a JPEG or PNG"))
	}
	if config.Width < 1 || config.Height < 1 || config.Width > maxSide || config.Height > maxSide ||
		config.Width*config.Height > maxPixels {
		return refuse("out-of-range", measure.Say("it has %d by %d pixels", config.Width, config.Height))
	}
	p := Shot{original: b, kind: "image/" + format, width: config.Width, height: config.Height}
	turn := p.readMetadata(b, format)
	if p.Shown, err = shownCopy(b, turn); err != nil {
		return refuse("damaged", measure.Say("the file is damaged"))
	}
	return p, nil
}

// isHEIC tells, by its first bytes, a picture in the container of ISO/IEC 23008-12, as phones
// take it: a box "ftyp" whose brand is one of those of that standard.
func isHEIC(b []byte) bool {
	return len(b) >= 12 && string(b[4:8]) == "ftyp" &&
		slices.Contains([]string{"heic", "heix", "heim", "heis", "hevc", "hevx", "hevm", "hevs", "mif1", "msf1"}, string(b[8:12]))
}

// readMetadata reads when a photo was taken and how it was held; what cannot be read is
// as if it were not there. Where it was taken is never read.
func (p *Shot) readMetadata(b []byte, format string) (turn int) {
	kind := imagemeta.JPEG
	if format == "png" {
		kind = imagemeta.PNG
	}
	turn = 1
	options := imagemeta.Options{
		R: bytes.NewReader(b), ImageFormat: kind, Sources: imagemeta.EXIF, Timeout: 2 * time.Second,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			return t.Tag == "DateTimeOriginal" || t.Tag == "OffsetTimeOriginal" || t.Tag == "Orientation"
		},
		HandleTag: func(t imagemeta.TagInfo) error {
			switch v := t.Value.(type) {
			case string:
				if text := strings.TrimRight(v, "\x00 "); t.Tag == "DateTimeOriginal" {
					p.taken = text
				} else if t.Tag == "OffsetTimeOriginal" {
					p.offset = text
				}
			case uint16:
				if t.Tag == "Orientation" {
					turn = int(v)
				}
			}
			return nil
		},
	}
	if _, err := imagemeta.Decode(options); err != nil {
		p.taken, p.offset = "", ""
		return 1
	}
	return turn
}

// shownCopy is a photo made small and upright, as JPEG without metadata.
func shownCopy(b []byte, turn int) ([]byte, error) {
	full, _, err := image.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, err
	}
	size := full.Bounds().Size()
	if size.X == 0 || size.Y == 0 {
		return nil, errors.New("the image is empty")
	}
	scale := min(1, float64(shownSide)/float64(max(size.X, size.Y)))
	small := image.NewRGBA(image.Rect(0, 0, max(1, int(float64(size.X)*scale)), max(1, int(float64(size.Y)*scale))))
	draw.Draw(small, small.Bounds(), image.White, image.Point{}, draw.Src) // behind what is transparent
	xdraw.ApproxBiLinear.Scale(small, small.Bounds(), full, full.Bounds(), draw.Over, nil)
	var out bytes.Buffer
	err = jpeg.Encode(&out, upright(small, turn), &jpeg.Options{Quality: shownQuality})
	return out.Bytes(), err
}

// upright turns and mirrors an image as Exif's Orientation says, 1 to 8.
func upright(from *image.RGBA, turn int) *image.RGBA {
	if turn < 2 || turn > 8 {
		return from
	}
	w, h := from.Bounds().Dx(), from.Bounds().Dy()
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	if turn >= 5 {
		to = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			at := image.Pt(x, y)
			switch turn {
			case 2:
				at = image.Pt(w-1-x, y)
			case 3:
				at = image.Pt(w-1-x, h-1-y)
			case 4:
				at = image.Pt(x, h-1-y)
			case 5:
				at = image.Pt(y, x)
			case 6:
				at = image.Pt(h-1-y, x)
			case 7:
				at = image.Pt(h-1-y, w-1-x)
			case 8:
				at = image.Pt(y, w-1-x)
			}
			to.SetRGBA(at.X, at.Y, from.RGBAAt(x, y))
		}
	}
	return to
}
