package web

import (
	"encoding/json"
	"regexp"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/face"
	"wellstowed/measure/stack"
	"wellstowed/web/form"
	"wellstowed/web/live"
)

// A photoAsk is the face of one row as read from one photo, as typed or tapped. The picture
// itself stays where it is.
type photoAsk struct {
	Sold     string `json:"sold"`
	Width    string `json:"width"`  // of the picture in pixels
	Height   string `json:"height"` // the same
	Tall     string `json:"tall"`   // the sticks, from the underside of the lowest pieces up
	Between  string `json:"between"`
	Proud    string `json:"proud"`
	Distance string `json:"distance"`
	Plumb    string `json:"plumb"`
	Zoom     string `json:"zoom"`
	Taps     string `json:"taps"` // "412, 2210; 420, 1090; …": foot and top of each stick, then the outline
	Pieces   string `json:"pieces"`
	Top      string `json:"top"`
	Apart    string `json:"apart"`
}

// A photoPage measures a row from one photo; nothing is saved.
type photoPage struct {
	page
	R        photoAsk
	Answer   *live.Answer // nil where nothing was asked yet, or something was wrong
	Read     []string
	Document string // the tally
}

// photoShow answers what the address asks.
func (s *Server) photoShow(c *fiber.Ctx) error {
	p := photoPage{page: s.page(c, measure.Say("A row from one photo"), "/measure")}
	p.Finder = s.assets.path("photo.js")
	p.R, _ = form.Read[photoAsk](query(c)) // each of its fields is a text
	if p.R.Taps == "" && !wantsJSON(c) {
		return s.render(c, "photo_show", p)
	}
	doc, err := p.R.document(form.Inches)
	if err != nil {
		return err
	}
	tally, result, err := measureUnder(p.Set, doc)
	if faults, bad := err.(measure.InputErrors); bad {
		for _, f := range faults {
			f.Field = photoField(f.Field)
		}
		err = refused(faults)
	}
	switch {
	case err != nil && (wantsJSON(c) || !mendable(err)):
		return err
	case err != nil:
		s.refuse(c, &p.page, err)
		for i, f := range p.Faults {
			if label := p.labels()[strings.TrimPrefix(f.Link, "#")]; label != "" {
				p.Faults[i].Label = label
			}
		}
		return s.render(c, "photo_show", p)
	case wantsJSON(c):
		return c.JSON(p.Print.Answer(tally, result))
	}
	p.Answer, p.Document = live.New(p.Print, tally, result), string(doc)
	if rows, ok := tally.Stack.(stack.Rows); ok && rows.Rows[0].Photo != nil {
		p.Read = p.Print.ForTape(tally.Tape).Photo(rows.Rows[0].Photo)
	}
	return s.render(c, "photo_show", p)
}

var (
	inPhoto  = regexp.MustCompile(`^stack\.rows\[0\]\.photo\.(\w+)`)
	pairOf   = regexp.MustCompile(`-?\d+(?:\.\d+)?`)
	tapField = map[string]string{"references": "taps", "outline": "taps", "voids": "taps"}
)

// photoField is the field of the page that a place in the tally is typed in.
func photoField(path string) string {
	if strings.HasPrefix(path, "stack.pieces") || strings.HasPrefix(path, "stack.nominal") {
		return "pieces"
	}
	m := inPhoto.FindStringSubmatch(path)
	if m == nil {
		return path
	}
	switch {
	case strings.HasSuffix(path, ".at[1]"):
		return "tall"
	case strings.HasSuffix(path, ".at[0]"):
		return "between"
	}
	if field := tapField[m[1]]; field != "" {
		return field
	}
	return m[1]
}

// document is the tally of what was typed: a stick at each end of the row, the outline
// behind them.
func (r photoAsk) document(unit form.Unit) ([]byte, error) {
	inch := func(text string) stack.Reading { return stack.WithUnit(text, string(unit)) }
	taps := r.taps()
	var references []map[string]any
	for i, at := range [][]stack.Reading{{"0 in", "0 in"}, {"0 in", inch(r.Tall)}, {inch(r.Between), "0 in"}, {inch(r.Between), inch(r.Tall)}} {
		if i < len(taps) {
			references = append(references, map[string]any{"pixel": taps[i], "at": at})
		}
	}
	photo := map[string]any{"width": pixelsOf(r.Width), "height": pixelsOf(r.Height), "references": references, "outline": taps[min(face.MinReferences, len(taps)):],
		"distance": inch(r.Distance)}
	for name, text := range map[string]string{"proud": string(inch(r.Proud)), "plumb": r.Plumb} {
		if strings.TrimSpace(text) != "" {
			photo[name] = text
		}
	}
	if zoom := json.Number(strings.TrimSpace(r.Zoom)); zoom != "" {
		if _, err := zoom.Float64(); err == nil {
			photo["zoom"] = zoom
		}
	}
	rows := map[string]any{"kind": "rows", "rows": []any{map[string]any{"photo": photo}}}
	var pieces []stack.Reading
	for _, piece := range strings.FieldsFunc(r.Pieces, func(c rune) bool { return c == ';' || c == '\n' || c == ',' }) {
		if piece = strings.TrimSpace(piece); piece != "" {
			pieces = append(pieces, inch(piece))
		}
	}
	if len(pieces) > 0 {
		rows["pieces"] = pieces
	}
	doc := map[string]any{"format": stack.TallyFormat, "stack": rows}
	for name, text := range map[string]string{"sold": r.Sold, "top": r.Top, "apart": r.Apart} {
		if strings.TrimSpace(text) != "" {
			doc[name] = text
		}
	}
	return json.Marshal(doc)
}

// taps are the points in order, each two numbers.
func (r photoAsk) taps() [][]json.Number {
	var taps [][]json.Number
	for _, pair := range strings.Split(strings.ReplaceAll(r.Taps, "\n", ";"), ";") {
		var at []json.Number
		for _, n := range pairOf.FindAllString(pair, -1) {
			at = append(at, json.Number(n))
		}
		if at != nil {
			taps = append(taps, at)
		}
	}
	return taps
}

// pixelsOf is a number of pixels; 0, which is refused, where none was typed.
func pixelsOf(text string) json.Number {
	n := pairOf.FindString(text)
	if n == "" || strings.Contains(n, ".") {
		return "0"
	}
	return json.Number(n)
}

// labels are what the fields are called here, which other pages call otherwise.
func (p photoPage) labels() map[string]string {
	return map[string]string{
		"taps": p.T("Points in the picture"), "width": p.T("Width of the picture, pixels"), "height": p.T("Its height, pixels"),
		"tall": p.T("How tall the sticks are"), "between": p.T("How far apart they stand"), "distance": p.T("How far away the photo was taken"),
		"proud": p.T("How far the sticks stand out"), "pieces": p.T("Lengths of pieces from all over the row"),
	}
}

// Ask is a field under the label it has here.
func (p photoPage) Ask(name, value string) field {
	return p.Named(p.Field(name, value), p.labels()[name])
}

// Aparts are what may be said of wood that isn’t in this row.
func (p photoPage) Aparts() choosing {
	f := p.Field("apart", p.R.Apart)
	f.Label = p.T("Is any of this delivery somewhere else?")
	return choosing{f, []choice{{"", p.T("Not said"), p.R.Apart == ""}, {"none", p.T("No, all of it is in this row"), p.R.Apart == "none"}}}
}

// Plumbs are the ways that sticks are set upright.
func (p photoPage) Plumbs() choosing {
	f := p.Field("plumb", p.R.Plumb)
	f.Label = p.T("How the sticks were set upright")
	return choosing{f, []choice{
		{string(face.PlumbByEye), p.T("By eye"), p.R.Plumb != string(face.PlumbLevel)},
		{string(face.PlumbLevel), p.T("With a level"), p.R.Plumb == string(face.PlumbLevel)},
	}}
}

// Tops are the ways that the top of the wood was tapped.
func (p photoPage) Tops() choosing {
	f := p.Field("top", p.R.Top)
	f.Label = p.T("The top of the wood")
	return choosing{f, []choice{
		{string(stack.ByEye), p.T("By eye"), p.R.Top != string(stack.Straightedge)},
		{string(stack.Straightedge), p.T("Along a straight board lying on it"), p.R.Top == string(stack.Straightedge)},
	}}
}
