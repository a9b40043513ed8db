package orders

import (
	"math"

	"wellstowed/measure"
	"wellstowed/orders/money"
)

// enoughOrders is how many orders a shop has taken before anything is usual there; what is
// more than farFrom times the most of them, or less than the least by as much, is far from
// it.
const (
	enoughOrders = 5
	farFrom      = 3.0
)

// unusual says what of an order is far from the shop's own: its quantity, or the wood's
// price for its volume, held against the last orders on its basis that were not cancelled.
func (in *orderReader) unusual(tx Tx, o Order) ([]measure.Text, error) {
	past, err := tx.Orders(math.MaxInt64, usualPage)
	if err != nil || o.Quantity.Volume <= 0 {
		return nil, err
	}
	var volumes, prices []float64
	for _, p := range past {
		if p.State != Cancelled && p.ID != o.ID && p.Quantity.Basis == o.Quantity.Basis && p.Price.Wood.Currency == o.Price.Wood.Currency {
			volumes = append(volumes, float64(p.Quantity.Volume))
			prices = append(prices, float64(p.Price.Wood.Minor)/float64(p.Quantity.Volume))
		}
	}
	promised, err := in.promise(tx, o)
	if err != nil {
		return nil, err
	}
	odd := append(in.offList(o), overPromised(promised)...)
	if _, most, far := farOf(volumes, float64(o.Quantity.Volume)); far && float64(o.Quantity.Volume) > most {
		odd = append(odd, measure.Say("%s is far more than the shop's other orders, the largest of which is %s", o.Quantity,
			measure.Quantity{Volume: measure.Volume(most), Basis: o.Quantity.Basis}))
	}
	price := func(per float64) money.Money {
		return money.Money{Minor: int64(math.Round(per * float64(o.Quantity.Volume))), Currency: o.Price.Wood.Currency}
	}
	if least, most, far := farOf(prices, float64(o.Price.Wood.Minor)/float64(o.Quantity.Volume)); far {
		odd = append(odd, measure.Say("%s is far from the shop's other prices: this much wood was %s to %s", o.Price.Wood.String(), price(least).String(), price(most).String()))
	}
	return odd, nil
}

// farOf tells whether a figure is far from those before, with the least and the most of
// them.
func farOf(before []float64, now float64) (least, most float64, far bool) {
	if len(before) < enoughOrders {
		return 0, 0, false
	}
	least, most = math.Inf(1), 0
	for _, b := range before {
		least, most = min(least, b), max(most, b)
	}
	return least, most, now > most*farFrom || now < least/farFrom
}
