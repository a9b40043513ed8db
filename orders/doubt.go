package orders

import (
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// A doubt is something known that speaks against what a receipt would say.
type doubt struct {
	known string // what a yes repeats
	says  measure.Text
}

// doubts are what is known against a receipt, asked about and never refused: its wood
// against readings and its batch, its quantity against the order and its measurement, and
// its day against the order's.
func (d desk) doubts(facts Facts, zone *time.Location) []doubt {
	list := facts.woodDoubts()
	add := func(known, key string, args ...any) { list = append(list, doubt{known, measure.Say(key, args...)}) }
	all := facts.Delivered
	for _, f := range d.others(facts.Of) {
		all.Volume += f.Delivered.Volume
	}
	if ordered := d.order.Quantity; facts.Delivered.Volume > 0 && all.Basis == ordered.Basis && all.Volume > ordered.Volume {
		add(all.String()+" of "+ordered.String(), "%s is delivered in all, and %s was ordered; what is beyond that costs nothing", all, ordered)
	}
	if taken := act.DateOf(d.order.Created.In(zone)); taken.After(facts.DeliveredOn) && !facts.DeliveredOn.IsZero() {
		add(facts.DeliveredOn.String(), "%s is before the day the order was taken, %s", facts.DeliveredOn.Text(), taken.Text())
	}
	if t := d.measuredBefore(facts.Of); t != nil && t.word() == stack.BelowExpected {
		add("sheet "+act.FormatNumber(t.Sheet), "by sheet %d this load will likely be short of %s once it is stacked", int(t.Sheet), d.order.Quantity)
	}
	return list
}

// doubtsSince are the doubts that a former receipt did not raise alike: those were answered
// then.
func (d desk) doubtsSince(facts, former Facts, zone *time.Location) []doubt {
	former.Of = former.Number // the others are those beside it
	before := d.doubts(former, zone)
	return slices.DeleteFunc(d.doubts(facts, zone), func(now doubt) bool {
		return slices.ContainsFunc(before, func(b doubt) bool { return b.says.String() == now.says.String() })
	})
}

// ask asks back what speaks against a receipt and gives what was answered. A yes repeats
// what is known, so that it is no yes to anything else.
func ask(f *act.Fields, doubts []doubt, confirmed string) (answered []measure.Text) {
	known := make([]string, len(doubts))
	for i, d := range doubts {
		known[i] = d.known
		answered = append(answered, d.says)
	}
	yes := strings.Join(known, "; ")
	if yes == strings.TrimSpace(confirmed) {
		return answered
	}
	for _, d := range doubts {
		f.Add("confirmed", "read-back", "", d.says, measure.Say("%s", yes))
	}
	return nil
}
