package spoken

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/day"
)

// idle are words that say nothing by themselves: they join others, or are polite.
var idle = strings.Fields(`a an the of and & with in for to on at by it that's thats that is be it's its them please thanks thank you cheers hi hello hey morning's i i'd id i'll we we'd he he'd she she'd they they'd
	like want wants need needs wanted needed take takes have get give me us him her would could can may i'm looking order orders ordering send deliver delivered delivery bring brought come drop dropped off
	wood firewood pieces piece splits cut worth some then also too usual as said some time`)

// plainly are words that praise or describe, and change nothing of what stands beside them.
var plainly = strings.Fields("nice good best decent clean local quality lovely great straight proper small big large short thick thin chunky")

// idle takes the words that say nothing.
func (r *reader) idle() {
	for i := range r.tokens {
		if r.tokens[i].kind == "" && (r.at(i, idle...) || r.tautology(i)) {
			r.tokens[i].kind = Idle
		}
	}
}

// tautology tells whether a word only says again what the one beside it does: “16 inch
// long”, “a stack 4 by 4 by 8”.
func (r *reader) tautology(i int) bool {
	switch {
	case i > 0 && r.at(i, "long", "length", "lengths", "log", "logs") && !r.tokens[i].apart:
		return r.tokens[i-1].kind == Piece || r.tokens[i-1].kind == Wood || r.at(i-1, "length", "lengths", "log", "logs") && r.tokens[i-1].kind == Idle
	case i+1 < len(r.tokens) && r.at(i, "stack", "row", "pile"):
		return r.tokens[i+1].kind == Quantity
	}
	return false
}

// stranger tells whether the words that lead to a token, with nothing to part them, end in
// one that isn't understood.
func (r *reader) stranger(i int) bool {
	for ; i >= 0; i-- {
		if i+1 < len(r.tokens) && r.tokens[i+1].apart {
			return false
		}
		switch r.tokens[i].kind {
		case Idle:
		case "":
			return !r.at(i, plainly...)
		default:
			return false
		}
	}
	return false
}

// beside tells whether the token after something, with nothing to part them, isn't
// understood.
func (r *reader) beside(i int) bool {
	return i < len(r.tokens) && r.tokens[i].kind == "" && !r.tokens[i].apart && !r.at(i, plainly...) && !r.at(i, leads...)
}

// leads are words with which something new begins.
var leads = strings.Fields("but if when where near behind beside under over around from inside outside into onto next down up before after until because so which who call ring text leave put back driveway asap soon whenever quick quickly urgent never not no without except")

// hedges are words beside a quantity that make it another.
var hedges = strings.Fields("about around roughly approx approx. approximately maybe perhaps nearly almost over under least most more less up plus extra another each every per twice double either or so ish minimum maximum max min minus")

// doubts asks about what is understood and stands in words that aren't.
func (r *reader) doubts() {
	r.hedged()
	r.asides()
	r.oneWood()
	r.oneDay()
	r.oneLength()
	r.conditional()
	r.unitless()
	for _, g := range slices.Clone(r.groups) {
		before := r.led(g)
		switch {
		case r.tokens[g.from].kind == Asked:
		case g.kind == Day && before:
			r.askWhether(g, "day", measure.Say("Is it to be delivered then: %s?", r.dayOf(g)))
		case g.kind == Wood && (before || r.beside(g.to)):
			r.askWhether(g, "species", measure.Say("Is the wood %s?", g.value))
		case g.kind == Piece && (before || r.beside(g.to)):
			r.askWhether(g, "piece_length", measure.Say("Are the pieces %s long?", measure.Say("%s", g.value)))
		case g.kind == Seasoning && r.beside(g.to) && !r.years(g.to):
			r.askWhether(g, "seasoning", measure.Say("Is the wood %s?", measure.Say(g.value)))
		}
	}
}

// led tells whether a group follows words that aren't understood, with nothing to part them.
func (r *reader) led(g group) bool { return !r.tokens[g.from].apart && r.stranger(g.from-1) }

// asides leaves to the notes what stands among words that aren't understood, where the
// line says the same thing plainly too: “oak … ring Apple Farm”.
func (r *reader) asides() {
	for _, kind := range []Kind{Wood, Day, Piece} {
		found := r.of(kind)
		firm := slices.ContainsFunc(found, func(g group) bool { return !r.led(g) && !r.beside(g.to) })
		for _, g := range found {
			if firm && (r.led(g) || r.beside(g.to) && kind != Day) {
				r.groups = slices.DeleteFunc(r.groups, func(other group) bool { return other.from == g.from })
				r.mark("", g.from, g.to)
			}
		}
	}
}

// years tells whether a length of time is next: "seasoned two years".
func (r *reader) years(i int) bool {
	return r.at(i+1, "year", "years", "month", "months", "summer", "summers", "winter", "winters", "season", "seasons")
}

// askWhether asks whether a group is what it was taken for: with yes it is parted from the
// words around it, else it is a note with them.
func (r *reader) askWhether(g group, field string, ask measure.Text) {
	line := strings.TrimRight(r.line[:r.tokens[g.from].from], " ,")
	if line != "" {
		line += ", "
	}
	line += r.text(g.from, g.to)
	if after := strings.TrimLeft(r.line[r.tokens[g.to-1].to:], " "); after != "" {
		line += ", " + strings.TrimLeft(after, ", ")
	}
	q := &measure.InputError{Field: field, Code: "unclear", Got: r.around(g), Reason: ask, Accepts: measure.Say("the same with a comma around it, if so"),
		Choices: append([]measure.Choice{r.choice(line, measure.Say("Yes"))}, r.asNote(g)...)}
	r.askAll(q, g)
}

// around is a group with the words beside it that aren't understood.
func (r *reader) around(g group) string {
	for g.from > 0 && !r.tokens[g.from].apart && r.loose(g.from-1) {
		g.from--
	}
	for g.to < len(r.tokens) && !r.tokens[g.to].apart && r.loose(g.to) {
		g.to++
	}
	return r.text(g.from, g.to)
}

// hedged asks how much it is exactly.
func (r *reader) hedged() {
	for _, g := range r.of(Quantity) {
		from, to := g.from, g.to
		for from > 0 && !r.tokens[from].apart && (r.at(from-1, hedges...) || r.at(from-1, "to", "than", "or") && r.at(from-2, hedges...) || r.at(from-1, "no", "at") && r.at(from, hedges...)) {
			from--
		}
		for to < len(r.tokens) && !r.tokens[to].apart && r.at(to, hedges...) && (r.loose(to) || r.tokens[to].kind == Day) {
			to++
		}
		switch {
		case r.at(to, "at") && r.at(to+1, "most", "least"):
			to += 2
		case to < len(r.tokens) && r.at(to, "or", "maybe", "perhaps", "possibly") && (r.at(to+1, numbers...) || to+1 < len(r.tokens) && bare.MatchString(r.tokens[to+1].text)):
			to += 2
		case to > g.to && r.at(to-1, "or") && r.at(to, numbers...):
			to++
		}
		for from < g.from && r.at(from, "or", "so") || from < g.from && r.tokens[from].kind != "" && r.tokens[from].kind != Idle {
			from++
		}
		if from == g.from && to == g.to || r.at(to-1, "before", "after", "over", "under", "around", "about", "up") && to > g.to && from == g.from {
			continue
		}
		q := &measure.InputError{Field: "quantity", Code: "hedged", Got: r.text(from, to), Reason: measure.Say("How much is it exactly?"), Accepts: measure.Say("one quantity, such as 2 cords"),
			Choices: []measure.Choice{r.choice(r.swapped(from, to, r.text(g.from, g.to)), measure.Say("%s", r.text(g.from, g.to)))}}
		r.askAll(q, g)
		r.mark(Asked, from, to)
	}
}

// conditional asks which of two is meant that “or” joins.
func (r *reader) conditional() {
	for i := 1; i+1 < len(r.tokens); i++ {
		if !r.at(i, "or") || r.tokens[i].kind != "" {
			continue
		}
		left := slices.IndexFunc(r.groups, func(g group) bool { return g.to == i && g.kind != Asked })
		right := slices.IndexFunc(r.groups, func(g group) bool { return g.from == i+1 && g.kind != Asked })
		if left < 0 || right < 0 || r.groups[left].kind != r.groups[right].kind {
			continue
		}
		a, b := r.groups[left], r.groups[right]
		r.askAll(&measure.InputError{Field: string(a.kind), Code: "conflict", Got: r.text(a.from, b.to), Reason: measure.Say("Which of the two?"), Accepts: measure.Say("one of them"),
			Choices: []measure.Choice{r.choice(r.only(a, b), measure.Say("%s", r.text(a.from, a.to))), r.choice(r.only(b, a), measure.Say("%s", r.text(b.from, b.to)))}}, a, b)
		r.mark(Asked, i, i+1)
	}
}

// street tells whether a wood at a token only names something: "12 Cherry Street".
func (r *reader) street(i int) bool {
	at := slices.IndexFunc(r.groups, func(g group) bool { return g.kind == Wood && g.from == i })
	return at >= 0 && r.beside(r.groups[at].to)
}

// unitless asks what a number is that stands among what is understood, without a unit.
func (r *reader) unitless() {
	for i := range r.tokens {
		t := r.tokens[i]
		if t.kind != "" || !bare.MatchString(t.text) || r.street(i+1) || !t.apart && r.stranger(i-1) || r.beside(i+1) || i+1 < len(r.tokens) && !r.tokens[i+1].apart && r.stranger(i+1) {
			continue
		}
		if r.at(i-1, "the", "by", "on") {
			r.ask(&measure.InputError{Field: "day", Code: "unclear", Got: r.text(i-1, i+1), Reason: measure.Say("Is that the %s of the month?", t.text), Accepts: measure.Say("the day with its month, or as the 5th"),
				Choices: []measure.Choice{r.choice(r.swapped(i, i+1, t.text+"th"), measure.Say("Yes"))}}, i, i+1)
			continue
		}
		q := &measure.InputError{Field: "piece_length", Code: "no-unit", Got: t.text, Reason: measure.Say("%s what? If it is how long the pieces are, inches or centimetres?", t.text), Accepts: measure.Say("the number with its unit, such as 16 in")}
		for _, unit := range []string{"in", "cm"} {
			if l, err := measure.ParseLength(t.text + " " + unit); err == nil && l >= shortest && l <= longest {
				q.Choices = append(q.Choices, r.choice(r.swapped(i, i+1, t.text+" "+unit), measure.Say("%s", l)))
			}
		}
		q.Choices = append(q.Choices, r.asNote(group{from: i, to: i + 1})...)
		r.ask(q, i, i+1)
	}
}

// notes keeps what isn't understood.
func (r *reader) notes() {
	marked := r.out.Notes
	r.out.Notes = nil
	for i := 0; i < len(r.tokens); {
		from, strange := i, false
		for i < len(r.tokens) && r.loose(i) && (i == from || !r.tokens[i].apart) {
			strange = strange || r.tokens[i].kind == ""
			i++
		}
		to := i
		if i == from {
			i++
		}
		if !strange {
			continue
		}
		for r.at(from, "wood", "firewood") || r.at(from, joining...) {
			from++
		}
		for r.at(to-1, joining...) {
			to--
		}
		r.mark(Note, from, to)
		r.out.Notes = append(r.out.Notes, r.text(from, to))
	}
	r.out.Notes = append(r.out.Notes, marked...)
}

// joining are the words that a note neither begins nor ends with.
var joining = strings.Fields("and & of with")

// result gathers what was understood.
func (r *reader) result() Line {
	for _, g := range r.groups {
		if r.tokens[g.from].kind == Asked || g.kind == Asked {
			continue
		}
		switch g.kind {
		case Quantity:
			if r.out.Quantity == "" {
				r.out.Quantity = g.value
			}
		case Wood:
			r.out.Species = g.value
		case Seasoning:
			r.out.Seasoning = g.value
		case Piece:
			r.out.Piece, _ = measure.ParseLength(g.value) // as it was written from one
		case Split:
			if g.value != "" && r.out.Split != Unsplit && (r.out.Split == "" || g.value != string(AnySplit)) {
				r.out.Split = SplitSize(g.value)
			}
		case Stacking:
			r.out.Stacking = Stack(g.value)
		case Day:
			r.out.Day, _ = day.Parse(g.value, r.about.Today) // as it was written from one
		}
	}
	if how := r.preparation(); how != "" && r.out.Quantity != "" {
		r.out.Quantity += " " + how
	}
	for _, t := range r.tokens {
		kind := t.kind
		if last := len(r.out.Parts) - 1; last >= 0 && r.out.Parts[last].Kind == kind && !t.apart {
			r.out.Parts[last].To = t.to
			continue
		}
		r.out.Parts = append(r.out.Parts, Part{kind, t.from, t.to})
	}
	return r.out
}
