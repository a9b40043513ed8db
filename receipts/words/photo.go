package words

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/face"
	"wellstowed/measure/stack"
)

// Photo words what was read of a row from its photo: the picture, the references, the
// points tapped, and what that gives.
func (p *Printer) Photo(photo *stack.RowPhoto) []string {
	set := p.say("by eye")
	if photo.Plumb == face.PlumbLevel {
		set = p.say("with a level")
	}
	lines := []string{
		p.say("Picture of %d × %d pixels, taken %s away, tapped at %s times its size; sticks set %s, %s nearer than the face.",
			photo.Width, photo.Height, p.Reading(photo.Distance), p.decimal(photo.Zoom, 1), set, p.signedReading(photo.Proud)),
	}
	references := make([]string, len(photo.References))
	for i, r := range photo.References {
		references[i] = p.say("%s along and %s up at %s", p.signedReading(r.X), p.signedReading(r.Y), p.pixel(r.Pixel))
	}
	lines = append(lines, p.say("References, in pixels from the left and from the top: %s.", strings.Join(references, "; ")),
		p.say("Outline tapped, %d points: %s.", len(photo.Outline), p.pixels(photo.Outline)))
	for _, v := range photo.Voids {
		lines = append(lines, p.say("Gap tapped: %s.", p.pixels(v)))
	}
	return append(lines, p.say("That is a face of %s, %s long.", p.SquareFeet(photo.Face.Area), p.Reading(nearest(photo.Face.Length))))
}

// BothWays says whether what a tape and a photo say of one row agrees.
func (p *Printer) BothWays(f stack.FacePair) string {
	read := p.say("Row %d was read both ways: by the tape its face is %s, give or take %s, by the photo %s, give or take %s.",
		f.Row, p.SquareFeet(f.Tape), p.SquareFeet(f.TapeDoubt), p.SquareFeet(f.Photo), p.SquareFeet(f.PhotoDoubt))
	if f.Agree {
		return read + " " + p.say("They agree within that. The tape’s reading is the one that counts.")
	}
	return read + " " + p.say("They differ by more than both allow: look for a slip in either before relying on the answer.")
}

// SquareFeet is an area in square feet, in square metres where volumes are in cubic ones.
func (p *Printer) SquareFeet(a face.SquareInches) string {
	if p.InMetres() {
		const metre = float64(measure.Metre) / float64(measure.Inch)
		return p.say("%s m²", p.decimal(float64(a)/metre/metre, 2))
	}
	return p.say("%s sq ft", p.decimal(float64(a)/144, 1))
}

// nearest is a length to the quarter inch, since a photo shows no finer.
func nearest(l measure.Length) measure.Length {
	const mark = measure.Inch / 4
	return (l + mark/2) / mark * mark
}

// signedReading is a reading that may be below zero.
func (p *Printer) signedReading(l measure.Length) string {
	if l < 0 {
		return "−" + p.Reading(-l)
	}
	return p.Reading(l)
}

func (p *Printer) pixels(all []face.Pixel) string {
	texts := make([]string, len(all))
	for i, q := range all {
		texts[i] = p.pixel(q)
	}
	return strings.Join(texts, "; ")
}

func (p *Printer) pixel(q face.Pixel) string {
	return strconv.FormatFloat(q.X, 'f', -1, 64) + ", " + strconv.FormatFloat(q.Y, 'f', -1, 64)
}
