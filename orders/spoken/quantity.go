package spoken

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"wellstowed/measure"
)

// aPiece is a piece length that nobody says, by which quantities are found whose size
// depends on it.
const aPiece = 15*measure.Inch + 7

// terms find quantities; what they are is read under the shop's own.
func (r *reader) terms() measure.Terms {
	return measure.Terms{Piece: aPiece, Points: r.about.Points, ReadBack: true,
		Cord: func(measure.Basis, measure.Length, measure.Preparation) (measure.Volume, *measure.InputError) {
			return measure.Cord, nil
		}}
}

// measures are the words for units of volume, and those that lead to one.
var measures = []string{"cord", "cords", "rick", "ricks", "ric", "rics", "cuft", "cf", "ft3", "ft³", "m3", "m³", "m^3", "rm", "srm", "raummeter", "schüttraummeter",
	"ster", "sters", "stere", "steres", "stère", "stères", "l", "litre", "litres", "liter", "liters", "feet", "foot", "ft", "metre", "metres", "meter", "meters", "yard", "yards", "yd", "yd3", "yd³", "x", "×", "by"}

var sides = regexp.MustCompile(`\d['"]?[x×*]\d`)

// measured tells whether a word is a unit of volume, maybe with its number: "2cords".
func measured(text string) bool {
	bare := strings.TrimLeftFunc(text, func(c rune) bool { return unicode.IsNumber(c) || strings.ContainsRune(".,/-", c) })
	return slices.Contains(measures, strings.TrimSuffix(bare, ".")) || strings.HasSuffix(text, "-cord") || strings.HasSuffix(text, "-cords") || sides.MatchString(text)
}

// mostTokens is how many tokens a quantity or a wood may take.
const mostTokens = 12

// quantities takes what says how much wood it is.
func (r *reader) quantities() {
	for i := 0; i < len(r.tokens); {
		n, said := r.quantityAt(i)
		if n > 0 && !r.continues(i) {
			r.take(Quantity, i, i+n, r.text(i, i+n))
			r.groups[len(r.groups)-1].weak = said.Unsaid // how it stands isn't said
			i += n
			continue
		}
		i++
	}
	r.unreadUnits()
}

// continues tells whether the number at a token goes on from the word before it, so that it
// is only the end of what was said.
func (r *reader) continues(i int) bool {
	if i == 0 || r.tokens[i].apart || r.tokens[i-1].kind != "" {
		return false
	}
	return bare.MatchString(r.tokens[i-1].text) || r.at(i-1, numbers...) || r.at(i-1, "-", "solid") ||
		r.at(i-1, "or", "to") && i > 1 && (bare.MatchString(r.tokens[i-2].text) || r.at(i-2, numbers...))
}

// numbers are those in words.
var numbers = strings.Fields("one two three four five six seven eight nine ten eleven twelve fifteen twenty hundred thousand half")

// quantityAt is how many tokens from i on are a quantity and nothing else, at most.
func (r *reader) quantityAt(i int) (int, measure.Said) {
	for n := min(mostTokens, len(r.tokens)-i); n > 0; n-- {
		if !r.free(i, i+n) || r.endless(i+n-1) || r.at(i+n-1, "stacked", "ranked", "loose", "thrown", "container", "containers", "cut", "sawed", "sawn", "split") ||
			!slices.ContainsFunc(r.tokens[i:i+n], func(t token) bool { return measured(t.text) }) {
			continue
		}
		said, err := r.terms().ParseQuantity(r.text(i, i+n))
		own := said.PieceLength == 0 || said.Barred != "" && said.PieceLength == aPiece
		if err == nil && own && len(said.Rest) == 0 && said.Preparation == "" {
			return n, said
		}
	}
	return 0, measure.Said{}
}

// endless tells whether a token leads on to something, so that nothing ends with it: the “in”
// of inches does.
func (r *reader) endless(i int) bool {
	return r.at(i, "of", "wood", "firewood", "and", "with", "at") || r.at(i, "in") && (i == 0 || !unicode.IsNumber(rune(r.tokens[i-1].text[0])))
}

// counting are the words that a number may be made of.
var counting = strings.Fields("a an and or to of x full face half quarter third thirds quarters couple few several some one two three four five six seven eight nine ten eleven twelve " +
	"thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand another solid - cubic cu stacked loose")

// counts tells whether a token may belong to a number.
func (r *reader) counts(i int) bool {
	c := []rune(r.tokens[i].text)[0]
	return unicode.IsNumber(c) || c == '.' || c == '-' || r.at(i, counting...) || strings.Contains(r.tokens[i].text, "-") && slices.Contains(counting, strings.Split(r.tokens[i].text, "-")[0])
}

// unreadUnits asks about units with which no quantity was read.
func (r *reader) unreadUnits() {
	for k := range r.tokens {
		if !r.free(k, k+1) || !r.at(k, "cord", "cords", "rick", "ricks", "m3", "m³", "rm", "srm", "ster", "steres", "metre", "metres", "meter", "meters", "feet", "foot", "ft", "ft3", "ft³", "cuft", "cf", "yard", "yards") && !measured(strings.TrimLeft(r.tokens[k].text, "0123456789.,/-")) || !r.volumetric(k) {
			continue
		}
		i := k
		for i > 0 && r.free(i-1, k+1) && r.counts(i-1) {
			i--
		}
		for i < k && r.at(i, "of", "and", "to", "or", "some") && !r.at(i, "some") {
			i++
		}
		r.askHowMany(i, k+1)
	}
}

// volumetric tells whether a unit at a token is one of volume, and no length.
func (r *reader) volumetric(k int) bool {
	if r.at(k, "metre", "metres", "meter", "meters", "feet", "foot", "ft", "yard", "yards") {
		return r.at(k-1, "cubic", "cu")
	}
	return !strings.HasSuffix(r.tokens[k].text, "ft") && !r.at(k, "l", "x", "×", "by", "yd")
}

// askHowMany asks what a quantity is that can't be read, or may be two.
func (r *reader) askHowMany(from, to int) {
	text := r.text(from, to)
	_, err := r.terms().ParseQuantity(text)
	var fault *measure.InputError
	if !errors.As(err, &fault) {
		return
	}
	q := measure.InputError{Field: "quantity", Code: fault.Code, Got: text, Reason: fault.Reason, Accepts: fault.Accepts}
	could := r.candidates(text)
	switch {
	case len(could) == 2:
		q.Code, q.Reason, q.Accepts = "ambiguous", measure.Say("Is that %s or %s?", could[0], could[1]), measure.Say("one of the two")
	case len(could) == 1:
		q.Code, q.Reason, q.Accepts = "no-amount", measure.Say("Is that %s?", could[0]), measure.Say("a number, such as 2 cords")
	case r.at(from, "few", "several", "some", "cords", "ricks") || r.at(from+1, "few"):
		q.Code, q.Reason, q.Accepts = "no-amount", measure.Say("How many is that?"), measure.Say("a number, such as 2 cords")
	}
	for _, words := range could {
		q.Choices = append(q.Choices, r.choice(r.swapped(from, to, words), measure.Say("%s", words)))
	}
	r.ask(&q, from, to)
}

// choice is a line in place of the one typed.
func (r *reader) choice(line string, means measure.Text) measure.Choice {
	return measure.Choice{Field: "quantity", Value: line, Label: means}
}

// ask puts a question about a run of tokens.
func (r *reader) ask(q *measure.InputError, from, to int) {
	r.out.Questions = append(r.out.Questions, q)
	r.mark(Asked, from, to)
}

var (
	eitherOf  = regexp.MustCompile(`(?i)^(.*?[\d½¼¾⅓⅔]|\w+)\s*(?:-|–|—|\bto\b|\bor\b)\s*(.+)$`)
	thousands = regexp.MustCompile(`^(\d{1,3})[.,](\d{3})\b(.*)$`)
	sumOrPart = regexp.MustCompile(`(?i)^(two|three|four|five|six|seven|eight|nine|ten)\s+((\d)/(\d)|[½¼¾⅓⅔])\s*(.+)$`)
	loneUnit  = regexp.MustCompile(`(?i)^(?:a\s+|another\s+)?((?:face[ -]|full[ -])?(?:cord|rick))$`)
)

// candidates are the quantities that words may mean which say none plainly, in words.
func (r *reader) candidates(text string) []string {
	var could []string
	if m := eitherOf.FindStringSubmatch(text); m != nil {
		unit := strings.TrimLeftFunc(m[2], func(c rune) bool { return unicode.IsNumber(c) || strings.ContainsRune(" ./,", c) })
		if words := strings.Fields(m[2]); len(words) > 1 {
			unit = strings.Join(words[1:], " ")
		}
		if m[1] == "1" || m[1] == "one" {
			unit = strings.TrimSuffix(unit, "s")
		}
		could = []string{m[1] + " " + unit, m[2]}
	}
	if m := thousands.FindStringSubmatch(text); m != nil {
		could = []string{m[1] + m[2] + m[3], m[1] + "." + m[2] + "0" + m[3]}
	}
	if m := sumOrPart.FindStringSubmatch(text); m != nil {
		count := slices.Index(strings.Fields("two three four five six seven eight nine ten"), strings.ToLower(m[1])) + 2
		could = []string{figure(count) + " " + m[2] + " " + m[5], times(r, count, m[2]+" "+m[5])}
	}
	if m := loneUnit.FindStringSubmatch(text); m != nil {
		could = []string{"1 " + m[1]}
	}
	return r.readable(could)
}

func figure(n int) string { return string(rune('0' + n%10)) }

// times is a quantity so many times, as it is written; empty where it can't be read.
func times(r *reader, n int, words string) string {
	said, err := r.terms().ParseQuantity(words)
	if err != nil {
		return ""
	}
	said.Quantity.Volume *= measure.Volume(n)
	return said.Quantity.String()
}

// readable are those of some quantities in words that can be read, each once.
func (r *reader) readable(could []string) (words []string) {
	var seen []measure.Quantity
	for _, text := range could {
		said, err := r.terms().ParseQuantity(text)
		if err == nil && len(said.Rest) == 0 && !slices.Contains(seen, said.Quantity) {
			seen, words = append(seen, said.Quantity), append(words, strings.Join(strings.Fields(text), " "))
		}
	}
	return words
}
