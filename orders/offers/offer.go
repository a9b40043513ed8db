// Package offers holds offers of wood against each other, by the cord and by its heat, as ranges with
// what they come from. Nothing of them is kept.
package offers

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// mostOffers is how many offers are compared at once.
const mostOffers = 12

// An Offer is wood as somebody offers it, and what of it is known. Nothing of it is kept.
type Offer struct {
	Text  string      `json:"offer"` // as typed; it may hold a term that no page shows
	Price money.Money `json:"price"`
	// Ranked is how much wood it is expected to be once stacked.
	Ranked stack.Range `json:"ranked"`
	// Species is as the offer names it, empty where it doesn't.
	Species string `json:"species,omitempty"`
	// Heat is what a cord of it gives, dried to 20 % dry basis, once all water has left as
	// steam; zero where the species isn't known.
	Heat wood.HeatRange `json:"heat_a_cord,omitzero"`
	Why  []measure.Text `json:"why"` // what the ranges come from
	Ask  []measure.Text `json:"ask"` // what to ask the seller, so that they get narrower
	// Fault is why it can't be compared; nil where it can.
	Fault *measure.InputError `json:"fault,omitempty"`
}

// Per is the lowest and the highest price of a volume of stacked wood.
func (o Offer) Per(v measure.Volume) (low, high money.Money) {
	return o.Price.ForVolume(v, o.Ranked.High), o.Price.ForVolume(v, o.Ranked.Low)
}

// PerHeat is the lowest and the highest price of an amount of heat; false where the species
// isn't known.
func (o Offer) PerHeat(h wood.Heat) (low, high money.Money, known bool) {
	if o.Heat.Low <= 0 {
		return money.Money{}, money.Money{}, false
	}
	most := o.Ranked.High.In(measure.Cord) * float64(o.Heat.High)
	least := o.Ranked.Low.In(measure.Cord) * float64(o.Heat.Low)
	per := func(heat float64) money.Money {
		return o.Price.ForVolume(measure.Volume(float64(measure.Cord)*float64(h)/heat), measure.Cord)
	}
	return per(most), per(least), true
}

// CompareOffers reads offers, one a line: "2 m³ loose birch, €150". A sum without another
// mark than "$" is in home where that is a dollar. It is Invalid without any, and where
// there are too many; an offer that can't be read says so in its Fault.
func Compare(text, home string) ([]Offer, error) {
	var f act.Fields
	var offers []Offer
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			offers = append(offers, readOffer(line, home))
		}
	}
	switch {
	case len(offers) == 0:
		f.Missing("offers", acceptedOffer())
	case len(offers) > mostOffers:
		f.Add("offers", "too-many", "", measure.Say("there are more than %d offers", mostOffers), measure.Say("at most %d, one a line", mostOffers))
	}
	return offers, f.Err()
}

func acceptedOffer() measure.Text {
	return measure.Say("how much of what wood, and for how much, such as “2 m³ loose birch, €150”")
}

// readOffer reads one offer.
func readOffer(text, home string) (o Offer) {
	o = Offer{Text: text, Why: []measure.Text{}, Ask: []measure.Text{}}
	if len(text) > measure.MaxText {
		o.Fault = &measure.InputError{Field: "offers", Code: "too-long", Reason: measure.Say("it is too long for an offer"), Accepts: acceptedOffer()}
		return o
	}
	rest, unit, err := o.priced(text, home)
	if err == nil {
		err = o.sized(rest, unit)
	}
	if err != nil {
		if !errors.As(err, &o.Fault) {
			o.Fault = &measure.InputError{Field: "offers", Code: "not-read", Reason: measure.Say("it isn’t understood"), Accepts: acceptedOffer()}
		}
		return o
	}
	if err := o.heated(); err != nil {
		errors.As(err, &o.Fault)
	}
	return o
}

// priceForm is a sum with its currency before or behind it, and what it is for.
var priceForm = regexp.MustCompile(`(?i)(?:\b(?:for|at|@)\s+)?(?:([$€£])\s?([0-9][0-9.,]*[0-9]|[0-9])|([0-9][0-9.,]*[0-9]|[0-9])\s?(€|£|\$|\b(?:usd|cad|eur|gbp|euros?|dollars?|pounds?|bucks)\b))(?:\s*(?:/|\b(?:a|an|per)\b)\s*((?:full |face )?(?:cord|rick|m³|m3|cubic (?:metre|meter|foot)|stere)))?`)

// brought are words on what else is done for the price.
var brought = regexp.MustCompile(`(?i)(?:\b(?:plus|with|including|incl\.?)\s+|\+\s*)?(?:for\s+)?\b(?:delivery|delivered|stacking)\b`)

var currencies = map[string]string{"$": "USD", "€": "EUR", "£": "GBP", "usd": "USD", "cad": "CAD", "eur": "EUR", "gbp": "GBP", "euro": "EUR", "euros": "EUR",
	"dollar": "USD", "dollars": "USD", "bucks": "USD", "pound": "GBP", "pounds": "GBP"}

// priced takes the price out of an offer, and gives the rest and the unit that it is for,
// empty where it is for all. What is charged besides, said with "plus", is added.
func (o *Offer) priced(text, home string) (rest, unit string, err error) {
	found := priceForm.FindAllStringSubmatchIndex(text, -1)
	if len(found) == 0 {
		return "", "", &measure.InputError{Field: "offers", Code: "no-price", Got: text, Reason: measure.Say("it names no price with its currency"), Accepts: acceptedOffer()}
	}
	rest = text
	for i, at := range found {
		part := func(n int) string {
			if at[2*n] < 0 {
				return ""
			}
			return text[at[2*n]:at[2*n+1]]
		}
		code := currencies[strings.ToLower(part(1)+part(4))]
		if code == "USD" && slices.Contains([]string{"CAD", "AUD", "NZD"}, home) && !strings.EqualFold(part(4), "usd") {
			code = home
		}
		sum, err := money.Parse(part(2)+part(3), code)
		if err != nil {
			return "", "", err
		}
		rest = strings.Replace(rest, part(0), " ", 1)
		switch {
		case i == 0:
			o.Price, unit = sum, part(5)
		case !strings.Contains(strings.ToLower(text), "plus") && !strings.Contains(text, "+") || sum.Currency != o.Price.Currency:
			return "", "", &measure.InputError{Field: "offers", Code: "two-prices", Got: text, Reason: measure.Say("it names two prices"), Accepts: measure.Say("one price, or what is charged besides with “plus”")}
		default:
			o.Price = o.Price.Add(sum)
			o.Why = append(o.Why, measure.Say("The price is %s with what is charged besides.", o.Price))
		}
	}
	if o.Price.Minor == 0 {
		return "", "", &measure.InputError{Field: "offers", Code: "no-price", Got: text, Reason: measure.Say("its price is nothing"), Accepts: acceptedOffer()}
	}
	rest = brought.ReplaceAllString(rest, " ")
	return strings.Trim(strings.Join(strings.Fields(rest), " "), " ,;:-"), unit, nil
}

// What a pickup's bed holds, level with its sides: from a short one (66 by 49 in between the
// wheel housings, 20 in deep) to a long one (97 by 62 in, 22 in deep). Common practice, no
// source.
const (
	shortBed = 66 * 49 * 20 * measure.CubicInch
	longBed  = 97 * 62 * 22 * measure.CubicInch
)

// The lengths that wood is commonly cut to where nobody says it: common practice, no source.
const (
	shortPiece = 12 * measure.Inch
	longPiece  = 24 * measure.Inch
)

var pickup = regexp.MustCompile(`(?i)\b(?:(a|an|one|1)\s+)?pick-?\s?up(?:\s+truck)?(?:\s*-?load|\s+bed)?(?:\s+load)?(?:\s+of)?\b`)

// bareUnit is a unit that an offer begins with: one of it is meant.
var bareUnit = regexp.MustCompile(`(?i)^(?:(?:full|face)\s+)?(?:cord|rick)\b`)

// sized finds how much wood is offered, and which.
func (o *Offer) sized(rest, unit string) error {
	if at := pickup.FindStringIndex(rest); at != nil {
		o.wood([]string{rest[:at[0]], rest[at[1]:]})
		thrown := stack.OnceRanked(measure.Quantity{Volume: shortBed, Basis: measure.Loose}, 0)
		o.Ranked = stack.Range{Low: thrown.Low, High: longBed}
		o.Why = append(o.Why, measure.Say("A pickup’s bed is taken from a short one with the wood thrown in, level with its sides, to a long one with the wood stacked in it: common practice."))
		o.Ask = append(o.Ask, measure.Say("How long, wide and high is the wood on the truck, and is it stacked or thrown in?"))
		return nil
	}
	terms := measure.Terms{ReadBack: true}
	quantity := bareUnit.ReplaceAllString(rest, "1 $0") // "face cord of oak"
	if unit != "" {
		quantity = "1 " + unit + " " + words(rest)
	}
	said, err := terms.ParseQuantity(quantity)
	var fault *measure.InputError
	if errors.As(err, &fault) && fault.Code == "needs-piece-length" {
		return o.betweenLengths(terms, quantity)
	}
	if err != nil {
		return err
	}
	o.wood(said.Rest)
	o.Ranked = stack.OnceRanked(said.Quantity, said.PieceLength)
	if said.Quantity.Basis != measure.Ranked {
		o.Why = append(o.Why, o.Ranked.Why)
	}
	if said.Barred != "" {
		o.Why = append(o.Why, measure.Say("It names no legal measure: it is taken for a row 4 ft high and 8 ft long of pieces %s long, as is common practice.", said.PieceLength))
		o.Ask = append(o.Ask, measure.Say("How high and how long is the stack?"))
	}
	if said.Unsaid {
		o.Ranked.Low = stack.OnceRanked(measure.Quantity{Volume: said.Quantity.Volume, Basis: measure.Loose}, said.PieceLength).Low
		o.Why = append(o.Why, measure.Say("Nobody says whether it is stacked or thrown, so it is taken from one to the other: common practice."))
		o.Ask = append(o.Ask, measure.Say("Is that stacked or thrown?"))
	}
	return nil
}

// words are those of a text that hold no figure: of an offer with a price for one unit, what
// wood it is.
func words(text string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(text), func(w string) bool {
		lower := strings.ToLower(strings.Trim(w, ",.;:"))
		return strings.ContainsAny(w, "0123456789") || slices.Contains([]string{"cord", "cords", "face", "full", "rick", "ricks", "at", "for"}, lower)
	}), " ")
}

// betweenLengths sizes an offer that goes by the length of its pieces, which nobody said.
func (o *Offer) betweenLengths(terms measure.Terms, text string) error {
	terms.Piece = shortPiece
	short, err := terms.ParseQuantity(text)
	if err != nil {
		return err
	}
	terms.Piece = longPiece
	long, err := terms.ParseQuantity(text)
	if err != nil {
		return err
	}
	o.wood(long.Rest)
	o.Ranked = stack.Range{Low: short.Quantity.Volume, High: long.Quantity.Volume}
	o.Why = append(o.Why, measure.Say("It names no legal measure: it is taken for a row 4 ft high and 8 ft long, of pieces from %s to %s long, as is common practice.", shortPiece, longPiece))
	o.Ask = append(o.Ask, measure.Say("How long are the pieces, and how high and long is the stack?"))
	return nil
}

// wood takes the species from the words that say no size.
func (o *Offer) wood(rest []string) {
	species, seasoning := spoken.WoodOf(strings.Join(rest, ", "))
	if species != "" {
		o.Species = species
	}
	if seasoning == string(yard.Green) {
		o.Why = append(o.Why, measure.Say("It is green: it can’t be burned well until it has dried."))
	}
}

// heated finds the heat in a cord of the wood.
func (o *Offer) heated() error {
	mixes, err := wood.ParseMixes(o.Species)
	if o.Species == "" || err != nil {
		o.Ask = append(o.Ask, measure.Say("Which wood is it? Heavy wood gives more heat for the same room."))
		return nil
	}
	for i, mix := range mixes {
		moisture, err := mix.MoistureOf("20 %", wood.Dry)
		if err != nil {
			return err
		}
		e, err := wood.Weigh(mix, measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, moisture)
		if err != nil {
			return err
		}
		if i == 0 {
			o.Heat = e.Net
		}
		o.Heat.Low, o.Heat.High = min(o.Heat.Low, e.Net.Low), max(o.Heat.High, e.Net.High)
	}
	if len(mixes) > 1 {
		o.Why = append(o.Why, measure.Say("Several species go by the name %s, so its heat is from the lightest to the heaviest of them.", o.Species))
	}
	o.Why = append(o.Why, measure.Say("Heat is that of wood dried to 20 % dry basis, 70 to 90 ft³ of solid wood in 128 ft³ stacked, once its water has left as steam."))
	return nil
}

// Cheapest is the number of the offer, from 0, that costs least by the cord whatever the
// ranges; -1 where they overlap, or hardly any can be compared.
func Cheapest(offers []Offer) int {
	best := -1
	for i, o := range offers {
		if o.Fault != nil {
			continue
		}
		_, high := o.Per(measure.Cord)
		others := 0
		beats := !slices.ContainsFunc(offers, func(other Offer) bool {
			if other.Fault != nil || other.Text == o.Text {
				return false
			}
			others++
			low, _ := other.Per(measure.Cord)
			return low.Currency != high.Currency || low.Minor <= high.Minor
		})
		if beats && others > 0 {
			best = i
		}
	}
	return best
}
