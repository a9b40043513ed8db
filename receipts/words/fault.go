package words

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// ErrorJSON is a fault in what was typed, as data.
type ErrorJSON struct {
	Field    string `json:"field"` // a path in the document
	Code     string `json:"code"`
	Read     string `json:"read"`
	Wrong    string `json:"wrong"`
	Accepted string `json:"accepted"`
	// Choices are what may be meant, each with the field that takes it.
	Choices []ChoiceJSON `json:"choices,omitempty"`
}

// ChoiceJSON is an answer to what is asked about something typed.
type ChoiceJSON struct {
	Field string `json:"field"`
	Value string `json:"value"`
	Means string `json:"means"`
}

// InputError gives a fault as data.
func (p *Printer) InputError(e *measure.InputError) ErrorJSON {
	e = p.Lawful(e)
	out := ErrorJSON{Field: e.Field, Code: e.Code, Read: e.Got, Wrong: p.Say(e.Reason), Accepted: p.Say(e.Accepts)}
	for _, c := range e.Choices {
		out.Choices = append(out.Choices, ChoiceJSON{cmp.Or(c.Field, e.Field), c.Value, p.Say(c.Label)})
	}
	return out
}

// Sentence gives a fault for people: where it is, what was read, what is wrong
// and what would be accepted.
func (p *Printer) Sentence(e *measure.InputError) string {
	e = p.Lawful(e)
	parts := []string{}
	if e.Field != "" {
		parts = append(parts, p.Place(e.Field))
	}
	if e.Got != "" {
		parts = append(parts, p.say("read “%s”", e.Got))
	}
	return strings.Join(append(parts, p.remedy(e)), ": ")
}

// Asking is what is asked about something typed: the question alone where its answers can
// be pressed.
func (p *Printer) Asking(e *measure.InputError) string {
	e = p.Lawful(e)
	if len(e.Choices) > 0 {
		return p.Say(e.Reason)
	}
	return p.remedy(e)
}

// remedy says what is wrong and what to do about it: of a field that is empty, only what
// to fill in.
func (p *Printer) remedy(e *measure.InputError) string {
	reason, accepts := p.Say(e.Reason), p.Say(e.Accepts)
	switch {
	case accepts == "":
		return reason
	case e.Code == "missing" && e.Got == "" && saysNothing(e.Reason) && asks(accepts):
		return p.say("say %s", accepts)
	case e.Code == "missing" && e.Got == "" && saysNothing(e.Reason):
		return p.say("enter %s", accepts)
	case strings.HasSuffix(reason, "?"):
		return p.say("%s Try %s", reason, accepts)
	}
	return p.say("%s. Try %s", reason, accepts)
}

// saysNothing tells whether a reason says no more than that a field is empty.
func saysNothing(reason measure.Text) bool {
	return reason.Key == "nothing was filled in" || reason.Key == "it is not said"
}

// asks tells whether what is accepted is worded as a question: "why it is taken back".
func asks(accepts string) bool {
	first, _, _ := strings.Cut(strings.ReplaceAll(accepts, ",", " "), " ")
	switch first {
	case "how", "what", "when", "where", "which", "why", "since":
		return true
	}
	return false
}

// Lawful is a fault that repeats no term the rule set bars, neither as typed nor as
// an example of what would be accepted.
func (p *Printer) Lawful(e *measure.InputError) *measure.InputError {
	bars := func(text string) bool { return len(p.set.BarredIn(text)) > 0 }
	clean := *e
	if bars(e.Got) {
		clean.Got = ""
	}
	if bars(p.Say(e.Reason)) {
		clean.Reason = measure.Say("the rules of sale don’t know this quantity")
	}
	if bars(p.Say(e.Accepts)) {
		clean.Accepts = measure.Say("a quantity in the units of the rules of sale, such as 64 cu ft or 3.6 m³ stacked")
	}
	clean.Choices = slices.DeleteFunc(slices.Clone(e.Choices), func(c measure.Choice) bool { return bars(p.Say(c.Label)) || bars(c.Value) })
	return &clean
}

// Place says in plain words where in a tally a path points:
// "stack.rows[0].heights[2]" is "row 1, height 3". A path of no tally stays as it
// is.
func (p *Printer) Place(path string) string {
	steps := strings.Split(strings.TrimPrefix(path, "stack."), ".")
	if len(steps) == 1 && path == "stack" {
		return p.say("the stack")
	}
	var words []string
	for i, step := range steps {
		if step == "calibrated" && i+1 < len(steps) {
			continue // its parts say enough
		}
		word, ok := p.step(step)
		if !ok {
			return path
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

// pathStep is a field of a path, with an index where it is one of a list.
var pathStep = regexp.MustCompile(`^([a-z_]+)(?:\[(\d{1,6})\])?(?:\[(\d{1,6})\])?$`)

func (p *Printer) step(step string) (string, bool) {
	m := pathStep.FindStringSubmatch(step)
	if m == nil {
		return "", false
	}
	if m[2] == "" {
		key, ok := fieldKeys()[m[1]]
		return p.say(key), ok
	}
	key, ok := itemKeys()[m[1]]
	n, _ := strconv.Atoi(m[2]) // digits by the pattern
	word := p.say(key, n+1)
	if m[3] != "" { // the readings of a line
		n, _ = strconv.Atoi(m[3])
		word = p.say("%s, height %d", word, n+1)
	}
	return word, ok
}

// fieldKeys are the fields of a tally in plain words.
func fieldKeys() map[string]string {
	return map[string]string{
		"format": "format", "sold": "sold", "by": "who reads", "apart": "not in the stack", "look": "look",
		"tape": "tape", "top": "top of the wood", "stowed": "stowing", "raised": "raised", "condition": "condition",
		"kind": "kind", "pieces": "pieces", "nominal": "piece length as said", "rows": "rows",
		"length": "length", "heights": "heights", "positions": "positions", "ends": "ends", "voids": "gaps",
		"over": "run", "drop": "drop", "share": "share of wood", "width": "width", "height": "height",
		"arrangement": "how the wood was put in", "grid": "lines of heights", "calibrated": "filled to a line", "volume": "volume",
		"box": "taped bed", "on": "day", "line": "which line", "wells": "wheel wells", "count": "how many", "crown": "crown",
		"shape": "shape", "crest": "crests", "window": "part of the face counted", "slope": "slope", "rise": "rise", "run": "level length",
		"degrees": "degrees", "back": "heights of the back face", "diameters": "diameters", "circumference": "all the way round",
		"cone": "height of the cone", "method": "method", "sections": "sections", "inside": "height inside", "headspace": "headspaces",
		"widths": "widths", "lengths": "lengths", "squares": "squares", "edge": "edge of a square", "sold_condition": "sold as",
		"moisture": "moisture", "percent": "percent", "basis": "percent of what", "shrinkage": "shrinkage",
		"basic_gravity": "basic specific gravity", "loose_cord": "loose cord",
		"photo": "photo", "taps": "points in the picture", "gaps": "gaps", "tall": "how tall the sticks are", "between": "how far apart they stand",
		"distance": "how far away it was taken", "proud": "how far the sticks stand out", "plumb": "how the sticks were set", "zoom": "how much it was enlarged",
		"outline": "outline of the wood", "references": "ends of the sticks",
	}
}

// itemKeys are the items of a tally's lists in plain words.
func itemKeys() map[string]string {
	return map[string]string{
		"rows": "row %d", "heights": "height %d", "positions": "position %d",
		"ends": "end %d", "voids": "gap %d", "pieces": "piece %d",
		"grid": "line %d", "wells": "wheel well %d", "crest": "crest %d", "back": "back height %d", "diameters": "diameter %d",
		"sections": "section %d", "headspace": "headspace %d", "widths": "width %d", "lengths": "length %d",
	}
}
