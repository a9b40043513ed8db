package storage

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Bounds of a shoulder.
const (
	MinShoulder = 2 * measure.Foot
	MaxShoulder = 6 * measure.Foot
)

// check gives everything that is out of bounds, nil when nothing is.
func (r Request) check() measure.InputErrors {
	var faults measure.InputErrors
	if in, is := check(r.Volume, r.PieceLength).(*measure.InputError); is && in != nil {
		if in.Field == "volume" {
			in.Field = "quantity"
		}
		faults = append(faults, in)
	}
	faults = append(faults, r.checkPlace(func(name string) string { return name })...)
	return within(faults, "shoulder", r.Shoulder, MinShoulder, MaxShoulder)
}

// checkPlace gives what is out of bounds of the place, its fields named by field.
func (r Request) checkPlace(field func(string) string) measure.InputErrors {
	var faults measure.InputErrors
	p := r.Place
	faults = within(faults, field("width"), p.Width, MinRoom, stack.MaxRowLength)
	faults = within(faults, field("depth"), p.Depth, MinRoom, stack.MaxRowLength)
	roof := measure.Length(0)
	if p.Kind.Traits().Roof {
		roof = MinRoom
	}
	faults = within(faults, field("height"), p.Height, roof, MaxClear)
	if p.Back > 0 && p.Height == 0 {
		return append(faults, &measure.InputError{Field: field("height"), Code: "missing", Reason: measure.Say("the back has a clear height and the front has none"),
			Accepts: measure.Say("%s to %s", MinRoom, MaxClear)})
	}
	if p.Back > 0 {
		faults = within(faults, field("back_height"), p.Back, MinRoom, MaxClear)
	}
	return faults
}

// checkAll gives everything that is out of bounds of the request and of the places
// after its first.
func (r Request) checkAll() measure.InputErrors {
	faults := r.check()
	for _, place := range r.Then {
		next := Request{Place: place}
		faults = append(faults, next.checkPlace(func(name string) string { return "then_" + name })...)
	}
	return faults
}

func within(faults measure.InputErrors, field string, l, low, high measure.Length) measure.InputErrors {
	accepts := measure.Say("%s to %s", low, high)
	switch {
	case l == 0 && low > 0:
		return append(faults, &measure.InputError{Field: field, Code: "missing", Reason: measure.Say("it is not said"), Accepts: accepts})
	case l < low:
		return append(faults, &measure.InputError{Field: field, Code: "too-small", Got: l.String(), Reason: measure.Say("that is too little to plan with"), Accepts: accepts})
	case l > high:
		return append(faults, &measure.InputError{Field: field, Code: "too-large", Got: l.String(), Reason: measure.Say("that is over the limit"), Accepts: accepts})
	}
	return faults
}

// tight says why nothing fits.
func (r Request) tight() measure.Text {
	switch {
	case r.Place.rows(r.PieceLength, false) == 0:
		return measure.Say("Pieces of %s need %s of depth with air behind them.", r.PieceLength, r.PieceLength+r.Place.wallGap())
	case r.Place.longest(false) == 0:
		return measure.Say("A row needs more width: each end takes %s for its brace.", EndBrace)
	}
	return measure.Say("A row needs more height: %s off the ground, and %s of air under the roof.", OffGround, AirAbove)
}

// cautions are those that hold here, one line each; high tells that a plan goes above
// the shoulder.
func (r Request) cautions(high bool) []measure.Text {
	said := []measure.Text{
		measure.Say("A stack can topple: brace both ends, stand it on firm level ground, and keep children off it."),
	}
	k, t := r.Place.Kind, r.Place.Kind.Traits()
	if t.Wall {
		said = append(said, measure.Say("Wood pushes on what it leans against: leave the gap behind it, and don’t let it rest on the wall."))
	}
	if high {
		said = append(said, measure.Say("Higher than the shoulder is hard to stack and to reach, and pushes harder on walls: only where ends and back are built to hold it, by somebody who knows."))
	}
	if t.Boards {
		said = append(said,
			measure.Say("Runners put all of the weight on a few boards and joists: ask a qualified person before wood stands on a porch or deck."),
			measure.Say("Wood decks stay wet under wood: keep air under the runners, sweep the bark away, and look for rot."))
	} else {
		said = append(said, measure.Say("On any floor that is not ground: runners put the weight on a few lines; ask a qualified person."))
	}
	if t.Roof && !t.Boards && k != Alcove {
		said = append(said, measure.Say("A roof you build or load must carry the local snow load: ask your building office."))
	}
	if t.Front || k == Alcove {
		said = append(said, measure.Say("A door or hatch near waist height spares the back: put its sill about %s up.", HatchSill))
	}
	if r.Place.Height == 0 {
		said = append(said, measure.Say("Cover the top only, with a slope that sheds rain; leave the sides open to the wind."))
	}
	return append(said,
		measure.Say("Fire can reach a house through wood beside it: keep the distance that your local fire code asks for."),
		measure.Say("Insects live in firewood: keep it off the ground, and bring in only what is burned soon."))
}

// Cautions are those of all the places, each once.
func Cautions(all []Answer) []measure.Text {
	var each []measure.Text
	seen := map[string]bool{}
	for _, a := range all {
		for _, said := range a.Cautions {
			if key := said.String(); !seen[key] {
				seen[key] = true
				each = append(each, said)
			}
		}
	}
	return each
}

func (r Request) grounds() []Ground {
	all := weightGrounds(r.Species)
	all = append(all,
		Ground{measure.Say("Decks are commonly designed for 40 psf (1.9 kPa)."), "International Residential Code, Table R301.5", SecondHand},
		Ground{r.Place.Kind.Facts(), "", Practice},
		Ground{measure.Say("Free-standing rows: no higher than the shoulder, nor three piece lengths of wood."), "", Practice},
		Ground{measure.Say("Gaps: %s off the ground, behind, between rows and for each brace; %s under a roof.", OffGround, AirAbove), "", Practice},
	)
	return append(all, dryingGrounds(r.Wood, r.Species)...)
}
