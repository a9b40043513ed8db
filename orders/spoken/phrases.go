package spoken

import (
	"slices"
	"strings"

	"wellstowed/measure"
)

// A phrase is words that say one thing.
type phrase struct {
	words string
	kind  Kind
	value string
}

// phrases are what is said of splitting, stacking and how dry it is, the longest first.
var known = sorted(
	all(Split, "small", "split small", "split it small", "split them small", "split up small", "small split", "small splits", "split fine", "fine split", "finely split", "split thin", "thin splits", "split smaller", "cut and split small"),
	all(Split, "medium", "split medium", "medium split", "medium splits", "split average"),
	all(Split, "large", "split large", "split big", "split thick", "split coarse", "large split", "large splits", "big splits", "split larger", "cut and split large"),
	all(Split, "not split", "not split", "unsplit", "in rounds", "in the round", "rounds", "don't split it", "do not split it", "no splitting", "leave it round", "not cut or split"),
	all(Split, "split", "split", "splits", "cut and split", "cut & split", "cut split"),
	all(Stacking, "yes", "stacked", "stack it", "stack them", "stack", "stacking", "with stacking", "stacked up", "and stacked", "please stack", "stacked for me", "stacked for him", "stacked for her", "stacked for them", "stacked for us", "needs stacking", "wants stacking", "wants it stacked", "want it stacked", "needs it stacked", "ranked", "stacked too", "stacking too"),
	all(Stacking, "no", "not stacked", "no stacking", "don't stack it", "do not stack it", "without stacking", "unstacked", "dumped", "just dumped", "dump it", "just dump it", "tipped", "just tipped", "tip it", "just tip it", "tipped off", "no need to stack", "no need to stack it", "doesn't need stacking", "doesn't want it stacked", "don't need it stacked", "needn't be stacked", "he'll stack it", "she'll stack it", "they'll stack it", "i'll stack it", "will stack it himself", "will stack it herself"),
	all(Seasoning, "seasoned", "seasoned", "fully seasoned", "well seasoned", "well-seasoned", "properly seasoned", "season"),
	all(Seasoning, "green", "green", "unseasoned", "not seasoned"),
	all(Seasoning, "kiln-dried", "kiln-dried", "kiln dried", "kilndried", "kiln dry", "kiln", "kd"),
	all(Asked, "dry", "dry", "very dry", "dried", "air dried", "air-dried", "barn dried", "cured", "ready to burn", "burn ready", "bone dry"),
	all(Asked, "part", "half seasoned", "half-seasoned", "semi seasoned", "semi-seasoned", "partly seasoned", "part seasoned", "nearly seasoned", "almost seasoned", "nearly dry", "almost dry", "half dry"),
	all(Asked, "fresh", "fresh", "fresh cut", "fresh-cut", "freshly cut", "freshly felled", "just cut", "wet"),
)

func all(kind Kind, value string, words ...string) (list []phrase) {
	for _, w := range words {
		list = append(list, phrase{w, kind, value})
	}
	return list
}

func sorted(lists ...[]phrase) []phrase {
	list := slices.Concat(lists...)
	slices.SortStableFunc(list, func(a, b phrase) int { return len(strings.Fields(b.words)) - len(strings.Fields(a.words)) })
	return list
}

// phrases takes what is said in set words.
func (r *reader) phrases() {
	for _, p := range known {
		words := strings.Fields(p.words)
		for i := 0; i+len(words) <= len(r.tokens); i++ {
			if !r.free(i, i+len(words)) || r.said(i, i+len(words)) != p.words || r.negated(i) || r.noun(p, i) {
				continue
			}
			if p.kind == Asked {
				r.askHowDry(p.value, i, i+len(words))
				continue
			}
			r.take(p.kind, i, i+len(words), p.value)
		}
	}
}

// noun tells whether a phrase at a token is something else there: “a stack”, “split it between
// us”.
func (r *reader) noun(p phrase, i int) bool {
	return p.words == "split" && r.at(i+1, "the", "it", "between", "with", "into") || p.words == "stack" && r.at(i-1, "a", "the", "of", "my", "one")
}

// prepared gives the quantity the words on sawing, on which what a cord is depends in some
// places.
func (r *reader) prepared() {
	for i := range r.tokens {
		from := i
		if !r.free(i, i+1) || !r.at(i, "sawed", "sawn", "cut") || r.negated(i) && !r.at(i-1, "not") || i+1 < len(r.tokens) && !r.tokens[i+1].apart && r.tokens[i+1].kind == "" && !r.at(i+1, idle...) {
			continue
		}
		if r.at(i-1, "not") && r.free(i-1, i+1) {
			from--
		}
		r.take(Split, from, i+1, "")
	}
}

// preparation is what the line says was done to the wood, in words for measure to read.
func (r *reader) preparation() string {
	sawed, split := "", ""
	for i := range r.tokens {
		if r.tokens[i].kind != Split {
			continue
		}
		switch {
		case r.at(i, "sawed", "sawn", "cut") && r.at(i-1, "not"):
			sawed = "not sawed"
		case r.at(i, "sawed", "sawn", "cut"):
			sawed = "sawed"
		case r.at(i, "split", "splits"):
			split = " and split"
		}
	}
	if sawed == "sawed" {
		return sawed + split
	}
	return sawed
}

// conflicts asks where the line says two things of a kind that differ.
func (r *reader) conflicts() {
	r.oneOf(Split, "split", measure.Say("How is it to be split?"))
	r.oneOf(Stacking, "stacking", measure.Say("Is it to be stacked?"))
	r.oneOf(Seasoning, "seasoning", measure.Say("Is it green, seasoned or kiln-dried?"))
}

// oneOf asks where two groups of a kind differ.
func (r *reader) oneOf(kind Kind, field string, ask measure.Text) {
	found := slices.DeleteFunc(r.of(kind), func(g group) bool { return g.value == "" || g.value == "split" })
	for i := 1; i < len(found); i++ {
		if found[i].value == found[0].value {
			continue
		}
		q := &measure.InputError{Field: field, Code: "conflict", Got: r.line, Reason: ask, Accepts: measure.Say("one of them")}
		for j, g := range []group{found[0], found[i]} {
			other := []group{found[i], found[0]}[j]
			q.Choices = append(q.Choices, r.choice(r.only(g, other), measure.Say("%s", r.text(g.from, g.to))))
		}
		r.askAll(q, found...)
		return
	}
}

// askHowDry asks what a word says of how dry it is that the law has no statement for.
func (r *reader) askHowDry(how string, from, to int) {
	q := &measure.InputError{Field: "seasoning", Code: "unclear", Got: r.text(from, to), Accepts: measure.Say("green, seasoned or kiln-dried")}
	could := []string{"seasoned", "kiln-dried"}
	switch how {
	case "part":
		could = []string{"seasoned", "green"}
		q.Reason = measure.Say("Is it seasoned, or still green?")
	case "fresh":
		could = []string{"green"}
		q.Reason = measure.Say("Is that green wood?")
	default:
		q.Reason = measure.Say("Is that dried outdoors, so seasoned, or kiln-dried?")
	}
	for _, state := range could {
		q.Choices = append(q.Choices, r.choice(r.swapped(from, to, state), measure.Say("%s", measure.Say(state))))
	}
	q.Choices = append(q.Choices, r.noted(group{from: from, to: to}))
	r.ask(q, from, to)
}

// negators turn what follows into what isn't wanted.
var negators = []string{"no", "not", "never", "without", "except", "don't", "doesn't", "nothing", "avoid", "isn't", "won't", "can't", "cannot", "neither", "nor"}

// negated tells whether a word before a token, with nothing to part them, turns it round.
func (r *reader) negated(i int) bool {
	for ; i > 0 && !r.tokens[i].apart; i-- {
		if r.at(i-1, negators...) || r.at(i-1, "than", "of") && r.at(i-2, "rather", "instead") || r.at(i-1, "but") && r.at(i-2, "anything") {
			return true
		}
		if r.at(i-1, "but") {
			return false
		}
	}
	return false
}
