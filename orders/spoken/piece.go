package spoken

import (
	"regexp"
	"slices"
	"strings"

	"wellstowed/measure"
)

// How long pieces may be; what is outside is asked about.
const (
	shortest = 4 * measure.Inch
	longest  = measure.MaxPieceLength
)

var lengthWords = []string{"in", "inch", "inches", `"`, "''", "ft", "foot", "feet", "'", "cm", "centimetre", "centimetres", "centimeter", "centimeters", "mm", "m", "metre", "metres", "meter", "meters", "incher", "inchers"}

// pieceUnit tells whether a token is a unit of length, maybe with its number.
func pieceUnit(text string) bool {
	bare := strings.TrimLeft(text, "0123456789.,/½¼¾⅓⅔⅛⅜⅝⅞-")
	return slices.Contains(lengthWords, strings.TrimSuffix(bare, ".")) || strings.HasSuffix(bare, `"`) || strings.HasSuffix(bare, "'")
}

var eitherLength = regexp.MustCompile(`(?i)^([\d.,/½¼¾⅓⅔]+)\s*(?:"|in\.?|cm)?\s*(?:-|–|—|\bto\b|\bor\b)\s*([\d.,/½¼¾⅓⅔]+)\s*(\S+)$`)

// twoLengths are two figures that aren't a fraction of an inch: "25/33 cm".
var twoLengths = regexp.MustCompile(`^\d{2,3}/\d{2,3} ?(cm|in|inch|")$`)

// pieces takes the lengths of pieces.
func (r *reader) pieces() {
	for i := 0; i < len(r.tokens); i++ {
		for n := min(6, len(r.tokens)-i); n > 0; n-- {
			if !r.free(i, i+n) || !r.aLength(i, i+n) {
				continue
			}
			if r.pieceAt(i, i+n) {
				i += n - 1
				break
			}
		}
	}
}

// aLength tells whether a run may be a length: it ends in a unit, or has one inside (1 ft 4),
// and its “in” isn’t a preposition.
func (r *reader) aLength(from, to int) bool {
	last := r.tokens[to-1].text
	if r.at(to-1, "in") && r.at(to, "the", "a", "my", "his", "her", "their", "our") || r.at(from, "a", "an") && !r.at(from+1, "metre", "meter", "foot") {
		return false
	}
	unit := slices.ContainsFunc(r.tokens[from:to], func(t token) bool { return pieceUnit(t.text) })
	digit := strings.ContainsAny(last[:1], "0123456789")
	return unit && (pieceUnit(last) || digit && to-from > 1 || r.at(to-1, "half"))
}

// pieceAt takes a run for a length, or asks where it may be two.
func (r *reader) pieceAt(from, to int) bool {
	text := strings.NewReplacer("inchers", "inch", "incher", "inch", "Inchers", "inch", "Incher", "inch").Replace(r.text(from, to))
	terms := measure.Terms{Points: r.about.Points}
	if l, err := terms.ParseLength(text, 0); err == nil && !twoLengths.MatchString(text) {
		r.take(Piece, from, to, l.String())
		return true
	}
	m := eitherLength.FindStringSubmatch(strings.ReplaceAll(text, "/", " or "))
	if !twoLengths.MatchString(text) {
		m = eitherLength.FindStringSubmatch(text)
	}
	if m == nil {
		return false
	}
	first, err := terms.ParseLength(m[1]+" "+m[3], 0)
	second, other := terms.ParseLength(m[2]+" "+m[3], 0)
	if err != nil || other != nil {
		return false
	}
	q := &measure.InputError{Field: "piece_length", Code: "ambiguous", Got: r.text(from, to), Reason: measure.Say("How long are the pieces, %s or %s?", first, second), Accepts: measure.Say("one piece length")}
	for i, l := range []measure.Length{first, second} {
		q.Choices = append(q.Choices, r.choice(r.swapped(from, to, m[i+1]+" "+m[3]), measure.Say("%s", l)))
	}
	r.ask(q, from, to)
	return true
}

// oneLength settles how long the pieces are, or asks.
func (r *reader) oneLength() {
	found := r.of(Piece)
	for _, g := range found {
		l, err := measure.ParseLength(g.value)
		if err == nil && (l < shortest || l > longest) {
			q := &measure.InputError{Field: "piece_length", Code: "out-of-range", Got: r.text(g.from, g.to), Reason: measure.Say("Is %s something else than how long the pieces are?", l), Accepts: measure.Say("a piece length from %s to %s", shortest, longest)}
			q.Choices = r.asNote(g)
			r.askAll(q, g)
		}
	}
	found = r.of(Piece)
	if len(found) < 2 {
		return
	}
	first, _ := measure.ParseLength(found[0].value)
	second, _ := measure.ParseLength(found[len(found)-1].value)
	if first == second {
		return
	}
	q := &measure.InputError{Field: "piece_length", Code: "two-lengths", Got: r.line, Reason: measure.Say("How long are the pieces, %s or %s?", first, second), Accepts: measure.Say("one piece length")}
	q.Choices = append(q.Choices, r.choice(r.without(found[len(found)-1]), measure.Say("%s", first)), r.choice(r.without(found[0]), measure.Say("%s", second)))
	r.askAll(q, found...)
}

// without is the line without a group, the words before and after it parted.
func (r *reader) without(g group) string {
	before, after := strings.TrimRight(r.line[:r.tokens[g.from].from], " ,;"), strings.TrimLeft(r.line[r.tokens[g.to-1].to:], " ,;")
	if before == "" || after == "" {
		return before + after
	}
	return before + ", " + after
}

// asNote is the choice to keep a group, and all that is said with it, as a note.
func (r *reader) asNote(g group) []measure.Choice {
	for g.from > 0 && !r.tokens[g.from].apart && r.loose(g.from-1) {
		g.from--
	}
	for g.to < len(r.tokens) && !r.tokens[g.to].apart && r.loose(g.to) {
		g.to++
	}
	return []measure.Choice{r.noted(g)}
}

// noted is the choice to keep a group as a note.
func (r *reader) noted(g group) measure.Choice {
	text := r.text(g.from, g.to)
	line := r.without(g)
	joint := "; note: "
	if r.out.Notes != nil {
		joint = "; "
	}
	if line == "" {
		joint = "note: "
	}
	return r.choice(line+joint+text, measure.Say("Only a note: %s", text))
}

// loose tells whether a token belongs to nothing that is understood.
func (r *reader) loose(i int) bool { return r.tokens[i].kind == "" || r.tokens[i].kind == Idle }

// marked takes what follows “note:” as a note, as it is.
func (r *reader) marked() {
	for i := range r.tokens {
		if r.at(i, "note", "notes") && strings.HasPrefix(strings.TrimLeft(r.line[r.tokens[i].to:], " "), ":") {
			r.mark(Idle, i, i+1)
			if i+1 < len(r.tokens) {
				r.mark(Note, i+1, len(r.tokens))
				r.out.Notes = append(r.out.Notes, r.line[r.tokens[i+1].from:])
			}
			return
		}
	}
}
