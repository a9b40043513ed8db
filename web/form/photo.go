package form

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/face"
	"wellstowed/measure/stack"
)

// A Photo is the face of a row read from one photo: what was tapped, and what was typed of
// the two sticks. Nothing of a picture is in it.
type Photo struct {
	On              string // "yes" where the row is read so, though nothing is tapped yet
	Width, Height   string // of the picture, pixels
	Tall, Between   string // of the sticks
	Distance, Proud string
	Plumb, Zoom     string
	Taps            string // "412, 2210; 420, 1090; …": foot and top of each stick, then the outline
	Gaps            string // the outlines of gaps, each as Taps, with a | between them
	SHA             string // of the picture's bytes: SHA-256 in hexadecimal
	TapX, TapY      string // where the picture was pressed that is shown as a button, px of ButtonWide
	Whole           string // a photo document that the form can't show, such as one with more references
}

// photoPath is the name of a field of a row's photo.
var photoPath = regexp.MustCompile(`^stack\.rows\[\d{1,5}\]\.photo\.([a-z.]+)$`)

// ofPhoto tells whether a name is of a field of a row's photo.
func ofPhoto(name string) bool {
	m := photoPath.FindStringSubmatch(name)
	return m != nil && (&Photo{}).field(m[1]) != nil
}

func (p *Photo) field(name string) *string {
	switch name {
	case "on":
		return &p.On
	case "width":
		return &p.Width
	case "height":
		return &p.Height
	case "tall":
		return &p.Tall
	case "between":
		return &p.Between
	case "distance":
		return &p.Distance
	case "proud":
		return &p.Proud
	case "plumb":
		return &p.Plumb
	case "zoom":
		return &p.Zoom
	case "taps":
		return &p.Taps
	case "gaps":
		return &p.Gaps
	case "sha":
		return &p.SHA
	case "tap.x":
		return &p.TapX
	case "tap.y":
		return &p.TapY
	case "whole":
		return &p.Whole
	}
	return nil
}

// lengths are its readings that are lengths.
func (p *Photo) lengths() []*string { return []*string{&p.Tall, &p.Between, &p.Distance, &p.Proud} }

// Taken tells whether the row is read from a photo.
func (p Photo) Taken() bool { return p.On == "yes" }

// ButtonWide is how wide a picture is shown that is tapped as a form's button, px.
const ButtonWide = 1000

// Press takes the place at which the picture was pressed as its next point. It tells whether
// it was.
func (p *Photo) Press() bool {
	x, errX := strconv.Atoi(p.TapX)
	y, errY := strconv.Atoi(p.TapY)
	p.TapX, p.TapY = "", ""
	wide := wholePixels(p.Width)
	if errX != nil || errY != nil || wide <= 0 || !p.Taken() {
		return false
	}
	at := func(px int) string { return plainFloat(math.Round(2*float64(px)*float64(wide)/ButtonWide) / 2) }
	point := at(x) + ", " + at(y)
	if strings.TrimSpace(p.Taps) != "" {
		point = strings.TrimRight(p.Taps, "; \n") + "; " + point
	}
	p.Taps = point
	return true
}

// Unpress takes the last point back.
func (p *Photo) Unpress() {
	all := pixels(p.Taps)
	p.Taps = pixelText(all[:max(len(all)-1, 0)])
}

// Points are those tapped: the ends of the sticks, then the outline.
func (p Photo) Points() (ends, outline []face.Pixel) {
	for _, at := range pixels(p.Taps) {
		if len(at) != 2 {
			continue
		}
		if q := (face.Pixel{X: at[0], Y: at[1]}); len(ends) < face.MinReferences {
			ends = append(ends, q)
		} else {
			outline = append(outline, q)
		}
	}
	return ends, outline
}

// Counts are how many references and points of the outline a photo has that the form can't
// show.
func (p Photo) Counts() (references, outline int) {
	doc := p.document(Inches)
	if doc == nil {
		return 0, 0
	}
	return len(doc.References), len(doc.Outline)
}

// document is the photo as a tally says it; nil where the row is not read so.
func (p Photo) document(unit Unit) *stack.PhotoDocument {
	if !p.Taken() {
		return nil
	}
	var doc stack.PhotoDocument
	if p.Whole != "" && json.Unmarshal([]byte(p.Whole), &doc) == nil {
		return &doc
	}
	taps := pixels(p.Taps)
	tall, between := unit.with(p.Tall), unit.with(p.Between)
	const foot = "0 in"
	for i, at := range [][]stack.Reading{{foot, foot}, {foot, tall}, {between, foot}, {between, tall}} {
		if i < len(taps) {
			doc.References = append(doc.References, stack.ReferenceDocument{Pixel: taps[i], At: at})
		}
	}
	doc.Outline = taps[min(len(doc.References), len(taps)):]
	for _, gap := range strings.Split(p.Gaps, "|") {
		if outline := pixels(gap); len(outline) > 0 {
			doc.Voids = append(doc.Voids, outline)
		}
	}
	doc.Width, doc.Height = wholePixels(p.Width), wholePixels(p.Height)
	doc.Distance, doc.Proud, doc.Plumb = unit.with(p.Distance), unit.with(p.Proud), stack.Reading(p.Plumb)
	doc.SHA256 = stack.Reading(p.SHA)
	if zoom, err := strconv.ParseFloat(strings.TrimSpace(p.Zoom), 64); err == nil {
		doc.Zoom = &zoom
	}
	return &doc
}

var numberOf = regexp.MustCompile(`-?\d{1,9}(?:\.\d{1,9})?`)

// pixels are points in their order. A point that isn't two numbers stays as it is, to be
// refused by its place.
func pixels(text string) []stack.PixelDocument {
	points := []stack.PixelDocument{}
	for _, pair := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' }) {
		at := stack.PixelDocument{}
		for _, n := range numberOf.FindAllString(pair, -1) {
			number, _ := strconv.ParseFloat(n, 64) // as its shape was just matched
			at = append(at, number)
		}
		if strings.TrimSpace(pair) != "" {
			points = append(points, at)
		}
	}
	return points
}

// wholePixels is a number of pixels; 0, which is refused, where none was typed.
func wholePixels(text string) int {
	n, _ := strconv.Atoi(strings.TrimSpace(text))
	return n
}

// photoFields gives the fields of a photo in a document; where they would not say the same
// photo, its document as a whole.
func photoFields(path string, value any, field func(name, value string)) {
	raw, err := json.Marshal(value)
	if err != nil {
		return
	}
	var doc stack.PhotoDocument
	_ = json.Unmarshal(raw, &doc) // what isn't a photo is refused when it is measured
	p := photoOf(doc)
	p.On = "yes"
	field(path+".on", p.On)
	again, err := json.Marshal(p.document(Inches))
	same := err == nil && jsonEqual(raw, again)
	if !same {
		field(path+".whole", string(raw))
		return
	}
	for _, name := range []string{"width", "height", "tall", "between", "distance", "proud", "plumb", "zoom", "taps", "gaps", "sha"} {
		if text := *p.field(name); text != "" {
			field(path+"."+name, text)
		}
	}
}

// photoOf reads two sticks off the references of a photo.
func photoOf(doc stack.PhotoDocument) Photo {
	p := Photo{Width: strconv.Itoa(doc.Width), Height: strconv.Itoa(doc.Height), Distance: string(doc.Distance), Proud: string(doc.Proud), Plumb: string(doc.Plumb), SHA: string(doc.SHA256)}
	if len(doc.References) == face.MinReferences && len(doc.References[3].At) == 2 {
		p.Between, p.Tall = string(doc.References[3].At[0]), string(doc.References[3].At[1])
	}
	var taps []stack.PixelDocument
	for _, r := range doc.References {
		taps = append(taps, r.Pixel)
	}
	p.Taps = pixelText(append(taps, doc.Outline...))
	gaps := make([]string, len(doc.Voids))
	for i, v := range doc.Voids {
		gaps[i] = pixelText(v)
	}
	p.Gaps = strings.Join(gaps, " | ")
	if doc.Zoom != nil {
		p.Zoom = plainFloat(*doc.Zoom)
	}
	return p
}

func pixelText(points []stack.PixelDocument) string {
	texts := make([]string, len(points))
	for i, p := range points {
		numbers := make([]string, len(p))
		for j, n := range p {
			numbers[j] = plainFloat(n)
		}
		texts[i] = strings.Join(numbers, ", ")
	}
	return strings.Join(texts, "; ")
}

func plainFloat(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func jsonEqual(a, b []byte) bool {
	var x, y any
	return json.Unmarshal(a, &x) == nil && json.Unmarshal(b, &y) == nil && fmt.Sprint(x) == fmt.Sprint(y)
}

// inPhoto is a place in a row's photo, as measuring names it.
var inPhoto = regexp.MustCompile(`^(stack\.rows\[\d{1,5}\]\.photo)\.(\w+)(.*)$`)

// AtFields puts the faults of a row's photo at the fields of the form that they are in. One
// that would stand twice at a field stands there once.
func AtFields(faults measure.InputErrors) measure.InputErrors {
	var placed measure.InputErrors
	for _, e := range faults {
		one := *e
		if m := inPhoto.FindStringSubmatch(e.Field); m != nil {
			one.Field = m[1] + "." + photoField(m[2], m[3])
			if slices.ContainsFunc(placed, func(other *measure.InputError) bool {
				return other.Field == one.Field && other.Reason.String() == one.Reason.String()
			}) {
				continue
			}
		}
		placed = append(placed, &one)
	}
	return placed
}

func photoField(member, rest string) string {
	switch {
	case strings.HasSuffix(rest, ".at[1]"):
		return "tall"
	case strings.HasSuffix(rest, ".at[0]"):
		return "between"
	case member == "references" || member == "outline":
		return "taps"
	case member == "voids":
		return "gaps"
	case member == "sha256":
		return "sha"
	}
	return member
}
