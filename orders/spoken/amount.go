package spoken

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// standing are the words for how wood stands when its volume is taken.
var standing = map[string]string{"stacked": "stacked", "ranked": "stacked", "loose": "loose", "thrown": "thrown", "tipped": "loose"}

// stands takes the word for how the wood stands, where the quantity leaves it open: of
// cords it says nothing, since they are stacked, and it is then about the stacking.
func (r *reader) stands() {
	if r.asked("quantity") { // it goes with what is asked
		for i := range r.tokens {
			if r.free(i, i+1) && r.at(i, "loose", "thrown", "tipped") {
				r.mark(Asked, i, i+1)
			}
		}
	}
	if len(r.of(Quantity)) != 1 {
		return
	}
	q := &r.groups[slices.IndexFunc(r.groups, func(g group) bool { return g.kind == Quantity })]
	cords := strings.Contains(strings.ToLower(q.value), "cord") || strings.Contains(strings.ToLower(q.value), "ric")
	for i := range r.tokens {
		if to := r.contained(i); to > 0 && q.weak && !cords {
			q.value, q.weak = q.value+" in a container", false
			r.mark(Quantity, i, to)
		}
		how := standing[r.tokens[i].text]
		if !r.free(i, i+1) || how == "" || r.negated(i) {
			continue
		}
		switch {
		case cords && how != "stacked" && r.about.LooseCords, !cords && q.weak:
			q.value, q.weak = q.value+" "+how, false
			r.mark(Quantity, i, i+1)
		case cords && r.at(i, "loose", "thrown"):
			r.ask(&measure.InputError{Field: "quantity", Code: "loose-cord", Got: r.tokens[i].text,
				Reason:  measure.Say("These rules of sale define no loose measure of a cord. Is it that much as stacked, and left unstacked at your place?"),
				Accepts: measure.Say("the same without “loose”, or loose wood in cubic feet: 180 cu ft loose"),
				Choices: []measure.Choice{r.choice(r.swapped(i, i+1, "not stacked"), measure.Say("Yes, that much, and not stacked"))}}, i, i+1)
		}
	}
	if q.weak && r.about.AsksBasis {
		r.ask(&measure.InputError{Field: "quantity", Code: "basis-unsaid", Got: q.value, Reason: measure.Say("stacked or loose? They are different measures, and these rules of sale know both"), Accepts: measure.Say("the same with “stacked” or “loose” after it"),
			Choices: []measure.Choice{r.choice(r.swapped(q.from, q.to, q.value+" stacked"), measure.Say("stacked")), r.choice(r.swapped(q.from, q.to, q.value+" loose"), measure.Say("loose"))}}, q.from, q.to)
		q.kind = Asked
	}
	if cords && !r.about.LooseCords && strings.Contains(strings.ToLower(q.value), "loose") {
		without := strings.Join(strings.Fields(strings.Replace(strings.ToLower(q.value), "loose", "", 1)), " ")
		r.out.Questions = append(r.out.Questions, &measure.InputError{Field: "quantity", Code: "loose-cord", Got: q.value,
			Reason:  measure.Say("These rules of sale define no loose measure of a cord. Is it that much as stacked, and left unstacked at your place?"),
			Accepts: measure.Say("the same without “loose”, or loose wood in cubic feet: 180 cu ft loose"),
			Choices: []measure.Choice{r.choice(r.swapped(q.from, q.to, without)+", not stacked", measure.Say("Yes, that much, and not stacked"))}})
		q.kind = Asked
		r.mark(Asked, q.from, q.to)
	}
}

// contained gives where “in a container” ends that begins at a token, 0 where none does.
func (r *reader) contained(i int) int {
	to := i + 1
	for r.at(to, "a", "the") {
		to++
	}
	if r.at(i, "in") && r.at(to, "container", "containers") && r.free(i, to+1) {
		return to + 1
	}
	return 0
}

// amounts settles how much wood it is: one quantity, or loads of a bed, or a question.
func (r *reader) amounts() {
	found := r.of(Quantity)
	switch {
	case len(found) > 1 && !r.same(found):
		first, last := found[0], found[len(found)-1]
		r.askAll(&measure.InputError{Field: "quantity", Code: "two-quantities", Got: r.line,
			Reason:  measure.Say("Is that two orders?"),
			Accepts: measure.Say("one quantity in an order; take a second order for the rest")}, first, last)
	case len(found) == 0 && !r.asked("quantity") && !r.loads() && !r.withoutUnit(bare) && !r.noSize():
		r.out.Questions = append(r.out.Questions, &measure.InputError{Field: "quantity", Code: "no-quantity",
			Reason: measure.Say("How much wood is it?"), Accepts: measure.Say("a quantity such as 2 cords, half a cord, 64 cu ft or 3.6 m³ stacked")})
	}
}

// asked tells whether something is asked about a field already.
func (r *reader) asked(field string) bool {
	return slices.ContainsFunc(r.out.Questions, func(q *measure.InputError) bool { return q.Field == field })
}

// askAll asks about some groups at once, in the order of the line; q is nil where that is
// asked already.
func (r *reader) askAll(q *measure.InputError, groups ...group) {
	if q != nil {
		r.out.Questions = append(r.out.Questions, q)
	}
	for i := range r.groups {
		if slices.ContainsFunc(groups, func(g group) bool { return g.from == r.groups[i].from }) {
			r.groups[i].kind = Asked
			r.mark(Asked, r.groups[i].from, r.groups[i].to)
		}
	}
	for i := 1; i < len(groups); i++ {
		if r.joined(groups[i-1], groups[i]) {
			r.mark(Asked, groups[i-1].from, groups[i].to)
		}
	}
}

// same tells whether quantities are one, said twice: "2 cords (256 cu ft)".
func (r *reader) same(found []group) bool {
	var first measure.Quantity
	for i, g := range found {
		said, err := r.terms().ParseQuantity(g.value)
		if err != nil || i > 0 && said.Quantity != first {
			return false
		}
		first = said.Quantity
	}
	return true
}

// loaded are the words for what a vehicle carries.
var loaded = []string{"truckload", "truckloads", "load", "loads", "trailerload", "trailerloads", "pickup", "truckful", "truck-load", "pickup-load"}

// loads reads a quantity in loads of a bed that was taped; false where none are said.
func (r *reader) loads() bool {
	beds, named := r.bedNamed()
	k := -1
	for i := range r.tokens {
		if r.loose(i) && r.at(i, loaded...) {
			k = i
			break
		}
	}
	switch {
	case k < 0 && named.to == 0:
		return false
	case k < 0:
		r.takeLoads(named.from, named.to, 1, beds)
		return true
	}
	from, to := k, k+1
	for from > 0 && !r.tokens[from].apart && r.at(from-1, "truck", "pickup", "trailer", "full") {
		from--
	}
	if r.at(to, "load", "loads") && !r.tokens[to].apart {
		to++
	}
	count, lead := r.loadsCounted(from)
	from -= lead
	if named.to == from || named.from == to { // beside the word for the load
		from, to = min(from, named.from), max(to, named.to)
		if named.from == from && from > 0 {
			count, lead = r.loadsCounted(from)
			from -= lead
		}
	} else if named.to > 0 {
		r.mark(Quantity, named.from, named.to)
	}
	r.takeLoads(from, to, count, beds)
	return true
}

// loadsCounted is how many loads the words before a token say, and how many words that are;
// 0 where that isn’t a whole number.
func (r *reader) loadsCounted(before int) (count, words int) {
	if before == 0 || r.tokens[before].apart {
		return 1, 0
	}
	t := r.tokens[before-1]
	if t.kind != "" && t.kind != Idle {
		return 1, 0
	}
	if n, err := strconv.Atoi(t.text); err == nil && n >= 1 && n <= 50 {
		return n, 1
	}
	if n := slices.Index(strings.Fields("one two three four five six seven eight nine ten"), t.text); n >= 0 {
		return n + 1, 1
	}
	switch {
	case r.at(before-1, "a", "an") && r.at(before-2, "half"):
		return 0, 2
	case r.at(before-1, "a", "an", "the", "full"):
		return 1, 1
	case r.at(before-1, "half", "1/2", "½", "1/4", "3/4", "few", "several", "some"):
		return 0, 1
	}
	return 1, 0
}

// bedNamed is the bed that the words name, and where; all of them where they name none.
func (r *reader) bedNamed() ([]Bed, group) {
	for _, b := range r.about.Beds {
		name := strings.Fields(strings.ToLower(b.Name))
		for i := 0; i+len(name) <= len(r.tokens) && len(name) > 0; i++ {
			from, to := i, i+len(name)
			if r.said(from, to) != strings.Join(name, " ") || slices.ContainsFunc(r.tokens[from:to], func(t token) bool { return t.kind != "" && t.kind != Idle }) {
				continue
			}
			for from > 0 && r.loose(from-1) && !r.tokens[from].apart && r.at(from-1, "the", "a", "in", "on", "of", "with", "by", "our", "my") {
				from--
			}
			if to < len(r.tokens) && r.loose(to) && r.at(to, "full") {
				to++
			}
			return []Bed{b}, group{from: from, to: to}
		}
	}
	return r.about.Beds, group{}
}

// takeLoads takes loads of the one bed that is meant, or asks.
func (r *reader) takeLoads(from, to, count int, beds []Bed) {
	got := r.text(from, to)
	switch {
	case len(beds) == 0:
		r.ask(&measure.InputError{Field: "quantity", Code: "no-bed", Got: got, Reason: measure.Say("How much is a load? No truck’s bed is taped yet"),
			Accepts: measure.Say("cords, cubic feet or cubic metres; or tape the bed once, up to its line, and loads are understood")}, from, to)
	case count == 0:
		r.ask(&measure.InputError{Field: "quantity", Code: "part-of-a-load", Got: got, Reason: measure.Say("How much is that? Only a bed that is full to its line was taped"),
			Accepts: measure.Say("whole loads, or cords, cubic feet or cubic metres")}, from, to)
	case len(beds) > 1:
		q := &measure.InputError{Field: "quantity", Code: "which-bed", Got: got, Reason: measure.Say("Which truck?"), Accepts: measure.Say("the load with the truck’s name")}
		for _, b := range beds {
			words := r.swapped(from, to, loadWords(count)+" in the "+b.Name)
			q.Choices = append(q.Choices, r.choice(words, measure.Say("%s to %s: %s", b.Name, b.Line, times(r, count, b.Quantity.String()))))
		}
		r.ask(q, from, to)
	default:
		r.out.Load = &Load{Bed: beds[0], Count: count}
		r.mark("", from, to)
		r.take(Quantity, from, to, times(r, count, beds[0].Quantity.String()))
	}
}

func loadWords(count int) string {
	if count == 1 {
		return "1 load"
	}
	return strconv.Itoa(count) + " loads"
}

// part is a fraction, which may be a date as well.
var part = regexp.MustCompile(`^(1/[2-9]|2/[35]|3/[458]|5/8|7/8|\d{0,3}[½¼¾⅓⅔⅛⅜⅝⅞])$`)

// fractions asks in what unit a fraction is, before it is taken for a date.
func (r *reader) fractions() {
	if len(r.of(Quantity)) == 0 && !r.asked("quantity") {
		r.withoutUnit(part)
	}
}

var bare = regexp.MustCompile(`^(\d{1,4}([.,]\d{1,2})?|\d{1,2}/\d{1,2}|\d{0,3}[½¼¾⅓⅔⅛⅜⅝⅞])$`)

// withoutUnit asks in what unit a number is; false where there is none that can be the
// quantity.
func (r *reader) withoutUnit(like *regexp.Regexp) bool {
	for i := range r.tokens {
		if !r.loose(i) || !like.MatchString(r.tokens[i].text) && !(like == bare && r.at(i, numbers...)) || like == bare && (r.stranger(i-1) || r.beside(i+1)) || r.at(i-1, "on", "by", "before", "after", "until", "from", "the") || r.at(i+1, loaded...) || r.at(i+1, "truck", "trailer") {
			continue
		}
		from, to := i, i+1
		if r.at(i-1, "a") && !r.tokens[i].apart {
			from--
		}
		if to < len(r.tokens) && !r.tokens[to].apart && bare.MatchString(r.tokens[to].text) {
			to++ // 1 1/2
		} else if like == part && i > 0 && !r.tokens[i].apart && bare.MatchString(r.tokens[i-1].text) {
			from, i = i-1, i-1
		}
		q := &measure.InputError{Field: "quantity", Code: "no-unit", Got: r.text(from, to), Reason: measure.Say("%s of what?", r.text(from, to)), Accepts: measure.Say("the number with its unit, such as 2 cords or 3.6 m³ stacked")}
		for _, words := range r.readable(r.inUnits(r.text(i, to))) {
			q.Choices = append(q.Choices, r.choice(r.swapped(from, to, words), measure.Say("%s", words)))
		}
		r.ask(q, from, to)
		return true
	}
	return false
}

func (r *reader) inUnits(number string) (could []string) {
	for _, unit := range r.about.Units {
		if slices.Contains([]string{"1", "1/2", "1/3", "1/4", "2/3", "3/4", "½", "¼", "¾", "⅓", "⅔"}, number) && unit == "cords" {
			unit = "cord"
		}
		could = append(could, number+" "+unit)
	}
	return could
}

// sizeless are words for how wood is carried, or sold elsewhere, that have no size anybody
// can check, with what to ask.
var sizeless = sizesAsked(map[string]measure.Text{
	"cube cubes bag bags sack sacks net nets crate crates pallet pallets bin bins bundle bundles armful barrow barrows wheelbarrow wheelbarrows bucket buckets ibc tote totes": measure.Say("How big is one? Its size has to be said"),
	"ton tons tonne tonnes kg kilo kilos lb lbs":                                        measure.Say("How much is that stacked? Wet wood weighs far more than dry, so it isn’t sold by weight here"),
	"heap heaps pile piles rack racks row rows stack stacks truck trailer scoop scoops": measure.Say("How much is that? It has no size that can be checked"),
})

func sizesAsked(lists map[string]measure.Text) map[string]measure.Text {
	all := map[string]measure.Text{}
	for list, ask := range lists {
		for _, word := range strings.Fields(list) {
			all[word] = ask
		}
	}
	return all
}

// noSize asks how much a quantity is that is said in something without a size.
func (r *reader) noSize() bool {
	for i := range r.tokens {
		why, found := sizeless[r.tokens[i].text]
		if !found || r.tokens[i].kind != "" {
			continue
		}
		from := i
		for from > 0 && r.counts(from-1) && (r.tokens[from-1].kind == "" || r.tokens[from-1].kind == Idle) && !r.tokens[from].apart {
			from--
		}
		r.ask(&measure.InputError{Field: "quantity", Code: "no-size", Got: r.text(from, i+1), Reason: why, Accepts: measure.Say("cords and fractions of a cord, cubic feet or cubic metres")}, from, i+1)
		return true
	}
	return false
}
