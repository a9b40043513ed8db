package stack

import (
	"math"
	"regexp"

	"wellstowed/measure"
	"wellstowed/measure/face"
	"wellstowed/measure/strict"
)

// A RowPhoto is a row's face as read from one photo, in place of its length and heights.
type RowPhoto struct {
	face.Photo
	Face face.Face
	// SHA256 is of the bytes of the picture that was tapped, in hexadecimal; empty: not said.
	SHA256 string
}

// seenHeights is how many heights a photo's outline is drawn by.
const seenHeights = 10

// A PhotoDocument is the face of a row read from one photo.
type PhotoDocument struct {
	Width      int                 `json:"width"`      // of the picture, pixels
	Height     int                 `json:"height"`     // the same
	References []ReferenceDocument `json:"references"` // at least four
	Outline    []PixelDocument     `json:"outline"`    // of the wood, in order
	Voids      [][]PixelDocument   `json:"voids,omitempty"`
	Proud      Reading             `json:"proud,omitempty"` // how much nearer the references stand
	Distance   Reading             `json:"distance"`        // from the camera to the face
	Zoom       *float64            `json:"zoom,omitempty"`  // that points were tapped at; 1 where it is left out
	Plumb      Reading             `json:"plumb,omitempty"` // "level" or "by eye"
	// SHA256 is of the bytes of the picture that was tapped, 64 hexadecimal digits.
	SHA256 Reading `json:"sha256,omitempty"`
}

// A ReferenceDocument is a point whose place in the face is known: along the row from its
// left end, and up from the underside of the lowest pieces. Both may be below zero.
type ReferenceDocument struct {
	Pixel PixelDocument `json:"pixel"`
	At    []Reading     `json:"at"`
}

// A PixelDocument is a place in the picture: pixels from the left and from the top.
type PixelDocument []float64

// readPhoto reads the face of a row from a photo, with what may not stand beside it.
func (r *rowsReader) readPhoto(path string, d *RowDocument, row *Row) {
	for _, other := range []struct {
		name  string
		given bool
	}{
		{"lengths", len(d.Lengths) > 0}, {"back", len(d.Back) > 0}, {"positions", len(d.Positions) > 0}, {"ends", len(d.Ends) > 0}, {"voids", len(d.Voids) > 0}, {"slope", d.Slope != nil},
	} {
		if other.given {
			r.errs.Add(strict.Member(path, other.name), "out-of-place", "", measure.Say("the face of this row is read from a photo"), measure.Say("nothing here: the outline in the photo says it"))
		}
	}
	at := strict.Member(path, "photo")
	seen := r.seen(at, d.Photo)
	if seen == nil {
		return
	}
	row.readFrom(seen)
	if row.Length > MaxRowLength || row.Length <= 0 {
		r.errs.Add(strict.Member(at, "outline"), "too-large", row.Length.String(), measure.Say("a row of %s is over the limit", row.Length), measure.Say("a row up to %s", measure.Length(MaxRowLength)))
	}
}

// readFrom makes a photo what a row is read from, in place of anything else.
func (r *Row) readFrom(seen *RowPhoto) {
	*r = Row{Photo: seen, Length: seen.Face.Length, Heights: seen.Face.Heights(seenHeights), Ends: [2]End{{Kind: Upright}, {Kind: Upright}}, Pieces: r.Pieces}
}

// seen measures a photo; nil, with its faults noted, where it can't be.
func (r *rowsReader) seen(at string, d *PhotoDocument) *RowPhoto {
	before := len(*r.errs)
	p := r.photo(at, d)
	if d.SHA256 != "" && !hashOf.MatchString(string(d.SHA256)) {
		r.errs.Add(strict.Member(at, "sha256"), "not-a-hash", string(d.SHA256), measure.Say("this isn’t the SHA-256 of a picture"), measure.Say("64 hexadecimal digits in small letters, or nothing"))
	}
	if len(*r.errs) > before {
		return nil
	}
	face, err := face.Measure(p, at)
	if faults, bad := err.(measure.InputErrors); bad {
		*r.errs = append(*r.errs, faults...)
		return nil
	}
	return &RowPhoto{p, face, string(d.SHA256)}
}

var hashOf = regexp.MustCompile(`^[0-9a-f]{64}$`)

func (r *rowsReader) photo(path string, d *PhotoDocument) face.Photo {
	p := face.Photo{Width: d.Width, Height: d.Height, Zoom: 1, Plumb: face.Plumb(d.Plumb), Outline: r.pixels(strict.Member(path, "outline"), d.Outline)}
	for i, ref := range d.References {
		at := strict.Item(strict.Member(path, "references"), i)
		one := face.Reference{Pixel: r.pixel(strict.Member(at, "pixel"), ref.Pixel)}
		if len(ref.At) != 2 {
			r.errs.Add(strict.Member(at, "at"), "missing", "", measure.Say("a reference has two lengths: along the row, and up"), measure.Say("two lengths, such as -2 in and 60 in"))
		} else {
			one.X, one.Y = r.signed(strict.Item(strict.Member(at, "at"), 0), ref.At[0]), r.signed(strict.Item(strict.Member(at, "at"), 1), ref.At[1])
		}
		p.References = append(p.References, one)
	}
	for i, v := range d.Voids {
		p.Voids = append(p.Voids, r.pixels(strict.Item(strict.Member(path, "voids"), i), v))
	}
	if d.Proud != "" {
		p.Proud = r.signed(strict.Member(path, "proud"), d.Proud)
	}
	if d.Distance == "" {
		r.errs.Add(strict.Member(path, "distance"), "missing", "", measure.Say("how far away the photo was taken is missing"), measure.Say("a length such as 12 ft; paces are near enough"))
	} else {
		p.Distance = d.Distance.length(strict.Member(path, "distance"), face.MinDistance, face.MaxDistance, r.errs)
	}
	if d.Zoom != nil {
		p.Zoom = *d.Zoom
	}
	return p
}

// signed reads a length that may be below zero: a minus sign before it.
func (r *rowsReader) signed(path string, text Reading) measure.Length {
	const minus, hyphen = "−", "-"
	rest, negative := text, false
	for _, sign := range []Reading{minus, hyphen} {
		if len(rest) > len(sign) && rest[:len(sign)] == sign && !negative {
			rest, negative = rest[len(sign):], true
		}
	}
	l := rest.length(path, 0, face.MaxPlace, r.errs)
	if negative {
		return -l
	}
	return l
}

func (r *rowsReader) pixels(path string, list []PixelDocument) []face.Pixel {
	out := make([]face.Pixel, len(list))
	for i, p := range list {
		out[i] = r.pixel(strict.Item(path, i), p)
	}
	return out
}

func (r *rowsReader) pixel(path string, p PixelDocument) face.Pixel {
	if len(p) != 2 {
		r.errs.Add(path, "wrong-type", "", measure.Say("a point in the picture is two numbers"), measure.Say("pixels from the left and from the top, such as [412, 2210]"))
		return face.Pixel{}
	}
	return face.Pixel{X: p[0], Y: p[1]}
}

// What a photo's face adds to the doubt of a row.
var photoSources = map[face.Source]Source{
	face.Taps: PhotoTaps, face.Feet: PhotoFeet, face.Lean: PhotoLean, face.Depth: PhotoDepth, face.Lens: PhotoLens,
}

// addPhoto puts in the parts of a row whose face was read from a photo, in place of
// stations, row ends, and the tape on heights and row lengths.
func (b *rowsBudget) addPhoto(row int, p *RowPhoto, piece float64) {
	for _, seen := range p.Face.Parts {
		u := float64(seen.U) * piece
		var heal cure
		switch {
		case seen.Source == face.Lean && p.Plumb != face.PlumbLevel:
			heal = cure{code: setLevel, u: u * face.LevelShare, minutes: levelMinutes}
		case seen.Source == face.Taps && p.Zoom < zoomedIn:
			heal = cure{code: zoomIn, u: u * p.TapUAt(zoomedIn) / p.TapU(), minutes: zoomMinutes}
		}
		b.cure(photoSources[seen.Source], row, u, heal)
	}
	half := b.division / 2 * math.Abs(float64(p.Face.Habit)) * piece
	u := rectangular(half)
	b.habit.linear += half
	b.habit.squares += u * u
	if b.tally.Rounded != "" {
		b.add(PhotoLengths, row, u)
	}
}

// photoFace is the face of a row read from a photo as readings would be seen otherwise,
// in square inches: the lengths between its references longer or shorter by the habit of
// who read them, the top by the inch that an eye may be low.
func (b *rowsBudget) photoFace(r *Row, v view) float64 {
	f := &r.Photo.Face
	return float64(f.Area) + float64(f.Habit)*b.tally.up(b.division, v) + inches(r.Length)*b.tally.over(v)
}

// ReadFromPhoto tells whether any row was.
func (s Rows) ReadFromPhoto() (row int) {
	for i := range s.Rows {
		if s.Rows[i].Photo != nil {
			return i + 1
		}
	}
	return 0
}

// photoUnfit tells whether a row's photo can't carry an accusation.
func (s Rows) photoUnfit() bool {
	for i := range s.Rows {
		if p := s.Rows[i].Photo; p != nil && (p.Face.FewPoints || p.Face.OneEnd) {
			return true
		}
	}
	return false
}
