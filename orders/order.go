package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/day"
	"wellstowed/orders/money"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// LineKind is what a price line pays for.
type LineKind string

// The kinds of price line.
const (
	WoodLine     LineKind = "wood"
	DeliveryLine LineKind = "delivery"
	StackingLine LineKind = "stacking"
	OtherLine    LineKind = "other"
	DistanceLine LineKind = "distance"  // beyond what the shop drives for nothing
	HalfLoadLine LineKind = "half load" // for less than a full load
)

// A PriceLine is one part of a price.
type PriceLine struct {
	Kind   LineKind    `json:"kind"`
	Words  string      `json:"words,omitempty" names:"erased"` // what an "other" line is for
	Amount money.Money `json:"amount"`
	// Basis is how a charge for distance or for less than a full load was worked out; nil
	// for others, and where it was kept before that was. Receipts know it since format 4.
	Basis *ChargeBasis `json:"basis,omitempty"`
}

// A ChargeBasis is what a charge was worked out from.
type ChargeBasis struct {
	// Rate is charged for each Per (a mile or a kilometre) of Beyond, the road beyond Free.
	Beyond measure.Length `json:"beyond,omitempty"`
	Free   measure.Length `json:"free,omitempty"`
	Rate   money.Money    `json:"rate,omitzero"`
	Per    measure.Length `json:"per,omitempty"`
	// FullLoad is what less was ordered than.
	FullLoad measure.Quantity `json:"full_load,omitzero"`
}

// A Price is what an order costs: the wood by the cord or as a whole, and fees.
type Price struct {
	// PerCord is the wood's price for 128 ft³, zero when a sum was agreed for
	// the whole.
	PerCord money.Money `json:"per_cord"`
	// PerUnit is the wood's price for one Unit, zero where there is none: under
	// rules that know no cord, Unit is rules.CubicFoot or rules.CubicMetre.
	PerUnit money.Money    `json:"per_unit,omitzero"`
	Unit    rules.UnitCode `json:"unit,omitempty"`
	// Wood is the wood's price: PerCord or PerUnit times the quantity, rounded once,
	// half away from zero; or the sum agreed.
	Wood money.Money `json:"wood"`
	// Fees are delivery, stacking and others, each as agreed.
	Fees []PriceLine `json:"fees,omitempty"`
	// Tax is nil where the shop charges none; receipts know it since format 3.
	Tax *Tax `json:"tax,omitempty"`
}

// Net is the wood and all fees, before tax.
func (p Price) Net() money.Money {
	net := p.Wood
	for _, f := range p.Fees {
		net = net.Add(f.Amount)
	}
	return net
}

// Total is the wood, all fees and the tax.
func (p Price) Total() money.Money {
	if p.Tax == nil {
		return p.Net()
	}
	return p.Net().Add(p.Tax.Amount)
}

// State is where an order stands; it is derived from what has happened to it.
type State string

// The states of an order.
const (
	Taken     State = "taken"
	PartLoad  State = "part delivered"
	Delivered State = "delivered"
	Measured  State = "measured"
	Cancelled State = "cancelled"
)

// An Order is wood asked for.
type Order struct {
	ID       string           `json:"id"`     // UUIDv7
	Number   int64            `json:"number"` // counts up in the shop
	Version  int64            `json:"version"`
	Customer Customer         `json:"customer"`
	Words    string           `json:"-" names:"sale"` // the quantity as said; stays inside
	Quantity measure.Quantity `json:"quantity"`
	Species  string           `json:"species" names:"sale"`
	Origin   string           `json:"origin,omitempty" names:"sale"` // county and state it was cut in
	// Certificate is the number of a heat-treatment certificate, of wood that is drawn
	// from no batch.
	Certificate string         `json:"certificate,omitempty" names:"sale"`
	PieceLength measure.Length `json:"piece_length"`
	Seasoning   yard.Seasoning `json:"seasoning"`
	// Split is how it is to be split, and Stacking whether it is to be stacked where it
	// goes; empty where that wasn't said.
	Split    spoken.SplitSize `json:"split,omitempty"`
	Stacking spoken.Stack     `json:"stacking,omitempty"`
	Price    Price            `json:"price"`
	Distance measure.Length   `json:"distance,omitempty"` // of the road to the customer; 0: not said
	Deposit  money.Money      `json:"deposit"`
	Notes    string           `json:"notes" names:"erased"` // for the driver; never printed for the buyer
	// Day is when it is to be delivered; zero where no day is set.
	Day day.Span `json:"day,omitzero" names:"program"`
	// SetAside is the id of the batch its wood is kept from; empty where none is.
	SetAside string `json:"set_aside,omitempty" names:"program"`
	State    State  `json:"state"`
	// Outcome is the finding of the latest tally, empty without one.
	Outcome stack.Word `json:"outcome,omitempty"`
	Created time.Time  `json:"created"`
	Changed time.Time  `json:"changed"`
	// Erased is when its names were erased; zero while it has them.
	Erased time.Time `json:"names_erased,omitzero"`
}

// A Tally is a document of readings as saved, with what the model made of it.
type Tally struct {
	ID       string       `json:"id"`
	OrderID  string       `json:"order_id"`
	Look     int          `json:"look"` // which look at this order, from 1
	Document []byte       `json:"-"`    // as read and completed: sold and look are set
	Result   stack.Result `json:"result" names:"program"`
	Sheet    int64        `json:"sheet"`             // its measurement sheet's number
	By       string       `json:"by" names:"erased"` // who read, printed on the sheet
	Created  time.Time    `json:"created"`
}

// A ReceiptLine is a receipt in the history of its order.
type ReceiptLine struct {
	Number    int64            `json:"number"`
	Kind      ReceiptKind      `json:"kind,omitempty"`
	Of        int64            `json:"of,omitempty"` // the receipt it names
	Issued    time.Time        `json:"issued"`
	Delivered measure.Quantity `json:"delivered"`
	On        act.Date         `json:"on"` // the day of delivery; no day where nothing was delivered
	Reason    string           `json:"reason,omitempty"`
	Ended     *Ending          `json:"ended,omitempty"`   // what ended it; nil while it counts
	InPart    bool             `json:"in_part,omitempty"` // it settles a part, and more is owed
}

// History is an order with all that happened to it, oldest first.
type History struct {
	Order Order       `json:"order"`
	Loads []yard.Load `json:"loads"` // those that count
	// Known is what is kept of who ordered; the zero Record once that was erased.
	Known customers.Record `json:"known,omitzero"`
	// Receipts are all that were issued, also those that no longer count.
	Receipts []ReceiptLine `json:"receipts"`
	Tallies  []Tally       `json:"tallies"`
	// Moistures are the sets of moisture readings.
	Moistures []yard.Moisture `json:"moistures"`
	// Batches name what loads were drawn from.
	Batches  []yard.BatchRef `json:"batches,omitempty"`
	Payments []Payment       `json:"payments"`
	Balance  Balance         `json:"balance"`
	// Cord is what its cords are, where that hangs on the wood.
	Cord *CordFact `json:"cord,omitempty"`
	// Settlements are what is or was owed of what was delivered; the last holds.
	Settlements []Settlement `json:"settlements"`
}
