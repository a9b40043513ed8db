package spoken

import (
	"slices"
	"strings"
	"sync"
	"unicode"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// woods takes the longest runs of words that name wood.
func (r *reader) woods() {
	for n := min(mostTokens, len(r.tokens)); n > 0; n-- {
		for i := 0; i+n <= len(r.tokens); i++ {
			if r.nameable(i, i+n) && r.shares(i, i+n) && namesWood(r.text(i, i+n)) && !r.negated(i) {
				r.takeWood(i, i+n)
			}
		}
	}
	r.joinWoods()
}

// joinWoods makes one mix of woods that “and” joins: "oak and red maple".
func (r *reader) joinWoods() {
	for i := 1; i+1 < len(r.tokens); i++ {
		left := slices.IndexFunc(r.groups, func(g group) bool { return g.kind == Wood && g.to == i })
		right := slices.IndexFunc(r.groups, func(g group) bool { return g.kind == Wood && g.from == i+1 })
		if left < 0 || right < 0 || !joins(r.tokens[i].text) || r.tokens[i].apart || r.tokens[i+1].apart {
			continue
		}
		to := r.groups[right].to
		r.groups[left].to, r.groups[left].value = to, r.text(r.groups[left].from, to)
		r.mark(Wood, i, to)
		r.groups = slices.Delete(r.groups, right, right+1)
		i = 0
	}
}

// shares tells whether a run says figures that are shares: "60 % oak and 40 % maple".
func (r *reader) shares(from, to int) bool {
	text := r.text(from, to)
	return !strings.ContainsAny(text, "0123456789$€£") || strings.Contains(text, "%")
}

// ofNames are the words that names of wood are made of.
var ofNames = sync.OnceValue(func() map[string]bool {
	words := map[string]bool{"and": true, "mixed": true, "hardwood": true, "softwood": true, "wood": true, "firewood": true}
	species, _ := wood.All() // built in, and held whole by its tests
	for _, s := range species {
		for _, name := range append([]string{s.Name}, s.Aliases...) {
			for _, word := range strings.FieldsFunc(strings.ToLower(plain.Replace(name)), func(c rune) bool { return !unicode.IsLetter(c) && c != '\'' }) {
				words[word] = true
			}
		}
	}
	return words
})

// nameWord tells whether a token may be a word of a wood's name.
func nameWord(t token) bool {
	for _, word := range strings.FieldsFunc(t.text, func(c rune) bool { return !unicode.IsLetter(c) && c != '\'' }) {
		if !ofNames()[word] && !ofNames()[strings.TrimSuffix(word, "s")] && !ofNames()[strings.TrimSuffix(word, "es")] {
			return false
		}
	}
	return true
}

// nameable tells whether a run may name wood: nothing else took it, but for a word that
// may be how dry the wood is and part of its name.
func (r *reader) nameable(from, to int) bool {
	for i := from; i < to; i++ {
		t := r.tokens[i]
		if t.kind != "" && !(t.kind == Seasoning && t.text == "green" && i == from && to-from > 1) || i > from && t.apart || !nameWord(t) {
			return false
		}
	}
	return true
}

// takeWood takes a name; “green ash” may be a species, or ash that is green.
func (r *reader) takeWood(from, to int) {
	name := strings.ReplaceAll(strings.Join(strings.Fields(r.text(from, to)), " "), " / ", "/")
	if r.tokens[from].kind != Seasoning {
		r.take(Wood, from, to, name)
		return
	}
	stated := slices.ContainsFunc(r.groups, func(g group) bool { return g.kind == Seasoning && g.from != from })
	r.groups = slices.DeleteFunc(r.groups, func(g group) bool { return g.kind == Seasoning && g.from == from })
	r.mark("", from, to)
	if stated {
		r.take(Wood, from, to, name)
		return
	}
	rest := r.text(from+1, to)
	r.ask(&measure.InputError{Field: "species", Code: "ambiguous", Got: name, Reason: measure.Say("Is that the species %s, or %s that is green?", name, rest),
		Accepts: measure.Say("the species, and whether it is green, seasoned or kiln-dried"),
		Choices: []measure.Choice{r.choice(r.swapped(from, to, rest+" unseasoned"), measure.Say("%s that is green", rest)),
			r.choice(r.swapped(from, to, name+" seasoned"), measure.Say("the species %s, seasoned", name)),
			r.choice(r.swapped(from, to, name+" unseasoned"), measure.Say("the species %s, and green", name))}}, from, to)
}

// oneWood asks where the line names two woods.
func (r *reader) oneWood() {
	found := r.of(Wood)
	if len(found) < 2 {
		return
	}
	first, second := found[0], found[1]
	if strings.EqualFold(first.value, second.value) {
		return
	}
	if slices.ContainsFunc(r.out.Questions, func(q *measure.InputError) bool { return q.Code == "two-quantities" }) {
		r.askAll(nil, found...) // two orders
		return
	}
	q := &measure.InputError{Field: "species", Code: "two-species", Got: r.line, Reason: measure.Say("Is it %s, or %s, or both mixed?", first.value, second.value),
		Accepts: measure.Say("one wood, or a mix: oak and maple"),
		Choices: []measure.Choice{r.choice(r.only(first, second), measure.Say("%s", first.value)), r.choice(r.only(second, first), measure.Say("%s", second.value))}}
	if both := first.value + " and " + second.value; namesWood(both) {
		joined := r.line[:r.tokens[first.from].from] + both + r.amid(first, second) + r.line[r.tokens[second.to-1].to:]
		q.Choices = append(q.Choices, r.choice(joined, measure.Say("%s", both)))
	}
	r.askAll(q, found...)
}

// only is the line without the second of two groups, nor an “or” that joins them.
func (r *reader) only(keep, drop group) string {
	if r.joined(keep, drop) {
		from, to := min(keep.from, drop.from), max(keep.to, drop.to)
		return r.swapped(from, to, r.text(keep.from, keep.to))
	}
	return r.without(drop)
}

// joined tells whether only words that join are between two groups.
func (r *reader) joined(a, b group) bool {
	for i := min(a.to, b.to); i < max(a.from, b.from); i++ {
		if !r.at(i, "or", "and", "&", "maybe", "either") {
			return false
		}
	}
	return true
}

// amid is what is between two groups, empty where it only joins them.
func (r *reader) amid(a, b group) string {
	if r.joined(a, b) {
		return ""
	}
	return r.line[r.tokens[a.to-1].to:r.tokens[b.from].from]
}

func namesWood(text string) bool {
	switch strings.ToLower(strings.Join(strings.Fields(text), " ")) {
	case "hardwood", "hardwoods", "softwood", "softwoods", "mixed hardwood", "mixed hardwoods", "mixed softwood", "mixed softwoods":
		return true
	}
	words := strings.Fields(text)
	if joins(words[0]) || joins(words[len(words)-1]) {
		return false
	}
	if first, second, found := strings.Cut(text, "/"); found && len(words) == 1 {
		return first != "" && second != "" && namesWood(first) && namesWood(second)
	}
	_, err := wood.ParseMixes(text)
	return err == nil && !slices.Contains(coloured, strings.ToLower(text))
}

// coloured are words of wood's names that alone don't name wood.
var coloured = strings.Fields("red white black yellow silver sugar green river water swamp paper hard soft rock sweet grey gray blue honey eastern western american european english northern southern common mountain tree trees")

func joins(word string) bool { return word == "/" || word == "&" || strings.EqualFold(word, "and") }
