package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A PaymentMethod is how wood was paid for; the zero PaymentMethod is not said.
type PaymentMethod string

// The ways of paying.
const (
	Cash      PaymentMethod = "cash"
	Cheque    PaymentMethod = "cheque"
	Card      PaymentMethod = "card"
	Transfer  PaymentMethod = "transfer"
	NotYetPay PaymentMethod = "not yet"
)

// WaysPaid are the ways of paying.
func WaysPaid() []PaymentMethod { return []PaymentMethod{Cash, Cheque, Card, Transfer, NotYetPay} }

// Voucher is one way of paying more: of an assistance programme, which gets a signed
// copy back.
const Voucher PaymentMethod = "voucher"

// PaymentMethods are the ways that money comes and goes on an order.
func PaymentMethods() []PaymentMethod { return []PaymentMethod{Cash, Cheque, Card, Transfer, Voucher} }

// A Payment is money that came or went on an order. They are appended and never
// changed: one entered wrongly is taken back by a counter-entry.
type Payment struct {
	ID      string `json:"id"`
	OrderID string `json:"order_id"`
	// Amount is above 0 where the customer paid, below 0 where money went back to
	// him and in a counter-entry.
	Amount    money.Money   `json:"amount"`
	Method    PaymentMethod `json:"method"`
	Reference string        `json:"reference,omitempty" names:"erased"` // number of a cheque or voucher; never a card's
	On        act.Date      `json:"on"`
	// Reverses is the id of the payment that this counter-entry takes back, and
	// Reason why; both are empty in a payment.
	Reverses string `json:"reverses,omitempty"`
	Reason   string `json:"reason,omitempty" names:"erased"`
	// CopyOn is the day a voucher's signed copy was received; zero while it is due,
	// and for any other method.
	CopyOn  act.Date  `json:"copy_on,omitzero"`
	By      string    `json:"by" names:"staff"` // who wrote it down
	Created time.Time `json:"created"`
}

// A PaymentRequest is a payment as typed.
type PaymentRequest struct {
	Amount    string `json:"paid"`
	Method    string `json:"paid_by"` // "cash", "cheque", "card", "transfer" or "voucher"
	Reference string `json:"reference"`
	On        string `json:"on"`   // "2006-01-02"; empty: today in the shop's zone
	Back      string `json:"back"` // "yes": money given back to the customer; empty: he paid
}

// A ReversalRequest takes a payment back.
type ReversalRequest struct {
	Reason string `json:"reason"`
}

// A CopyRequest marks a voucher's signed copy as received.
type CopyRequest struct {
	On string `json:"on"` // "2006-01-02"; empty: today in the shop's zone
}

// mostCardDigits is how many digits a note of a card may have: card numbers have
// twelve or more (ISO/IEC 7812-1, from memory), and none may be kept here.
const mostCardDigits = 11

// payment reads a payment.
func (s *Service) payment(f *act.Fields, r PaymentRequest, shop Shop, today act.Date) Payment {
	p := Payment{Created: s.now(), Method: PaymentMethod(r.Method)}
	var err error
	if r.Amount == "" {
		f.Missing("paid", money.Accepted(shop.Currency))
	} else if p.Amount, err = money.Parse(r.Amount, shop.Currency); f.Parsed("paid", err) && p.Amount.Minor == 0 {
		f.Add("paid", "nothing", r.Amount, measure.Say("nothing was paid"), money.Accepted(shop.Currency))
	}
	if f.Ticked("back", r.Back) {
		p.Amount.Minor = -p.Amount.Minor
	}
	method(f, &p, r)
	p.On = f.ReadOn(r.On, today)
	return p
}

// method reads how it was paid and the number that goes with it. What may be a
// card's number is neither kept nor repeated.
func method(f *act.Fields, p *Payment, r PaymentRequest) {
	p.Reference = f.Line("reference", r.Reference)
	if p.MayNoteCard() && digitsIn(p.Reference) > mostCardDigits {
		f.Add("reference", "card-number", "", measure.Say("it may be a card’s number, which is not kept here"),
			measure.Say("the last four digits, or the number of the slip"))
	}
	switch p.Method {
	case Cash, Transfer, Card:
	case Cheque:
		if p.Reference == "" {
			f.Missing("reference", measure.Say("the cheque’s number"))
		}
	case Voucher:
		if p.Reference == "" {
			f.Missing("reference", measure.Say("the voucher’s number"))
		}
	default:
		f.Add("paid_by", "unknown", r.Method, measure.Say("it is not said how it was paid"), measure.Say("cash, cheque, card, transfer or voucher"))
	}
}

// MayNoteCard tells whether a number with it may be of a card: where it is not said
// to be of something else.
func (p Payment) MayNoteCard() bool {
	return p.Method != Cheque && p.Method != Voucher && p.Method != Transfer
}

func digitsIn(text string) int {
	n := 0
	for _, r := range text {
		if '0' <= r && r <= '9' {
			n++
		}
	}
	return n
}

// CopyDue tells that the voucher's signed copy has not come back.
func (p Payment) CopyDue() bool {
	return p.Method == Voucher && p.Amount.Minor > 0 && p.CopyOn.IsZero()
}

// Reversed tells whether a counter-entry among the payments takes p back.
func (p Payment) Reversed(all []Payment) bool {
	for _, other := range all {
		if other.Reverses == p.ID {
			return true
		}
	}
	return false
}

// paid is what payments come to, those taken back and given back taken off.
func paid(payments []Payment, currency string) money.Money {
	sum := money.Money{Currency: currency}
	for _, p := range payments {
		sum = sum.Add(p.Amount)
	}
	return sum
}
