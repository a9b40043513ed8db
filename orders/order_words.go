package orders

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/yard"
)

// A WoodSaid is what an order's words say of the wood besides how much it is.
type WoodSaid struct {
	Seasonings []yard.Seasoning
	Species    []string
	notes      []string // what was not understood, as typed
}

// WoodIn finds species and statements of seasoning in what a quantity's words left
// over. The rest is kept for the notes; a bare "wood" says nothing.
func WoodIn(rest []string) WoodSaid {
	var said WoodSaid
	for _, phrase := range rest {
		said.phrase(strings.Fields(strings.ReplaceAll(phrase, "/", " / ")))
	}
	return said
}

func (said *WoodSaid) phrase(words []string) {
	from, to := speciesIn(words)
	if to == from {
		said.around(words)
		return
	}
	for more := true; more; {
		from, to, more = joined(words, from, to)
	}
	said.Species = append(said.Species, strings.ReplaceAll(strings.Join(words[from:to], " "), " / ", "/"))
	said.around(words[:from])
	said.around(words[to:])
}

// joined takes in the wood named before or after a run of words that names wood, where
// "and" joins them: "oak and red maple".
func joined(words []string, from, to int) (int, int, bool) {
	if to < len(words) && joinsWood(words[to]) {
		for end := len(words); end > to+1; end-- {
			if namesWood(strings.Join(words[to+1:end], " ")) {
				return from, end, true
			}
		}
	}
	if from > 0 && joinsWood(words[from-1]) {
		for start := range from - 1 {
			if namesWood(strings.Join(words[start:from-1], " ")) {
				return start, to, true
			}
		}
	}
	return from, to, false
}

// around reads words with no species among them.
func (said *WoodSaid) around(words []string) {
	var left []string
	for i := 0; i < len(words); i++ {
		stated, n := seasoningAt(words[i:])
		if n == 0 {
			left = append(left, words[i])
			continue
		}
		i += n - 1
		if !slices.Contains(said.Seasonings, stated) {
			said.Seasonings = append(said.Seasonings, stated)
		}
	}
	empty := func(word string) bool {
		return slices.Contains([]string{"and", "of", "in", "with", "at", "wood", "firewood", "&"}, strings.ToLower(word))
	}
	for len(left) > 0 && empty(left[0]) {
		left = left[1:]
	}
	for len(left) > 0 && empty(left[len(left)-1]) {
		left = left[:len(left)-1]
	}
	if len(left) > 0 {
		said.notes = append(said.notes, strings.ReplaceAll(strings.Join(left, " "), " / ", "/"))
	}
}

// seasoningAt gives the statement that words begin with and how many of them it takes.
func seasoningAt(words []string) (yard.Seasoning, int) {
	first := strings.ToLower(words[0])
	switch first {
	case string(yard.Green), string(yard.Seasoned), string(yard.KilnDried):
		return yard.Seasoning(first), 1
	}
	if first == "kiln" && len(words) > 1 && strings.EqualFold(words[1], "dried") {
		return yard.KilnDried, 2
	}
	return "", 0
}

// mostNames is how many words the species of a load may take.
const mostNames = 12

// speciesIn gives the longest run of words that names wood, the first of several as
// long; from is to where there is none.
func speciesIn(words []string) (from, to int) {
	for n := min(len(words), mostNames); n > 0; n-- {
		for from := 0; from+n <= len(words); from++ {
			if namesWood(strings.Join(words[from:from+n], " ")) {
				return from, from + n
			}
		}
	}
	return 0, 0
}

func joinsWood(word string) bool {
	return word == "/" || word == "&" || strings.EqualFold(word, "and")
}

func namesWood(text string) bool {
	switch strings.ToLower(text) {
	case "hardwood", "hardwoods", "softwood", "softwoods", "mixed hardwood", "mixed hardwoods", "mixed softwood", "mixed softwoods":
		return true
	}
	words := strings.Fields(text)
	if joinsWood(words[0]) || joinsWood(words[len(words)-1]) {
		return false
	}
	_, err := wood.ParseMixes(text)
	return err == nil
}

// carry takes what the words say of the wood to the order's fields where those are
// empty, and asks where a field says otherwise. What is not understood is a note.
func (in *orderReader) carry(o *Order, rest []string) {
	said := WoodIn(rest)
	in.carrySpecies(o, said)
	in.carrySeasoning(o, said)
	for _, note := range said.notes {
		if !strings.Contains(strings.ToLower(o.Notes), strings.ToLower(note)) {
			o.Notes = strings.TrimPrefix(o.Notes+"\n"+note, "\n")
		}
	}
}

func (in *orderReader) carrySpecies(o *Order, said WoodSaid) {
	switch {
	case len(said.Species) == 0:
	case len(said.Species) > 1:
		in.Add("species", "two-species", in.typed.Quantity, measure.Say("the words name %s and %s", said.Species[0], said.Species[1]),
			measure.Say("the species here, with their shares where it is a mix: 60 % oak, 40 % maple"))
	case o.Species == "" && greenOrSpecies(said) && o.Seasoning == "":
		in.Add("species", "ambiguous", in.typed.Quantity, measure.Say("“%s” may be that species, or green wood of another", said.Species[0]),
			measure.Say("the species here, and below whether it is green"))
	case o.Species == "":
		o.Species = in.printedLine("species", said.Species[0])
	case !holdsWords(o.Species, said.Species[0]):
		in.Add("species", "conflict", in.typed.Species, measure.Say("the words say %s, and this says %s", said.Species[0], o.Species), measure.Say("the same in both"))
	}
}

// greenOrSpecies tells whether a species' name begins with what may be a statement.
func greenOrSpecies(said WoodSaid) bool {
	_, n := seasoningAt(strings.Fields(said.Species[0]))
	return n > 0
}

func (in *orderReader) carrySeasoning(o *Order, said WoodSaid) {
	switch {
	case len(said.Seasonings) == 0:
	case len(said.Seasonings) > 1:
		in.Add("seasoning", "conflict", in.typed.Quantity, measure.Say("the words say %s and %s", measure.Say(string(said.Seasonings[0])), measure.Say(string(said.Seasonings[1]))), measure.Say("one of them"))
	case o.Seasoning == "":
		o.Seasoning = said.Seasonings[0]
	case o.Seasoning != said.Seasonings[0]:
		in.Add("seasoning", "conflict", in.typed.Seasoning, measure.Say("the words say %s, and this says %s", measure.Say(string(said.Seasonings[0])), measure.Say(string(o.Seasoning))), measure.Say("the same in both"))
	}
}

// holdsWords tells whether every word of part is one of whole's, in any case.
func holdsWords(whole, part string) bool {
	words := strings.Fields(strings.ToLower(whole))
	return !slices.ContainsFunc(strings.Fields(strings.ToLower(part)), func(w string) bool { return !slices.Contains(words, w) })
}

// pieces is how long an order's pieces are: as its field says, as its words say, or as
// they usually are. Field and words that differ are asked about.
func (in *orderReader) pieces(field, said, usual measure.Length) measure.Length {
	switch {
	case field != 0 && said != 0 && field != said:
		in.Add("piece_length", "conflict", in.typed.PieceLength, measure.Say("the words say %s, and this says %s", said, field), measure.Say("the same in both, or nothing here"))
		return field
	case field != 0:
		return field
	case said != 0:
		return said
	case usual == 0 && in.typed.PieceLength == "" && in.typed.UsualLength == "":
		in.Missing("piece_length", measure.Say("how long the pieces are, such as 16 in"))
	}
	return usual
}
