package spoken

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// amountOf is an amount with a sign of its currency, and what may be typed on to it.
var amountOf = regexp.MustCompile(`^@?([$€£]\d[\d.,]*|\d[\d.,]*[$€£])(/\S+)?$`)

// plainAmount is a number without a currency that may be an amount.
var plainAmount = regexp.MustCompile(`^@?(\d+(?:[.,]\d\d)?)(/\S+)?$`)

// currencies are the words after an amount, to the sign or code that money reads.
var currencies = map[string]string{
	"$": "$", "€": "€", "£": "£", "dollars": "$", "bucks": "$", "euro": "€", "euros": "€", "pounds": "£", "quid": "£", "usd": "USD", "eur": "EUR", "gbp": "GBP", "cad": "CAD",
}

// leastPrice is the least number that is taken for a price where no currency is said:
// smaller ones are lengths, days and hours.
const leastPrice = 30

// A cost is an amount found in the line: its tokens, and what they say it is for.
type cost struct {
	from, to  int
	amount    string
	each, all bool
	other     bool // it is for a unit that the shop doesn't sell by, or for more than the wood
}

// priced takes what says what the wood costs. An amount that doesn't say what it is for is
// asked about; one for something else than the wood stays a question too.
func (r *reader) priced() {
	for i := 0; i < len(r.tokens); i++ {
		c, found := r.costAt(i)
		if !found {
			continue
		}
		switch {
		case c.other || r.out.Price != (Price{}):
			r.ask(&measure.InputError{Field: "quantity", Code: "price", Got: r.text(c.from, c.to), Reason: measure.Say("The price goes in its own field: %s", r.text(c.from, c.to)), Accepts: measure.Say("the line without it"),
				Choices: []measure.Choice{r.noted(group{from: c.from, to: c.to})}}, c.from, c.to)
		case !c.each && !c.all:
			r.askForWhat(c)
		default:
			r.out.Price = Price{c.amount, c.each}
			r.mark(Cost, c.from, c.to)
		}
		i = c.to - 1
	}
}

// askForWhat asks whether an amount is for each unit of sale or for all of the wood.
func (r *reader) askForWhat(c cost) {
	begins := c.from
	if r.at(begins, "at", "@") {
		begins++
	}
	text, unit := strings.TrimPrefix(r.text(begins, c.to), "@"), r.unit()
	r.ask(&measure.InputError{Field: "quantity", Code: "price", Got: text, Reason: measure.Say("Is %s for each %s, or for all of the wood?", text, unit), Accepts: measure.Say("the price with a word more, such as 280 each, or for 280"),
		Choices: []measure.Choice{
			r.choice(r.swapped(c.from, c.to, text+" each"), measure.Say("For each %s", unit)),
			r.choice(r.swapped(c.from, c.to, "for "+text), measure.Say("For all of the wood")),
			r.noted(group{from: c.from, to: c.to}),
		}}, c.from, c.to)
}

// unit is one of what wood is sold in.
func (r *reader) unit() measure.Text {
	for _, unit := range r.about.Units {
		switch {
		case strings.HasPrefix(unit, "m³"):
			return measure.Say("cubic metre")
		case strings.HasPrefix(unit, "cu ft"):
			return measure.Say("cubic foot")
		}
	}
	return measure.Say("cord")
}

// costAt gives the amount that begins at a token.
func (r *reader) costAt(i int) (c cost, found bool) {
	if !r.loose(i) {
		return c, false
	}
	c = cost{from: i, to: i + 1}
	per := ""
	if m := amountOf.FindStringSubmatch(r.tokens[i].text); m != nil {
		c.amount, per = m[1], m[2]
	} else if m := plainAmount.FindStringSubmatch(r.tokens[i].text); m != nil {
		c.amount, per = m[1], m[2]
	}
	if c.amount == "" {
		return c, false
	}
	signed := strings.ContainsAny(c.amount, "$€£")
	if !signed && r.follows(c.to) {
		if mark, known := currencies[strings.TrimSuffix(r.tokens[c.to].text, ".")]; known {
			c.amount, signed = c.amount+" "+mark, true
			c.to++
		}
	}
	r.perWhat(&c, strings.TrimPrefix(per, "/"))
	at, number := strings.HasPrefix(r.tokens[i].text, "@"), 0.0
	if i > 0 && !r.tokens[i].apart && r.loose(i-1) {
		switch {
		case r.at(i-1, "at", "@") && (signed || c.each || r.at(i-1, "@")):
			at, c.from = true, i-1
		case r.at(i-1, "for"):
			c.all, c.from = !c.each, i-1
		}
	}
	c.other = c.other || !c.each && c.from > 0 && !r.tokens[c.from].apart && r.at(c.from-1, "delivered", "delivery", "stacked", "stacking", "haulage", "tip")
	c.each = c.each || at && !c.all && !r.partOrLoad()
	if !signed {
		number, _ = strconv.ParseFloat(strings.ReplaceAll(c.amount, ",", "."), 64)
		return c, number >= leastPrice && !c.other && (c.each || c.all && !r.follows(c.to))
	}
	c.other = c.other || r.at(c.from-1, "paid", "deposit", "down", "prepaid") || r.follows(c.to) && r.at(c.to, "delivered", "including", "incl", "inc", "with", "deposit", "down", "paid", "off", "extra", "more", "stacked")
	return c, true
}

// partOrLoad tells whether less than one unit is ordered, or loads of a truck: of those “at
// $150” may be what one costs or what all of it does.
func (r *reader) partOrLoad() bool {
	for i, t := range r.tokens {
		if r.at(i, loaded...) || r.at(i, "half", "quarter", "third", "½", "¼", "⅓", "¾") {
			return true
		}
		if strings.Contains(t.text, "/") && bare.MatchString(t.text[:1]) && !(i > 0 && bare.MatchString(r.tokens[i-1].text)) {
			return true
		}
	}
	return false
}

// follows tells whether a token is there, with nothing to part it from the one before.
func (r *reader) follows(i int) bool { return i < len(r.tokens) && !r.tokens[i].apart }

// perWhat reads what an amount is for, from what is typed on to it and the words behind it.
func (r *reader) perWhat(c *cost, joined string) {
	switch {
	case joined != "":
		c.each = r.soldBy(joined)
		c.other = !c.each
	case r.follows(c.to) && r.at(c.to, "each", "apiece"):
		c.each = true
		c.to++
	case r.follows(c.to) && r.at(c.to, "total", "altogether"):
		c.all = true
		c.to++
	case r.follows(c.to) && r.at(c.to, "in", "all") && r.follows(c.to+1) && r.at(c.to+1, "all", "in"):
		c.all = true
		c.to += 2
	case r.follows(c.to) && r.at(c.to, "a", "per", "the") && r.follows(c.to+1) && measured(r.tokens[c.to+1].text):
		c.each = r.soldBy(r.tokens[c.to+1].text)
		c.other = !c.each
		c.to += 2
	case r.follows(c.to+2) && r.at(c.to, "a", "per", "the") && r.at(c.to+1, "full", "face") && measured(r.tokens[c.to+2].text):
		c.each = r.at(c.to+1, "full") && r.soldBy(r.tokens[c.to+2].text)
		c.other = !c.each
		c.to += 3
	case r.follows(c.to+1) && r.at(c.to, "for") && (measured(r.tokens[c.to+1].text) || bare.MatchString(r.tokens[c.to+1].text) || r.at(c.to+1, numbers...)):
		c.all = true
	}
}

// soldBy tells whether a word is the unit that wood is sold in.
func (r *reader) soldBy(word string) bool {
	word = strings.TrimSuffix(word, ".")
	return slices.ContainsFunc(r.about.Units, func(unit string) bool {
		switch {
		case strings.HasPrefix(unit, "cord"):
			return word == "cord" || word == "cords"
		case strings.HasPrefix(unit, "m³"):
			return slices.Contains([]string{"m³", "m3", "cubic-metre", "cubic-meter", "cube"}, word)
		}
		return word == "ft³" || word == "ft3" || word == "cu-ft"
	})
}
