package cases

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A Request is a buyer's record of a delivery as typed.
type Request struct {
	RuleSet       string `json:"rule_set"`     // code; empty: the shop's
	Quantity      string `json:"quantity"`     // what was bought, in the buyer's or seller's words
	PieceLength   string `json:"piece_length"` // "16 in"; needed only where the words depend on it
	Confirmed     string `json:"confirmed"`    // as in OrderRequest
	AsWords       string `json:"as_words"`     // "yes": keep the words where they name no lawful measure
	Wood          string `json:"wood"`
	SellerName    string `json:"seller_name"`
	SellerAddress string `json:"seller_address"`
	SellerPhone   string `json:"seller_phone"`
	BuyerName     string `json:"buyer_name"`
	BuyerAddress  string `json:"buyer_address"`
	BuyerPhone    string `json:"buyer_phone"`
	DeliveredOn   string `json:"delivered_on"` // "2006-01-02"
	Price         string `json:"price"`
	Slip          string `json:"slip"`         // "yes", "no" or empty
	TicketHas     string `json:"ticket_has"`   // codes of required fields, with commas between
	TicketLacks   string `json:"ticket_lacks"` // the same, of those that were looked for and are not there
	Vehicle       string `json:"vehicle"`
	Payment       string `json:"payment"`
	Used          string `json:"used"`
	Stacked       string `json:"stacked"`
	Version       int64  `json:"version"` // the version the person saw; only when a case is changed
}

// An AnswersRequest is what a buyer on a receipt adds to what it says, as typed.
type AnswersRequest struct {
	Vehicle string `json:"vehicle"`
	Payment string `json:"payment"`
	Used    string `json:"used"`
	Stacked string `json:"stacked"`
	Version int64  `json:"version"`
}

// OpenCase opens a buyer's record of wood bought elsewhere. It is Invalid with all
// faults; words that name no lawful quantity are read back first, as an order's are.
func (s *Service) OpenCase(ctx context.Context, by act.Act, r Request) (File, error) {
	w := act.Write{Verb: CaseOpened, May: act.ToManage, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (id string, err error) {
		var c Case
		if c.Account, err = s.readAccount(tx, Statement{}, r); err != nil {
			return "", err
		}
		err = s.addCase(tx, &c)
		return c.ID, err
	}, func(tx Tx, id string) (File, error) { return s.caseFile(tx, by.Actor, Key{ID: id}) })
}

// ChangeCase adds what the buyer now says of wood bought elsewhere. It is Conflict when
// r.Version is not the latest, or when a measured quantity would change.
func (s *Service) ChangeCase(ctx context.Context, by act.Act, id string, r Request) (File, error) {
	return s.onCase(ctx, by, Key{ID: id}, CaseChanged, r, func(tx Tx, f File) error {
		if err := f.at(r.Version); err != nil {
			return err
		}
		a, err := s.readAccount(tx, f.Case.Account, r)
		if err != nil {
			return err
		}
		if before := f.Case.Account; len(f.Case.Tallies) > 0 && !before.AsWords && a.Quantity != before.Quantity {
			return act.NewConflict("the wood was measured against %s; for another quantity open a new record", f.Case.Account.Quantity)
		}
		a.Version, a.At = f.Case.Account.Version+1, s.now()
		return tx.AddAccount(f.Case.ID, a)
	})
}

// ChangeAnswers adds what a buyer on a receipt says besides what the receipt says.
func (s *Service) ChangeAnswers(ctx context.Context, by act.Act, code string, r AnswersRequest) (File, error) {
	return s.onCase(ctx, by, Key{Code: code}, CaseChanged, r, func(tx Tx, f File) error {
		if err := f.at(r.Version); err != nil {
			return err
		}
		var faults act.Fields
		a := Statement{Version: f.Case.Account.Version + 1, At: s.now(), Answers: s.readAnswers(&faults, f, r)}
		faults.Hush(f.Set)
		if err := faults.Err(); err != nil {
			return err
		}
		return tx.AddAccount(f.Case.ID, a)
	})
}

// at refuses a change of what is no longer the latest.
func (f File) at(version int64) error {
	if version != f.Case.Account.Version {
		return act.NewConflict("this was changed meanwhile; look at it as it is now and change it again")
	}
	return nil
}

// readAccount reads what was typed of wood bought elsewhere.
func (s *Service) readAccount(tx Tx, before Statement, r Request) (a Statement, err error) {
	shop, err := tx.Shop()
	if err != nil {
		return Statement{}, err
	}
	if a.RuleSet = r.RuleSet; a.RuleSet == "" {
		a.RuleSet = shop.RuleSet
	}
	var in act.Fields
	file := File{Units: shop.Units}
	if file.Set, err = s.book.Get(a.RuleSet); err != nil {
		in.Add("rule_set", "unknown", r.RuleSet, measure.Say("that set of rules isn’t here"), measure.Say("one of those the program knows"))
		return Statement{}, in.Err()
	}
	zone, err := time.LoadLocation(shop.Zone)
	if err != nil {
		return Statement{}, err
	}
	if r.PieceLength != "" {
		a.PieceLength = in.PieceLength(file.Set, shop.Units, r.PieceLength)
	}
	said, asWords := s.bought(&in, file, before, r, a.PieceLength)
	a.AsWords, a.Words, a.Quantity, a.PieceLength = asWords, said.Words, said.Quantity, cmp.Or(a.PieceLength, said.PieceLength)
	a.Wood = s.printed(&in, file, "wood", orders.WoodOf(&in, "wood", r.Wood, said.Rest), true)
	a.Seller = s.readParty(&in, file, "seller", orders.Party{Name: r.SellerName, Address: r.SellerAddress, Phone: r.SellerPhone})
	a.Buyer = s.readParty(&in, file, "buyer", orders.Party{Name: r.BuyerName, Address: r.BuyerAddress, Phone: r.BuyerPhone})
	if !shop.Located {
		zone = latest() // nobody said where: today is not later than the day is anywhere
	}
	a.DeliveredOn = boughtOn(&in, r.DeliveredOn, act.DateOf(s.now().In(zone)))
	switch {
	case r.Price != "" && !shop.Located:
		in.Add("price", "no-currency", r.Price, measure.Say("nobody has said which currency prices here are in"), measure.Say("nothing here, or the currency in the shop’s settings first"))
	case r.Price != "":
		price, err := money.Parse(r.Price, shop.Currency)
		in.Parsed("price", err)
		a.Price = price
	}
	ticket(&in, &a, file, r)
	a.Answers = s.readAnswers(&in, file, AnswersRequest{Vehicle: r.Vehicle, Payment: r.Payment, Used: r.Used, Stacked: r.Stacked})
	if said.Barred != "" && (before.Words != a.Words || before.Quantity != a.Quantity) {
		orders.ConfirmReading(&in, file.Set, file.Units, r.Confirmed, said, a.Price)
	}
	in.Hush(file.Set)
	return a, in.Err()
}

// bought reads what was bought; a barred term stays in its words, inside. It tells
// whether the words are kept instead of a quantity: where the buyer asks for it and
// they name no lawful one. Words kept before that no page shows are sent back empty.
func (s *Service) bought(f *act.Fields, file File, before Statement, r Request, piece measure.Length) (said measure.Said, asWords bool) {
	keep := f.Ticked("as_words", r.AsWords)
	if strings.TrimSpace(r.Quantity) == "" {
		if keep && before.AsWords {
			return measure.Said{Words: before.Words}, true
		}
		f.Missing("quantity", act.AcceptedQuantities())
		return measure.Said{}, false
	}
	var read act.Fields
	said = read.SaidWith(file.Set, file.Units, "quantity", r.Quantity, piece)
	if keep && (read.Err() != nil || said.Barred != "") {
		return measure.Said{Words: f.Printable(s.font, "quantity", f.Line("quantity", r.Quantity))}, true
	}
	f.Faults = append(f.Faults, read.Faults...)
	return said, false
}

func (s *Service) readParty(f *act.Fields, file File, whose string, p orders.Party) orders.Party {
	return orders.Party{
		Name:    s.printed(f, file, whose+"_name", p.Name, false),
		Address: s.printed(f, file, whose+"_address", p.Address, false),
		Phone:   s.printed(f, file, whose+"_phone", p.Phone, false),
	}
}

// boughtOn reads the day of delivery, which has to be said and is not to come.
func boughtOn(f *act.Fields, text string, today act.Date) act.Date {
	if text == "" {
		f.Missing("delivered_on", measure.Say("the day the wood was delivered, such as %s", today.String()))
		return act.Date{}
	}
	on, err := act.ParseDate(text)
	if f.Parsed("delivered_on", err) && on.After(today) {
		f.Add("delivered_on", "future", text, measure.Say("it is later than today"), measure.Say("a day up to %s", today.String()))
	}
	return on
}

// ticket reads what the ticket holds of the required fields, and what it lacks.
func ticket(f *act.Fields, a *Statement, file File, r Request) {
	a.Slip = yesNo(f, "slip", r.Slip)
	a.Has, a.Lacks = codes(f, file, "ticket_has", r.TicketHas), codes(f, file, "ticket_lacks", r.TicketLacks)
	for _, code := range a.Has {
		if slices.Contains(a.Lacks, code) {
			f.Add("ticket_lacks", "both", code, measure.Say("it is said to be there and not to be there"), measure.Say("one of the two"))
		}
	}
	if a.Slip == No && len(a.Has) > 0 {
		f.Add("slip", "both", r.Slip, measure.Say("no paper was left, and yet something is said to be on it"), measure.Say("yes, or nothing said to be on it"))
	}
}

// codes reads codes of fields that the set requires.
func codes(f *act.Fields, file File, field, text string) []string {
	var codes []string
	for _, code := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' }) {
		if !file.Set.Requires(code) {
			f.Add(field, "unknown", code, measure.Say("these rules of sale ask for no such field"), measure.Say("codes of fields that they ask for"))
			continue
		}
		if !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	return codes
}

func (s *Service) readAnswers(f *act.Fields, file File, r AnswersRequest) Answers {
	a := Answers{
		Vehicle: s.printed(f, file, "vehicle", r.Vehicle, false), Payment: orders.PaymentMethod(r.Payment),
		Used: yesNo(f, "used", r.Used), Stacked: yesNo(f, "stacked", r.Stacked),
	}
	if a.Payment != "" && !slices.Contains(orders.WaysPaid(), a.Payment) {
		f.Add("payment", "unknown", r.Payment, measure.Say("no such way of paying is known"), measure.Say("cash, cheque, card, transfer, not yet, or nothing"))
	}
	return a
}

// yesNo reads an answer that may be left open.
func yesNo(f *act.Fields, field, text string) YesNo {
	switch a := YesNo(text); a {
	case "", Yes, No:
		return a
	}
	f.Add(field, "unknown", text, measure.Say("it is neither yes nor no"), measure.Say("yes, no, or nothing where it is not known"))
	return ""
}

// latest is the zone in which a day begins first.
func latest() *time.Location { return time.FixedZone("", 14*60*60) }
