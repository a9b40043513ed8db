package words

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
)

// ProcedureJSON is what a published procedure makes of the readings: of a package
// its volume and notes, and where a tally is held to it all the rest.
type ProcedureJSON struct {
	CubicFeet *float64 `json:"cubic_feet"` // nil where it gives no result
	Notes     []string `json:"notes"`
	NoResult  string   `json:"no_result,omitempty"`
	// ExactCubicFeet is before rounding and before anything is taken off.
	ExactCubicFeet float64               `json:"exact_cubic_feet,omitempty"`
	Rows           []ProcedureRowJSON    `json:"rows,omitempty"`
	Readings       []ProcedureCountJSON  `json:"readings,omitempty"`
	Changes        []ProcedureChangeJSON `json:"changes,omitempty"`
	LeftOut        []ProcedureChangeJSON `json:"left_out,omitempty"`
	Word           procedure.Word        `json:"word,omitempty"`
	Why            []string              `json:"why,omitempty"`
	ErrorCubicFeet *float64              `json:"error_cubic_feet,omitempty"`
	AllowedFeet    *float64              `json:"tolerance_cubic_feet,omitempty"`
}

// ProcedureRowJSON is one row: averages after rounding.
type ProcedureRowJSON struct {
	HeightInches float64 `json:"height_inches"`
	LengthInches float64 `json:"length_inches"`
	PieceInches  float64 `json:"piece_inches"`
	CubicFeet    float64 `json:"cubic_feet"`
}

// ProcedureCountJSON holds readings against those asked for.
type ProcedureCountJSON struct {
	What   string `json:"what"`
	Row    int    `json:"row,omitempty"`
	Seen   int    `json:"seen"`
	Wanted int    `json:"wanted"`
}

// ProcedureChangeJSON is one rounding, or one thing taken off or left out.
type ProcedureChangeJSON struct {
	Code      string      `json:"code"`
	CubicFeet float64     `json:"cubic_feet"`
	Favours   stack.Party `json:"favours,omitempty"`
	Text      string      `json:"text"`
}

// ProcedureAnswer gives a procedure's result as data.
func (p *Printer) ProcedureAnswer(r procedure.Result) *ProcedureJSON {
	out := &ProcedureJSON{Notes: p.texts(r.Notes), Word: r.Word, Why: p.texts(r.Why),
		ExactCubicFeet: r.Exact.In(measure.CubicFoot),
		ErrorCubicFeet: cubicFeet(r.Error), AllowedFeet: cubicFeet(r.Allowed),
		Changes: p.changesJSON(r.Changes), LeftOut: p.changesJSON(r.LeftOut)}
	if r.NoResult != nil {
		out.NoResult = p.Say(*r.NoResult)
	} else {
		out.CubicFeet = cubicFeet(&r.Volume)
	}
	for _, row := range r.Rows {
		out.Rows = append(out.Rows, ProcedureRowJSON{row.Height.In(measure.Inch), row.Length.In(measure.Inch),
			row.Piece.In(measure.Inch), row.Volume.In(measure.CubicFoot)})
	}
	for _, c := range r.Counts {
		out.Readings = append(out.Readings, ProcedureCountJSON{c.What, c.Row, c.Seen, c.Wanted})
	}
	return out
}

func cubicFeet(v *measure.Volume) *float64 {
	if v == nil {
		return nil
	}
	feet := v.In(measure.CubicFoot)
	return &feet
}

func (p *Printer) changesJSON(changes []procedure.Change) []ProcedureChangeJSON {
	var out []ProcedureChangeJSON
	for _, c := range changes {
		out = append(out, ProcedureChangeJSON{c.Code, c.Size.In(measure.CubicFoot), c.Favours, p.Say(c.Text)})
	}
	return out
}

// A ProcedurePart is one heading of a procedure's result and what stands under it.
type ProcedurePart struct {
	Heading string
	Lines   []string
}

// ProcedureTitle is what a procedure's result is called: the inspection procedure's own
// where an office gave its text, else arithmetic after a pattern that nobody read.
func (p *Printer) ProcedureTitle(named bool) string {
	if named {
		return p.say("Result by the inspection procedure")
	}
	return p.say("Arithmetic after the handbook’s pattern")
}

// ProcedureLead is a procedure's result in one line.
func (p *Printer) ProcedureLead(r procedure.Result) string {
	if r.NoResult != nil {
		return p.say("It gives no result.")
	}
	volume := p.Quantity(measure.Quantity{Volume: r.Volume, Basis: measure.Ranked})
	if r.Word == "" {
		return p.say("%s.", volume)
	}
	return p.say("%s. %s.", volume, p.ProcedureWord(r.Word))
}

// ProcedureVolume is a procedure's volume alone.
func (p *Printer) ProcedureVolume(r procedure.Result) string {
	if r.NoResult != nil {
		return p.say("no result")
	}
	return p.Quantity(measure.Quantity{Volume: r.Volume, Basis: measure.Ranked})
}

// ProcedureError is how far a procedure's volume is from what is due, and its word;
// empty where they are not held together.
func (p *Printer) ProcedureError(r procedure.Result) string {
	if r.Error == nil {
		return ""
	}
	miss, key := *r.Error, "%s more. %s"
	if miss < 0 {
		miss, key = -miss, "%s less. %s"
	}
	return p.say(key, miss, p.ProcedureWord(r.Word))
}

// ProcedureWord words what a procedure comes to.
func (p *Printer) ProcedureWord(w procedure.Word) string {
	switch w {
	case procedure.WithinTolerance:
		return p.say("Within the tolerance")
	case procedure.OutsideTolerance:
		return p.say("Outside the tolerance")
	case procedure.NoTolerance:
		return p.say("No tolerance stated")
	}
	return p.say("Not judged")
}

// Procedure words what a procedure's result rests on.
func (p *Printer) Procedure(r procedure.Result) []ProcedurePart {
	parts := []ProcedurePart{
		{p.say("The result"), p.texts(r.Why)},
		{p.say("Row by row"), p.procedureRows(r)},
		{p.say("Readings it asks for and this tally lacks"), p.lacking(r)},
		{p.say("Rounding, and what is taken off"), p.changes(r.Changes)},
		{p.say("Not counted"), p.changes(r.LeftOut)},
		{p.say("How it was applied"), p.texts(r.Notes)},
	}
	if r.NoResult != nil && len(r.Why) == 0 {
		parts[0].Lines = []string{p.Say(*r.NoResult)}
	}
	var kept []ProcedurePart
	for _, part := range parts {
		if len(part.Lines) > 0 {
			kept = append(kept, part)
		}
	}
	return kept
}

func (p *Printer) procedureRows(r procedure.Result) []string {
	var lines []string
	for i, row := range r.Rows {
		lines = append(lines, p.say("Row %d: average height %s × average length %s × average piece %s: %s", i+1,
			p.Mean(row.Height), p.Mean(row.Length), p.Mean(row.Piece), row.Volume))
	}
	return lines
}

// lacking words the counts that were not met, rows that lack the same together.
func (p *Printer) lacking(r procedure.Result) []string {
	var lines []string
	told := map[procedure.Count]bool{}
	for _, c := range r.Counts {
		alike := c
		alike.Row = min(c.Row, 1)
		if c.Seen >= c.Wanted || told[alike] {
			continue
		}
		told[alike] = true
		if c.Row == 0 {
			lines = append(lines, p.say("%s: %d of at least %d", p.counted(c.What), c.Seen, c.Wanted))
			continue
		}
		lines = append(lines, p.say("%s: %d of at least %d, in row %s", p.counted(c.What), c.Seen, c.Wanted, rowsLike(r.Counts, c)))
	}
	return lines
}

// rowsLike numbers the rows with a count like c.
func rowsLike(counts []procedure.Count, c procedure.Count) string {
	var rows []string
	for _, other := range counts {
		if other.Row > 0 && other.What == c.What && other.Seen == c.Seen && other.Wanted == c.Wanted {
			rows = append(rows, strconv.Itoa(other.Row))
		}
	}
	return strings.Join(rows, ", ")
}

// counted words what was counted.
func (p *Printer) counted(what string) string {
	switch what {
	case "heights":
		return p.say("Heights of the front")
	case "heights of the back":
		return p.say("Heights of the back")
	case "lengths":
		return p.say("Row lengths at several heights")
	}
	return p.say("Pieces measured")
}

func (p *Printer) changes(changes []procedure.Change) []string {
	lines := make([]string, len(changes))
	for i, c := range changes {
		lines[i] = p.Say(c.Text)
	}
	return lines
}

// Mean words an average of readings, finer than any reading.
func (p *Printer) Mean(l measure.Length) string {
	if p.metric() {
		return p.say("%s cm", p.decimal(l.In(measure.Centimetre), 2))
	}
	return p.say("%s in", p.decimal(l.In(measure.Inch), 2))
}
