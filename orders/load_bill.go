package orders

import (
	"wellstowed/measure"
	"wellstowed/orders/money"
)

// A bill is what one load costs of its order's price.
type bill struct {
	priced  measure.Volume // of the ordered wood, what this load is charged for
	price   Price
	deposit money.Money // of the deposit, what is taken off this load
	paid    money.Money // of the payments since then, likewise
}

// billOf is what a load costs beside the other receipts of its order that count.
// The wood is charged by the volume delivered, up to what was ordered: wood brought
// beyond that is free. The load is charged with what all that was delivered comes
// to, rounded once, half away from zero, less what the others charge, so that the
// receipts that count sum to the whole also after one was corrected or made void;
// never with less than nothing. Fees stand on the first of them. The deposit is
// taken off as far as a load's price goes; the rest is kept for the next. So are the
// payments made since, the other receipts' first.
func billOf(o Order, others []Facts, load measure.Volume, paid money.Money) bill {
	delivered, priced := load, measure.Volume(0)
	charged, deposit, fees := int64(0), o.Deposit.Minor+min(paid.Minor, 0), o.Price.Fees
	for _, f := range others {
		delivered += f.Delivered.Volume
		priced += f.Priced.Volume
		charged += f.Price.Wood.Minor
		deposit -= f.Deposit.Minor
		paid.Minor -= f.Price.Total().Minor - f.Deposit.Minor
		if len(f.Price.Fees) > 0 {
			fees = nil
		}
	}
	all := min(delivered, o.Quantity.Volume)
	wood := o.Price.Wood.ForVolume(all, o.Quantity.Volume)
	wood.Minor = max(wood.Minor-charged, 0)
	b := bill{
		priced: max(all-priced, 0),
		price:  Price{PerCord: o.Price.PerCord, PerUnit: o.Price.PerUnit, Unit: o.Price.Unit, Wood: wood, Fees: fees},
	}
	b.price.Tax = o.Price.Tax.share(b.price, others)
	b.deposit = money.Money{Minor: min(max(deposit, 0), b.price.Total().Minor), Currency: o.Deposit.Currency}
	b.paid = money.Money{Minor: min(max(paid.Minor, 0), b.price.Total().Minor-b.deposit.Minor), Currency: paid.Currency}
	return b
}
