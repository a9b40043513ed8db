package orders

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// fromBatch notes why a load cannot be drawn from the batch it names, and puts the
// batch on the receipt: what the order does not say of the wood, the batch does.
func fromBatch(f *act.Fields, facts *Facts, d desk, set rules.Set, id string) {
	if id == "" {
		return
	}
	accepts := measure.Say("a batch from the list, or none")
	b := d.batch
	switch {
	case b == nil:
		f.Add("batch", "unknown", "", measure.Say("that batch isn’t here"), accepts)
		return
	case b.UsedUp:
		f.Add("batch", "used-up", "", measure.Say("%s is marked as used up", b.Name),
			measure.Say("a batch from the list, or none; if wood of it is left, count it first"))
	case facts.Delivered.Volume <= 0: // is a fault of its own
	case facts.Delivered.Basis != b.PutUp.Basis:
		f.Add("batch", "other-basis", "", measure.Say("%s was put up as %s wood and this load is %s wood; one can’t be taken off the other",
			b.Name, measure.Say(string(b.PutUp.Basis)), measure.Say(string(facts.Delivered.Basis))), measure.Say("a batch of %s wood, or none", measure.Say(string(facts.Delivered.Basis))))
	case b.Left.Volume == 0:
		f.Add("batch", "nothing-left", "", measure.Say("nothing is left of %s", b.Name), accepts)
	case facts.Delivered.Volume > b.Left.Volume:
		f.Add("batch", "too-much", "", measure.Say("the load is %s, and %s is left of %s", facts.Delivered, b.Left, b.Name),
			measure.Say("a load of up to %s, or another batch", act.Spell(set, d.shop.Units, b.Left)))
	}
	facts.takeFrom(b.Batch)
}

// replacing notes where a corrected load is more than what would be left of its batch
// without the load it stands in place of.
func replacing(f *act.Fields, facts Facts, d desk, set rules.Set) {
	if d.batch == nil {
		return
	}
	left, counts := d.batch.Room(facts.Of)
	if counts && facts.Delivered.Basis == left.Basis && facts.Delivered.Volume > left.Volume {
		f.Add("delivered", "too-much", "", measure.Say("it is %s, and %s is left of %s, with what this receipt took", facts.Delivered, left, d.batch.Name),
			measure.Say("up to %s; if more was there, count it first", act.Spell(set, d.shop.Units, left)))
	}
}

// BatchID names the batch the load was drawn from, empty for none.
func (f Facts) BatchID() string {
	if f.Batch == nil {
		return ""
	}
	return f.Batch.ID
}

// takeFrom puts a batch on the receipt.
func (f *Facts) takeFrom(b yard.Batch) {
	f.Batch = b.Fact()
	if f.Species == "" {
		f.Species = b.Species
	}
	if f.Origin == "" {
		f.Origin = b.Origin
	}
	if f.Certificate == "" {
		f.Certificate = b.Certificate
	}
}

// woodDoubts are wood stated dry whose readings are above the limit they were held
// against, and wood of a batch that is not what the receipt says.
func (facts Facts) woodDoubts() (list []doubt) {
	add := func(known, key string, args ...any) { list = append(list, doubt{known, measure.Say(key, args...)}) }
	if m := facts.Moisture; m != nil && facts.Seasoning.Dry() && m.Verdict == wood.Above {
		add(m.Mean.String(), "the receipt states %s, and readings of %s show the wood wetter than %s: mean %s",
			measure.Say(string(facts.Seasoning)), m.On.Text(), m.Limit.String(), m.Mean.String())
	}
	b := facts.Batch
	if b == nil {
		return list
	}
	if !alikeWood(facts.Species, b.Species) {
		add(b.Species, "the receipt states %s, and %s is %s", facts.Species, b.Name, b.Species)
	}
	if facts.PieceLength != b.PieceLength {
		add(b.PieceLength.String(), "the receipt states %s pieces, and those of %s are %s", facts.PieceLength, b.Name, b.PieceLength)
	}
	if b.Origin != "" && !strings.EqualFold(facts.Origin, b.Origin) {
		add(b.Origin, "the receipt states that the wood was cut in %s, and %s was cut in %s", facts.Origin, b.Name, b.Origin)
	}
	if b.Certificate != "" && facts.Certificate != b.Certificate {
		add(b.Certificate, "the receipt states heat-treatment certificate %s, and %s has %s", facts.Certificate, b.Name, b.Certificate)
	}
	return list
}

// alikeWood tells whether two texts may name the same species: a text that is not in
// the table may be any.
func alikeWood(a, b string) bool {
	if strings.EqualFold(a, b) {
		return true
	}
	x, err := wood.ParseMix(a)
	if err != nil {
		return true
	}
	y, err := wood.ParseMix(b)
	if err != nil || len(x) != len(y) {
		return err != nil
	}
	names := map[string]bool{}
	for _, p := range x {
		names[p.Species.Name] = true
	}
	for _, p := range y {
		if !names[p.Species.Name] {
			return false
		}
	}
	return true
}
