package audits

import (
	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// shares holds pieces counted by species against the shares that the wood was sold by;
// nil where none were counted.
func (in *reader) shares(species, counted string) *wood.Shares {
	counted = in.text("counted", counted)
	if counted == "" {
		return nil
	}
	in.Barred(in.d.set, "counted", counted)
	pieces, err := wood.ParseCounted(counted)
	if !in.Parsed("counted", err) {
		return nil
	}
	stated, err := wood.ParseStated(species)
	if err != nil {
		in.Add("counted", "no-shares", counted, measure.Say("this wood was not sold by shares of species"), measure.Say("nothing here"))
		return nil
	}
	held := wood.HoldShares(stated, pieces, in.d.set.ShareLimit())
	return &held
}
