package orders

import (
	"context"
	"errors"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Wish is wood that somebody wants and nobody is promised: a place on the waiting
// list. It ends in an order, or is dropped with its reason; both are kept.
type Wish struct {
	ID       string           `json:"id"`
	Request  OrderRequest     `json:"-"` // as typed; its words stay inside
	Customer string           `json:"customer"`
	Phone    string           `json:"phone,omitempty"`
	Quantity measure.Quantity `json:"quantity"`
	Species  string           `json:"species,omitempty"`
	// Price is what it would cost if it were taken now; of no currency where that is
	// not known yet.
	Price   Price     `json:"price"`
	Until   act.Date  `json:"wanted_by,omitzero"`
	For     string    `json:"wanted_for,omitempty" names:"erased"` // what the customer waits for: "until dry"
	By      string    `json:"by" names:"staff"`
	Asked   time.Time `json:"asked"`
	OrderID string    `json:"order_id,omitempty"`               // the order that came of it
	Dropped string    `json:"dropped,omitempty" names:"erased"` // why it was dropped
	Ended   time.Time `json:"ended,omitzero"`
}

// A WishRequest is a place on the waiting list as typed: an order, which may lack its
// price, and what it waits for.
type WishRequest struct {
	Order     OrderRequest `json:"order"`
	WantedBy  string       `json:"wanted_by"`  // "2006-01-02"; empty: no day is said
	WantedFor string       `json:"wanted_for"` // "until dry"
}

// A DropRequest is why a wish is dropped.
type DropRequest struct {
	Reason string `json:"reason"`
}

// A WaitingList is who waits, in the order of asking, and what they want together.
type WaitingList struct {
	Waiting []Wish             `json:"waiting"`
	Total   []measure.Quantity `json:"total"` // one for each basis
	Ended   []Wish             `json:"ended"` // the latest first
}

// WishStore keeps the waiting list; it is only added to.
type WishStore interface {
	// Wishes are all, in the order of asking, ended ones too.
	Wishes() ([]Wish, error)
	AddWish(w Wish) error
	// EndWish writes down the order that came of a wish, or why it was dropped.
	EndWish(w Wish, by string) error
}

// The verbs of the waiting list.
const (
	WishMade    act.Verb = "make wish"
	WishTaken   act.Verb = "take wish"
	WishDropped act.Verb = "drop wish"
)

// Wait puts an order on the waiting list. It is Invalid with all faults, as TakeOrder
// is, but for a price that is not said yet.
func (s *Service) Wait(ctx context.Context, by act.Act, r WishRequest) (Wish, error) {
	write := act.Write{Verb: WishMade, May: act.ToManage, Content: r}
	return act.Do(ctx, s.acts, by, write, func(tx Tx) (string, error) {
		var o Order
		typed, err := s.readOrder(tx, &o, r.Order)
		if typed == nil {
			return "", err
		}
		in := orderReader{service: s, shop: typed.shop, set: typed.set}
		if err := in.pricelessFaults(err); err != nil {
			return "", err
		}
		if why := typed.understood(o); why.Key != "" && len(in.Faults) == 0 {
			confirm(&in.Fields, in.set, in.shop.Units, r.Order.Confirmed, o.Quantity, o.Price.Wood, why)
		}
		w := Wish{Request: r.Order, Asked: s.now(), By: by.Actor.Person}
		if r.WantedBy != "" {
			w.Until, err = act.ParseDate(r.WantedBy)
			in.Parsed("wanted_by", err)
		}
		w.For = in.printedLine("wanted_for", r.WantedFor)
		in.Hush(in.set)
		if err := in.Err(); err != nil {
			return "", err
		}
		w.Request = settled(w.Request, o)
		if w.ID, err = act.NewID(); err != nil {
			return "", err
		}
		return w.ID, tx.AddWish(w)
	}, s.wish)
}

// settled is an order as typed with its line taken apart: "tomorrow" is another day when it
// is read again.
func settled(r OrderRequest, o Order) OrderRequest {
	r.Quantity, r.Species, r.Seasoning, r.Notes, r.Day = o.Words, o.Species, string(o.Seasoning), o.Notes, o.Day.String()
	r.Split, r.Stacking = string(o.Split), string(o.Stacking)
	if o.PieceLength > 0 {
		r.PieceLength = o.PieceLength.String()
	}
	return r
}

// pricelessFaults takes the faults of an order but for a price that is missing and a
// charge that is asked back: nothing is sold yet.
func (in *orderReader) pricelessFaults(err error) error {
	var known *act.Error
	if !errors.As(err, &known) || known.Kind != act.Invalid {
		return err
	}
	for _, f := range known.Fields {
		unsaid := f.Code == "missing" && (f.Field == "price_per_cord" || f.Field == "price_per_unit") || f.Field == "half_load"
		if !unsaid {
			in.Faults = append(in.Faults, f)
		}
	}
	return nil
}

// TakeWish makes an order of a wish: as it was typed, or as r says where that is not
// empty. It is Invalid as TakeOrder is, Conflict where the wish has ended.
func (s *Service) TakeWish(ctx context.Context, by act.Act, id string, r OrderRequest) (Order, error) {
	write := act.Write{Verb: WishTaken, Subject: id, May: act.ToManage, Content: r.unconfirmed()}
	return act.Do(ctx, s.acts, by, write, func(tx Tx) (string, error) {
		w, err := openWish(tx, id)
		if err != nil {
			return "", err
		}
		if r.unconfirmed() == (OrderRequest{}) {
			confirmed := r.Confirmed
			r = w.Request
			r.Confirmed = confirmed
		}
		if w.OrderID, err = s.takeOrder(tx, r); err != nil {
			return "", err
		}
		w.Ended = s.now()
		return w.OrderID, tx.EndWish(w, by.Actor.Person)
	}, Tx.Order)
}

// DropWish takes a wish off the list and keeps why. It is Conflict where it has ended.
func (s *Service) DropWish(ctx context.Context, by act.Act, id string, r DropRequest) (Wish, error) {
	write := act.Write{Verb: WishDropped, Subject: id, May: act.ToManage, Content: r}
	return act.Do(ctx, s.acts, by, write, func(tx Tx) (string, error) {
		w, err := openWish(tx, id)
		if err != nil {
			return "", err
		}
		shop, err := tx.Shop()
		if err != nil {
			return "", err
		}
		set, err := s.setOf(shop)
		if err != nil {
			return "", err
		}
		in := orderReader{service: s, shop: shop, set: set}
		w.Dropped = in.reason(r.Reason)
		in.Hush(set)
		if err := in.Err(); err != nil {
			return "", err
		}
		w.Ended = s.now()
		return id, tx.EndWish(w, by.Actor.Person)
	}, s.wish)
}

// wish gives a wish with what it says and would cost now.
func (s *Service) wish(tx Tx, id string) (Wish, error) {
	w, err := findWish(tx, id)
	if err != nil {
		return Wish{}, err
	}
	return w, s.read(tx, &w)
}

func findWish(tx Tx, id string) (Wish, error) {
	all, err := tx.Wishes()
	if err != nil {
		return Wish{}, err
	}
	i := slices.IndexFunc(all, func(w Wish) bool { return w.ID == id })
	if i < 0 {
		return Wish{}, &act.Error{Kind: act.NotFound, Message: measure.Say("that place on the waiting list isn’t here")}
	}
	return all[i], nil
}

func openWish(tx Tx, id string) (Wish, error) {
	w, err := findWish(tx, id)
	if err == nil && !w.Ended.IsZero() {
		err = act.NewConflict("%s is not on the waiting list any more", w.Request.CustomerName)
	}
	return w, err
}

// read fills in what a wish's order says and would cost now. What of it can no longer
// be read, since the rules or the charges were changed, is left out.
func (s *Service) read(tx Tx, w *Wish) error {
	var o Order
	if _, err := s.readOrder(tx, &o, w.Request); err != nil && act.KindOf(err) != act.Invalid {
		return err
	}
	w.Customer, w.Phone, w.Quantity, w.Species, w.Price = o.Customer.Name, o.Customer.Phone, o.Quantity, o.Species, o.Price
	return nil
}

// Waiting gives the waiting list.
func (s *Service) Waiting(ctx context.Context, who act.Actor) (list WaitingList, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return WaitingList{}, err
	}
	list = WaitingList{Waiting: []Wish{}, Total: []measure.Quantity{}, Ended: []Wish{}}
	err = s.store.Read(ctx, func(tx Tx) error {
		all, err := tx.Wishes()
		if err != nil {
			return err
		}
		for _, w := range all {
			if err := s.read(tx, &w); err != nil {
				return err
			}
			if !w.Ended.IsZero() {
				list.Ended = append(list.Ended, w)
				continue
			}
			list.Waiting = append(list.Waiting, w)
			list.Total = AddQuantity(list.Total, w.Quantity)
		}
		return nil
	})
	slices.SortStableFunc(list.Ended, func(a, b Wish) int { return b.Ended.Compare(a.Ended) })
	return list, act.Fail(err)
}

// AddQuantity counts a quantity to the total of its basis.
func AddQuantity(totals []measure.Quantity, q measure.Quantity) []measure.Quantity {
	if q.Volume == 0 {
		return totals
	}
	for i := range totals {
		if totals[i].Basis == q.Basis {
			totals[i].Volume += q.Volume
			return totals
		}
	}
	return append(totals, q)
}
