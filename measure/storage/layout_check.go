package storage

import "wellstowed/measure"

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
	p := r.Place
	roof := measure.Length(0)
	if p.Kind.Roofed() {
		roof = MinRoom
	}
	faults = within(faults, "width", p.Width, MinRoom, measure.MaxRowLength)
	faults = within(faults, "depth", p.Depth, MinRoom, measure.MaxRowLength)
	faults = within(faults, "height", p.Height, roof, MaxClear)
	return within(faults, "shoulder", r.Shoulder, MinShoulder, MaxShoulder)
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
func (r Request) tight(rows int, length, height measure.Length) measure.Text {
	switch {
	case rows == 0:
		return measure.Say("Pieces of %s need %s of depth with air behind them.", r.PieceLength, r.PieceLength+r.Place.wallGap())
	case length == 0:
		return measure.Say("A row needs more width: each end takes %s for its brace.", EndBrace)
	case height == 0:
		return measure.Say("A row needs more height: %s off the ground, and %s of air under the roof.", OffGround, AirAbove)
	}
	return measure.Text{}
}

// cautions are those that hold here, one line each; high tells that a plan goes above
// the shoulder.
func (r Request) cautions(high bool) []measure.Text {
	said := []measure.Text{
		measure.Say("A stack can topple: brace both ends, stand it on firm level ground, and keep children off it."),
	}
	k := r.Place.Kind
	if k.backed() {
		said = append(said, measure.Say("Wood pushes on what it leans against: leave the gap behind it, and don’t let it rest on the wall."))
	}
	if high {
		said = append(said, measure.Say("Higher than the shoulder is hard to stack and to reach, and pushes harder on walls: only where ends and back are built to hold it, by somebody who knows."))
	}
	if k.OnBoards() {
		said = append(said,
			measure.Say("Runners put all of the weight on a few boards and joists: ask a qualified person before wood stands on a porch or deck."),
			measure.Say("Wood decks stay wet under wood: keep air under the runners, sweep the bark away, and look for rot."))
	} else {
		said = append(said, measure.Say("On any floor that is not ground: runners put the weight on a few lines; ask a qualified person."))
	}
	if k == Shed || k == Carport {
		said = append(said, measure.Say("A roof you build or load must carry the local snow load: ask your building office."))
	}
	if k == Shed || k == Alcove {
		said = append(said, measure.Say("A door or hatch near waist height spares the back: put its sill about %s up.", HatchSill))
	}
	if k == Wall || k == Rack {
		said = append(said, measure.Say("Cover the top only, with a slope that sheds rain; leave the sides open to the wind."))
	}
	return append(said,
		measure.Say("Fire can reach a house through wood beside it: keep the distance that your local fire code asks for."),
		measure.Say("Insects live in firewood: keep it off the ground, and bring in only what is burned soon."))
}

func layoutGrounds() []Ground {
	return append(weightGrounds(),
		Ground{measure.Say("Decks are commonly designed for 40 psf (1.9 kPa)."), "International Residential Code, Table R301.5", SecondHand},
		Ground{measure.Say("Rows stand along the back, so that wood is taken from the front; for the other way, give width for depth."), "", Practice},
		Ground{measure.Say("Free-standing rows: their top no higher than the shoulder, and no more than three piece lengths of wood."), "", Practice},
		Ground{measure.Say("Gaps: %s off the ground, behind and between rows, and for the brace at each end; %s under a roof.", OffGround, AirAbove), "", Practice},
	)
}
