package orders

import (
	"context"
	"time"

	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/ledger"
	"wellstowed/orders/loose"
	"wellstowed/orders/people"
	"wellstowed/orders/photos"
	"wellstowed/orders/prices"
	"wellstowed/orders/yard"
)

// An OrderRequest is an order as typed. Every field is text; errors name fields
// by these JSON names.
type OrderRequest struct {
	CustomerID      string `json:"customer_id" names:"erased"` // of the record that was picked; empty: found by name and phone or address
	CustomerName    string `json:"customer_name" names:"erased"`
	CustomerAddress string `json:"customer_address" names:"erased"`
	CustomerPhone   string `json:"customer_phone" names:"erased"`
	Quantity        string `json:"quantity" names:"sale"` // the order as it was said, in one line; what has a field of its own is taken there
	Species         string `json:"species" names:"sale"`
	Origin          string `json:"origin" names:"erased"`      // county and state the wood was cut in
	Certificate     string `json:"certificate" names:"erased"` // of heat treatment, of wood that is drawn from no batch
	PieceLength     string `json:"piece_length" names:"sale"`  // "16 in"; empty: as the words say
	// UsualLength is how long the pieces are where neither the words nor PieceLength
	// say it; empty: that is asked.
	UsualLength string `json:"usual_length" names:"sale"`
	Seasoning   string `json:"seasoning" names:"sale"`
	Split       string `json:"split" names:"sale"`    // "small", "medium", "large", "split", "not split"; empty: as the words say
	Stacking    string `json:"stacking" names:"sale"` // "yes" or "no"; empty: as the words say
	// The wood's price: one of these three, or none where the price list has it.
	PricePerCord string `json:"price_per_cord" names:"sale"` // "280" or "280.00"
	PricePerUnit string `json:"price_per_unit" names:"sale"` // under rules without cords: for a cubic foot or metre
	PriceTotal   string `json:"price_total" names:"sale"`    // for the wood as a whole
	DeliveryFee  string `json:"delivery_fee" names:"sale"`
	StackingFee  string `json:"stacking_fee" names:"sale"`
	// DeliverTo is a place on the price list and Stacked "yes": delivery and stacking cost
	// what the list says. Each stands instead of its fee.
	DeliverTo   string `json:"deliver_to" names:"shop"`
	Stacked     string `json:"list_stacking" names:"sale"`
	OtherFee    string `json:"other_fee" names:"sale"`
	OtherFeeFor string `json:"other_fee_for" names:"erased"`
	Distance    string `json:"distance" names:"sale"`     // of the road to the customer: "12.5 mi"
	HalfLoad    string `json:"half_load" names:"sale"`    // "yes" or "no": the fee for less than a full load, where one is offered
	TaxExempt   string `json:"tax_exempt" names:"erased"` // why no tax is charged; empty: it is
	Deposit     string `json:"deposit" names:"sale"`
	Notes       string `json:"notes" names:"erased"`
	Day         string `json:"day" names:"program"` // as said: "Saturday morning", "before 15 December"; empty: no day is set
	// Written is when it was typed, RFC 3339, where a phone kept it until it had signal: a day
	// in words is meant from then on. Empty: now.
	Written string `json:"written" names:"program"`
	// Confirmed says that a quantity in words that are no legal quantity was
	// read back: it holds the quantity as read back ("2/3 cord"), else the
	// request is answered Invalid with the reading, the price and the question.
	Confirmed string `json:"confirmed" names:"erased"`
	// Version is the version the person saw; only when an order is changed.
	Version int64 `json:"version"`
}

// A LoadRequest is a delivery as typed: it records the load and issues its
// receipt in one act.
type LoadRequest struct {
	Delivered string `json:"delivered"` // quantity delivered; empty: all that is still due
	On        string `json:"on"`        // "2006-01-02"; empty: today in the shop's zone
	Body      string `json:"body"`      // id of a body filled to its line; delivered then says the same or nothing
	Batch     string `json:"batch"`     // id of the batch it is drawn from; empty: none
	// CustomerAddress is where it is delivered, typed here where the order has none.
	CustomerAddress string `json:"customer_address"`
	PrintName       string `json:"print_name"`
	PrintAddress    string `json:"print_address"`
	// Differs is why more is delivered than was measured short before, in words that the
	// receipt prints.
	Differs string `json:"differs"`
	// PaidBy is how what is due was paid as it was delivered: "cash", "cheque", "card",
	// "transfer" or "voucher"; empty or "not yet": it wasn't. Reference is as in PaymentRequest.
	// Paid is how much of it came; empty: all that is due on the order.
	PaidBy    string `json:"paid_by"`
	Paid      string `json:"paid"`
	Reference string `json:"reference"`
	// SignedBy is the printed name of who received it, Signature what was drawn, as
	// signed.Parse reads it; both may be empty.
	SignedBy  string `json:"signed_by"`
	Signature string `json:"signature"`
	// Confirmed says that what is known against the receipt was read: it holds that as
	// asked back ("24.2 % dry basis").
	Confirmed string `json:"confirmed"`
	TicketRequest
}

// A ShopRequest is the shop's settings as typed.
type ShopRequest struct {
	Name    string `json:"name"`
	Address string `json:"address"`
	Phone   string `json:"phone"`
	// TaxNumber is printed on receipts; a request without it says that there is none.
	TaxNumber string `json:"tax_number"`
	Currency  string `json:"currency"`
	Zone      string `json:"zone"`
	Paper     string `json:"paper"`
	Units     string `json:"units"`
	Language  string `json:"language"` // of papers, and of pages where their reader picked none
	RuleSet   string `json:"rule_set"`
	Version   int64  `json:"version"`
}

// A TallyRequest is a tally to be saved on an order.
type TallyRequest struct {
	Document []byte // stack.Document as JSON; sold, by and look may be left out
	ReadBy   string // name of who read; empty: the person who saves it
	// PrintName and PrintAddress are as in LoadRequest.
	PrintName    string
	PrintAddress string
}

// A Service is all that can be done with orders. It holds no state but the
// locks of issuing. cmd wires it: New(store, printer, clock).
// Every method that fails returns an *Error.
type Service struct {
	*yard.Service                 // of batches, truck beds and moisture
	People        *people.Service // who works with it
	Customers     *customers.Service
	Prices        *prices.Service
	Photos        *photos.Service
	Loose         *loose.Service // readings of no order yet

	store   Store
	printer Printer
	clock   func() time.Time
	rules   rules.Book
	acts    act.Doer[Tx]
	issuer  *ledger.Issuer[Tx]
	witness ledger.Witness // nil without one
	backups backups
}

// An Option changes what a Service goes by.
type Option func(*Service)

// UnderRules gives the rule sets a shop may pick from; without it, those built in.
func UnderRules(book rules.Book) Option { return func(s *Service) { s.rules = book } }

// New makes a Service over a store, a printer of papers and a clock.
func New(store Store, printer Printer, clock func() time.Time, options ...Option) *Service {
	s := &Service{store: store, printer: printer, clock: clock}
	s.acts = act.Doer[Tx]{Store: store, Now: s.now}
	for _, option := range options {
		option(s)
	}
	s.issuer = ledger.NewIssuer(s.acts, s.witness)
	if len(s.rules.All()) == 0 {
		s.rules, _ = rules.BuiltIn() // held whole by its tests; without a set every act is refused
	}
	s.Service = yard.New(act.Doer[yard.Tx]{Store: act.Narrow(store, func(tx Tx) yard.Tx { return tx }), Now: s.now}, s.rules, printer)
	s.Customers = customers.New(act.Doer[customers.Tx]{Store: act.Narrow(store, func(tx Tx) customers.Tx { return tx }), Now: s.now})
	s.Prices = prices.New(act.Doer[prices.Tx]{Store: act.Narrow(store, func(tx Tx) prices.Tx { return tx }), Now: s.now}, s.rules, printer)
	s.Photos = photos.New(act.Doer[photos.Tx]{Store: act.Narrow(store, func(tx Tx) photos.Tx { return tx }), Now: s.now}, s.rules, printer)
	s.Loose = loose.New(act.Doer[loose.Tx]{Store: act.Narrow(store, func(tx Tx) loose.Tx { return tx }), Now: s.now})
	s.People = people.New(act.Doer[people.Tx]{Store: act.Narrow(store, func(tx Tx) people.Tx { return tx }), Now: s.now})
	return s
}

// Rules are the rule sets a shop may pick from.
func (s *Service) Rules() rules.Book { return s.rules }

// Ready tells whether the shop's data can be read, and written to.
func (s *Service) Ready(ctx context.Context) error {
	_, err := s.shop(ctx)
	if err == nil {
		err = s.store.Writable(ctx)
	}
	return act.Fail(err)
}

// now is the clock's instant as stored: UTC, whole microseconds.
func (s *Service) now() time.Time { return act.Clock(s.clock)() }
