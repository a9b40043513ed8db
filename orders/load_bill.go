package orders

import "wellstowed/measure"

// A bill is what one load costs of its order's price.
type bill struct {
	priced  measure.Volume // of the ordered wood, what this load is charged for
	price   Price
	deposit Money // of the deposit, what is taken off this load
}

// billOf shares an order's price out over its loads, in the order they came, and
// gives the share of the last. The wood is charged by the volume delivered, up to
// what was ordered: wood brought beyond that is free. Shares are differences of
// running amounts, each rounded once, half away from zero, so that they sum to the
// whole. Fees stand on the first load. The deposit is taken off as far as a load's
// price goes; the rest is kept for the next.
func billOf(o Order, loads []measure.Volume) bill {
	var last bill
	var delivered measure.Volume
	charged := Money{Currency: o.Price.Wood.Currency}
	deposit := o.Deposit
	for i, v := range loads {
		before := min(delivered, o.Quantity.Volume)
		delivered += v
		now := min(delivered, o.Quantity.Volume)
		sum := o.Price.Wood.ForVolume(now, o.Quantity.Volume)
		last = bill{priced: now - before, price: Price{PerCord: o.Price.PerCord, PerUnit: o.Price.PerUnit, Unit: o.Price.Unit, Wood: Money{sum.Minor - charged.Minor, sum.Currency}}}
		if i == 0 {
			last.price.Fees = o.Price.Fees
		}
		charged = sum
		last.deposit = Money{min(deposit.Minor, last.price.Total().Minor), deposit.Currency}
		deposit.Minor -= last.deposit.Minor
	}
	return last
}
