package audits

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/draw"
	"image/jpeg"
	_ "image/png" // photos may be PNG
	"path/filepath"
	"strings"
	"time"

	"github.com/bep/imagemeta"
	xdraw "golang.org/x/image/draw"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// Limits of a photo.
const (
	MaxPhotoBytes  = 12_000_000
	maxPhotoSide   = 12_000     // pixels
	maxPhotoPixels = 60_000_000 // decoded, about 240 MB
	mostPhotos     = 60         // of one audit
	shownSide      = 1600       // of the copy that is shown, pixels
	shownQuality   = 80
)

// A PhotoRequest is a photo as uploaded.
type PhotoRequest struct {
	Name  string `json:"name"` // of the file
	Of    string `json:"of"`   // what it shows
	Taken string `json:"taken"`
	Bytes []byte `json:"-"`
}

// AddPhoto keeps a photo: its bytes as they are, their hash, and a copy to be shown
// without what is hidden in them.
func (s *Service) AddPhoto(ctx context.Context, by act.Act, id string, r PhotoRequest) (Audit, error) {
	if err := act.Allow(by.Actor, act.ToAudit); err != nil {
		return Audit{}, err
	}
	shot, faults, err := s.decodePhoto(ctx, r.Bytes)
	if err != nil {
		return Audit{}, act.Fail(err)
	}
	return s.enterAudit(ctx, by, PhotoAdded, id, []any{r, ledger.Hash(r.Bytes)}, func(tx Tx, in *reader) error {
		in.Faults = append(in.Faults, faults...)
		if len(in.d.audit.Photos) >= mostPhotos {
			return act.NewConflict("audit %d has %d photos, which is all it may have", int(in.d.audit.Number), mostPhotos)
		}
		p := Photo{
			Name: in.fileName(r.Name), Of: in.text("of", r.Of), Type: shot.kind, SHA256: ledger.Hash(r.Bytes), Bytes: len(r.Bytes),
			Width: shot.width, Height: shot.height, By: in.recorder(by), Added: in.d.now,
		}
		if p.Of == "" && r.Of == "" {
			in.Missing("of", measure.Say("what the photo shows, such as front of the stack"))
		}
		for _, known := range in.d.audit.Photos {
			if known.SHA256 == p.SHA256 && len(r.Bytes) > 0 {
				in.Add("photo", "twice", "", measure.Say("the same photo is here already: %s", known.Of), measure.Say("another photo"))
			}
		}
		in.takenAt(&p, shot, r.Taken)
		if err := in.done(); err != nil {
			return err
		}
		var err error
		if p.ID, err = act.NewID(); err != nil {
			return err
		}
		return tx.AddAuditPhoto(id, p, r.Bytes, shot.shown)
	})
}

// decodePhoto reads one photo at a time, since each takes much memory.
func (s *Service) decodePhoto(ctx context.Context, b []byte) (photo, []*measure.InputError, error) {
	select {
	case s.decoding <- struct{}{}:
	case <-ctx.Done():
		return photo{}, nil, ctx.Err()
	}
	defer func() { <-s.decoding }()
	shot, faults := readPhoto(b)
	return shot, faults, nil
}

// takenAt goes by the camera's own word, else by what was typed.
func (in *reader) takenAt(p *Photo, shot photo, typed string) {
	stated := moment(&in.Fields, "taken", typed, in.d.zone)
	past(&in.Fields, "taken", stated, in.d.now)
	p.Taken = stated
	if shot.taken == "" {
		return
	}
	const clock = "2006:01:02 15:04:05"
	if t, err := time.Parse(clock+"-07:00", shot.taken+shot.offset); err == nil && shot.offset != "" {
		p.Taken, p.FromCamera = t.UTC(), true
	} else if t, err := time.ParseInLocation(clock, shot.taken, in.d.zone); err == nil {
		p.Taken, p.FromCamera, p.TakenLocal = t.UTC(), true, true
	}
}

// fileName is the name of an uploaded file, without its folders and what cannot be
// printed.
func (in *reader) fileName(name string) string {
	name = filepath.Base(strings.ReplaceAll(name, `\`, "/"))
	var b strings.Builder
	for _, r := range name {
		if !act.Hidden(r) && b.Len() < 100 && len(in.service.printer.Printable(string(r))) == 0 {
			b.WriteRune(r)
		}
	}
	if name = strings.TrimSpace(b.String()); name == "" || name == "." || name == "/" || len(in.d.set.BarredIn(name)) > 0 {
		return "photo"
	}
	return name
}

// A photo is what was read of an image file.
type photo struct {
	kind          string // "image/jpeg" or "image/png"
	width, height int
	taken, offset string // the camera's word, "2006:01:02 15:04:05" and "-05:00"
	shown         []byte // JPEG
}

// readPhoto decodes an image once its size is known to be bearable.
func readPhoto(b []byte) (photo, []*measure.InputError) {
	accepts := measure.Say("a photo as JPEG or PNG, up to %d MB and %d pixels a side", MaxPhotoBytes/1_000_000, maxPhotoSide)
	refuse := func(code string, reason measure.Text) (photo, []*measure.InputError) {
		return photo{}, []*measure.InputError{{Field: "photo", Code: code, Reason: reason, Accepts: accepts}}
	}
	switch {
	case len(b) == 0:
		return refuse("missing", measure.Say("no photo was sent"))
	case len(b) > MaxPhotoBytes:
		return refuse("too-large", measure.Say("it has %d MB", (len(b)+999_999)/1_000_000))
	}
	config, format, err := image.DecodeConfig(bytes.NewReader(b))
	if err != nil || format != "jpeg" && format != "png" {
		return refuse("not-a-photo", measure.Say("it isn’t a JPEG or PNG"))
	}
	if config.Width < 1 || config.Height < 1 || config.Width > maxPhotoSide || config.Height > maxPhotoSide ||
		config.Width*config.Height > maxPhotoPixels {
		return refuse("out-of-range", measure.Say("it has %d by %d pixels", config.Width, config.Height))
	}
	p := photo{kind: "image/" + format, width: config.Width, height: config.Height}
	turn := p.readMetadata(b, format)
	if p.shown, err = shownCopy(b, turn); err != nil {
		return refuse("damaged", measure.Say("the file is damaged"))
	}
	return p, nil
}

// readMetadata reads when a photo was taken and how it was held; what cannot be read is
// as if it were not there. Where it was taken is never read.
func (p *photo) readMetadata(b []byte, format string) (turn int) {
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

// AuditPhoto gives what a photo is, and its original bytes or the copy that is shown.
func (s *Service) AuditPhoto(ctx context.Context, who act.Actor, auditID, photoID string, original bool) (p Photo, b []byte, err error) {
	a, err := s.Audit(ctx, who, auditID)
	if err != nil {
		return Photo{}, nil, err
	}
	for _, known := range a.Photos {
		if known.ID == photoID {
			p = known
		}
	}
	if p.ID == "" {
		return Photo{}, nil, &act.Error{Kind: act.NotFound, Message: measure.Say("that photo isn’t here")}
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		b, err = tx.AuditPhotoBytes(auditID, photoID, original)
		return err
	})
	return p, b, act.Fail(err)
}
