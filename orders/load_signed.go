package orders

import (
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/signed"
)

// A HandedFact is money that came with the delivery, as the receipt says it.
type HandedFact struct {
	Method PaymentMethod `json:"method"`
	// Amount is what of it is taken off this receipt; it is part of Facts.Paid.
	Amount money.Money `json:"amount"`
}

// paidHere reads money that comes with the load: all that is due with it, on the whole order,
// or the part of it that is said. It is nil where none comes.
func (s *Service) paidHere(f *act.Fields, facts *Facts, d *desk, r LoadRequest) *Payment {
	if r.PaidBy == "" || PaymentMethod(r.PaidBy) == NotYetPay {
		if r.Paid != "" {
			f.Add("paid", "not-needed", r.Paid, measure.Say("it is not said how it was paid"), measure.Say("nothing here; or how it was paid"))
		}
		if r.Reference != "" {
			f.Add("reference", "not-needed", "", measure.Say("nothing is paid now, so no number goes with it"), measure.Say("nothing here; or how it was paid"))
		}
		return nil
	}
	p := Payment{Created: s.now(), Method: PaymentMethod(r.PaidBy), On: facts.DeliveredOn, Amount: facts.Balance()}
	method(f, &p, PaymentRequest{Method: r.PaidBy, Reference: r.Reference})
	if facts.Owed.Minor > p.Amount.Minor {
		p.Amount = facts.Owed
	}
	if len(f.Faults) > 0 {
		return nil // what is due can't be told
	}
	if p.Amount.Minor <= 0 {
		f.Add("paid_by", "nothing-due", r.PaidBy, measure.Say("nothing is to pay"), measure.Say("nothing here"))
		return nil
	}
	if !part(f, &p, r.Paid) {
		return nil
	}
	before := facts.Paid.Minor
	d.payments = append(slices.Clone(d.payments), p)
	facts.derive(*d)
	facts.Handed = &HandedFact{Method: p.Method, Amount: money.Money{Minor: facts.Paid.Minor - before, Currency: p.Amount.Currency}}
	return &p
}

// part reads how much of what is due came, where not all did; false where that is refused.
func part(f *act.Fields, p *Payment, text string) bool {
	if text == "" {
		return true
	}
	due := p.Amount
	m, err := money.Parse(text, due.Currency)
	switch {
	case !f.Parsed("paid", err):
	case m.Minor == 0:
		f.Add("paid", "nothing", text, measure.Say("nothing was paid"), measure.Say("at most %s, or “later” where none of it was paid", due.String()))
	case m.Minor > due.Minor:
		f.Add("paid", "too-large", text, measure.Say("it is more than is due"), measure.Say("at most %s", due.String()))
	default:
		p.Amount = m
		return true
	}
	return false
}

// signature reads who received the wood and the lines that were drawn; nil where neither was
// given.
func (s *Service) signature(f *act.Fields, r LoadRequest, at time.Time) *signed.Signature {
	by := f.Line("signed_by", r.SignedBy)
	s.printable(f, "signed_by", by)
	_, err := signed.Parse(r.Signature)
	if !f.Parsed("signature", err) || by == "" && r.Signature == "" {
		return nil
	}
	if by == "" {
		f.Missing("signed_by", measure.Say("the name of who signed"))
	}
	return &signed.Signature{By: by, Strokes: r.Signature, At: at.UTC().Truncate(time.Second)}
}
