package cases

import (
	"wellstowed/measure/stack"
)

// Step is what a buyer does next, from what is recorded.
type Step string

// The steps. The order, seller first and then the office, is that of the advice of
// weights and measures offices.
const (
	MeasureFirst Step = "measure"       // nothing was measured yet
	MeasureMore  Step = "measure more"  // not settled
	AskAmount    Step = "ask amount"    // measured, and the words of the sale name no measure
	RankFirst    Step = "rank"          // measured so that nothing can be shown
	NothingShown Step = "nothing shown" // full, or no shortage shown
	TellSeller   Step = "tell seller"   // short, and the seller does not know
	AwaitSeller  Step = "await seller"  // the seller has been told
	WeighAnswer  Step = "weigh answer"  // the seller has answered
	Carried      Step = "agreed"        // the answer was accepted
	AskOffice    Step = "ask office"    // it was not
	WithOffice   Step = "with office"
)

// step gives the step from the last tally and, only where it shows a shortage, from the
// exchange.
func (c Case) step() Step {
	latest := c.Latest()
	if latest == nil {
		return MeasureFirst
	}
	found := latest.Result.Finding
	switch {
	case c.Account.AsWords:
		return AskAmount
	case found == nil || found.Expectation():
		return RankFirst
	case found.Sold != c.Account.Quantity: // the receipt was corrected since
		return MeasureFirst
	case found.Word == stack.Unresolved:
		return MeasureMore
	case found.Word != stack.Short:
		return NothingShown
	}
	return c.stepInExchange()
}

func (c Case) stepInExchange() Step {
	for i := len(c.Entries) - 1; i >= 0; i-- {
		switch e := c.Entries[i]; e.Kind {
		case Claim:
			return AwaitSeller
		case Answer:
			return WeighAnswer
		case Office:
			return WithOffice
		case Reply:
			if e.Accepts == Yes {
				return Carried
			}
			return AskOffice
		}
	}
	return TellSeller
}

// Lacked is something that an office asks and that is not recorded.
type Lacked string

// What an office asks: the intake questions of the Massachusetts Division of Standards.
const (
	LackSellerName    Lacked = "seller name"
	LackSellerAddress Lacked = "seller address"
	LackBuyerName     Lacked = "buyer name"
	LackBuyerAddress  Lacked = "buyer address"
	LackPrice         Lacked = "price"
	LackPayment       Lacked = "payment"
	LackSlip          Lacked = "slip"
	LackUsed          Lacked = "used"
	LackStacked       Lacked = "stacked"
)

// lacking lists what an office would ask that is not said, in its order. Day and
// quantity are always there.
func (c Case) lacking() []Lacked {
	a := c.Account
	var list []Lacked
	for _, q := range []struct {
		lack Lacked
		said bool
	}{
		{LackSellerName, a.Seller.Name != ""}, {LackSellerAddress, a.Seller.Address != ""},
		{LackBuyerName, a.Buyer.Name != ""}, {LackBuyerAddress, a.Buyer.Address != ""},
		{LackPrice, a.Price.Currency != ""}, {LackPayment, a.Payment != ""}, {LackSlip, a.Slip != ""},
		{LackUsed, a.Used != ""}, {LackStacked, a.Stacked != ""},
	} {
		if !q.said {
			list = append(list, q.lack)
		}
	}
	return list
}
