package orders

import (
	"cmp"
	"context"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A BoardKey names a group of the board.
type BoardKey string

// The groups of the board, in the order they are shown.
const (
	BoardToday    BoardKey = "today"    // its day is today or past
	BoardTomorrow BoardKey = "tomorrow" // its day is tomorrow
	BoardSettle   BoardKey = "settle"   // wood is missing, or can't be told yet
	BoardUnpaid   BoardKey = "unpaid"   // all is delivered and money is owed, either way
	BoardWeek     BoardKey = "week"     // its day is one of the next seven
	BoardLater    BoardKey = "later"
	BoardUndated  BoardKey = "undated"
)

// boardOrder is the order of the groups.
var boardOrder = []BoardKey{BoardToday, BoardTomorrow, BoardSettle, BoardUnpaid, BoardWeek, BoardLater, BoardUndated}

// A Stop is an order on the board.
type Stop struct {
	Order   Order            `json:"order"`
	Due     measure.Quantity `json:"due"` // still to be delivered
	Balance Balance          `json:"balance"`
	Step    OrderStep        `json:"step"`
	// Last is the day of its last load; no day before the first.
	Last act.Date `json:"last,omitzero"`
	// Late is how many days its day is past, 0 where it is not.
	Late int `json:"late,omitempty"`
}

// A BoardGroup is what is to be done at one time, or for one reason.
type BoardGroup struct {
	Key   BoardKey `json:"key"`
	Stops []Stop   `json:"stops"`
	// Wood is what the group's orders still have to come, one for each basis; of those to
	// settle, what was ordered.
	Wood []measure.Quantity `json:"wood"`
	// Due is what its customers owe.
	Due money.Money `json:"due"`
}

// A Board is what there is to do. An order is in one group at most: what has nothing left to
// do is in none.
type Board struct {
	Today  act.Date     `json:"today"`
	Groups []BoardGroup `json:"groups"` // those that hold anything
}

// Board gives what there is to do, from today in the shop's zone.
func (s *Service) Board(ctx context.Context, who act.Actor) (b Board, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Board{}, err
	}
	groups := map[BoardKey]*BoardGroup{}
	err = s.store.Read(ctx, func(tx Tx) error {
		shop, err := tx.Shop()
		if err != nil {
			return err
		}
		b.Today = act.DayIn(s.now(), shop.Zone)
		stops, err := OpenStops(tx, b.Today)
		for _, stop := range stops {
			key := stop.group(b.Today)
			if key == "" {
				continue
			}
			if groups[key] == nil {
				groups[key] = &BoardGroup{Key: key, Stops: []Stop{}, Wood: []measure.Quantity{}, Due: money.Money{Currency: shop.Currency}}
			}
			groups[key].add(stop)
		}
		return err
	})
	for _, key := range boardOrder {
		if g := groups[key]; g != nil {
			slices.SortStableFunc(g.Stops, g.Key.compare)
			b.Groups = append(b.Groups, *g)
		}
	}
	return b, act.Fail(err)
}

// An OpenTx tells of orders that may have something left to do.
type OpenTx interface {
	ledgers
	OpenOrders() ([]Order, error)
	Loads(orderID string) ([]yard.Load, error)
	Settlements(orderID string) ([]Settlement, error)
}

// OpenStops are the orders that may have something left to do; a stop without a Step has
// nothing.
func OpenStops(tx OpenTx, today act.Date) ([]Stop, error) {
	histories, err := unfinished(tx)
	stops := make([]Stop, len(histories))
	for i, h := range histories {
		stops[i] = h.stop(today)
	}
	return stops, err
}

// Collect is what is still to be paid once all that is due was delivered.
func (s Stop) Collect() money.Money {
	sum := s.Balance.Due.Minor + s.Balance.ToCome.Minor - s.Balance.Ahead.Minor - s.Balance.Back.Minor
	return money.Money{Minor: max(sum, 0), Currency: s.Balance.Due.Currency}
}

// unfinished are the orders that may have something left to do, each with what tells.
func unfinished(tx OpenTx) ([]History, error) {
	open, err := tx.OpenOrders()
	if err != nil {
		return nil, err
	}
	owed, err := Balances(tx, open)
	if err != nil {
		return nil, err
	}
	all := make([]History, len(open))
	for i, o := range open {
		h := History{Order: o, Balance: owed[o.ID]}
		if o.State != Taken {
			if h.Loads, err = tx.Loads(o.ID); err != nil {
				return nil, err
			}
		}
		if o.Outcome == stack.Short || o.Outcome == stack.Unresolved || len(h.Loads) > 0 {
			if h.Settlements, err = tx.Settlements(o.ID); err != nil {
				return nil, err
			}
		}
		all[i] = h
	}
	return all, nil
}

func (h History) stop(today act.Date) Stop {
	s := Stop{Order: h.Order, Due: h.Due(), Balance: h.Balance, Step: h.NextStep()}
	for _, load := range h.Loads {
		if load.On.After(s.Last) {
			s.Last = load.On
		}
	}
	if due := h.Order.Day.Due(); !h.Order.Day.IsZero() && !h.Order.Day.Open() {
		s.Late = max(due.DaysTo(today), 0)
	}
	return s
}

// group is where a stop belongs, empty where nothing is left to do.
func (s Stop) group(today act.Date) BoardKey {
	switch s.Step {
	case "":
		return ""
	case StepSettle, StepMeasure:
		return BoardSettle
	case StepTakePayment, StepGiveBack:
		return BoardUnpaid
	case StepSetDay:
		return BoardUndated
	}
	switch days := today.DaysTo(s.Order.Day.Due()); {
	case days <= 0:
		return BoardToday
	case days == 1:
		return BoardTomorrow
	case days <= 7:
		return BoardWeek
	}
	return BoardLater
}

func (g *BoardGroup) add(s Stop) {
	g.Stops = append(g.Stops, s)
	g.Due = g.Due.Add(s.Balance.Due)
	wood := s.Due
	if g.Key == BoardSettle || g.Key == BoardUnpaid {
		wood = s.Order.Quantity
	}
	g.Wood = AddQuantity(g.Wood, wood)
}

// compare puts the stops of a group in order: those for a day by day and hour, what is owed
// by its age, and the rest by when they were ordered.
func (k BoardKey) compare(a, b Stop) int {
	switch k {
	case BoardUnpaid:
		return cmp.Or(a.Last.Midnight().Compare(b.Last.Midnight()), cmp.Compare(a.Order.Number, b.Order.Number))
	case BoardSettle, BoardUndated:
		return cmp.Compare(a.Order.Number, b.Order.Number)
	}
	return cmp.Or(a.Order.Day.Due().Midnight().Compare(b.Order.Day.Due().Midnight()),
		cmp.Compare(a.Order.Day.Start(), b.Order.Day.Start()), cmp.Compare(a.Order.Number, b.Order.Number))
}
