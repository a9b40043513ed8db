package road

import (
	"cmp"
	"context"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A Drop is wood of one order that comes off at one stop.
type Drop struct {
	orders.Stop
	Wood   measure.Quantity `json:"wood"`
	Weight wood.Mass        `json:"weight_micrograms"` // at the most
	Share  float64          `json:"share"`             // of the bed's room, at the most; a ratio
	Loaded bool             `json:"loaded"`
	// Collect is what is to be paid at this stop. Of an order that comes in parts that is with
	// the last; With then tells which trip of the day brings that, 0 elsewhere.
	Collect money.Money `json:"collect"`
	With    int         `json:"with,omitempty"`
	// Access, Stacking and Place are what is kept of the customer.
	Access   string `json:"access,omitempty" names:"erased"`
	Stacking string `json:"stacking,omitempty" names:"erased"`
	Place    string `json:"place,omitempty" names:"erased"`
	// Gone tells that it was delivered, or that nothing is left to deliver of the order.
	Gone bool `json:"gone"`
}

// A Trip is one trip of a vehicle.
type Trip struct {
	Number  int     `json:"number"` // of the day, from 1
	Vehicle Vehicle `json:"vehicle"`
	Round   int     `json:"round"` // which trip of this vehicle, from 1
	Driver  string  `json:"driver,omitempty" names:"staff"`
	Drops   []Drop  `json:"drops"` // in order of the stops
	// Share is how full the bed is at the most, a ratio; Weight what all weighs at the most.
	Share  float64   `json:"share"`
	Weight wood.Mass `json:"weight_micrograms"`
	// Way is as the crow flies, past the stops whose place is saved; from the yard and back
	// where its place is.
	Way      measure.Length `json:"way"`
	Unplaced int            `json:"unplaced"` // stops without a saved place
}

// Loading are the drops in the order they are loaded: last out, first in.
func (t Trip) Loading() []Drop {
	drops := slices.Clone(t.Drops)
	slices.Reverse(drops)
	return drops
}

// Fits tells whether all has room up to the line.
func (t Trip) Fits() bool { return t.Share <= 1+rim }

// Allowed tells whether the trip, at the most it may weigh, is what the vehicle's papers let it carry.
func (t Trip) Allowed() bool { return t.Weight <= t.Vehicle.Carries() }

// Over tells that the trip may be more than the vehicle holds or may carry.
func (t Trip) Over() bool { return !t.Fits() || !t.Allowed() }

// Wood is what goes along, by basis.
func (t Trip) Wood() (all []measure.Quantity) {
	for _, d := range t.Drops {
		all = orders.AddQuantity(all, d.Wood)
	}
	return all
}

// Collect is what is to be paid on the trip.
func (t Trip) Collect() (sum money.Money) {
	for _, d := range t.Drops {
		sum = sum.Add(d.Collect)
	}
	return sum
}

// A Day is what goes out on one day.
type Day struct {
	On      act.Date `json:"on"`
	Today   act.Date `json:"today"`
	Version int64    `json:"version"`
	ByHand  bool     `json:"by_hand"`
	Proven  bool     `json:"proven"`
	Trips   []Trip   `json:"trips"`
	// Waiting are the orders of the day that are on no vehicle, or not all of them; Along
	// those that may come on the day or on a later one.
	Waiting  []Drop    `json:"waiting"`
	Along    []Drop    `json:"along"`
	Vehicles []Vehicle `json:"vehicles"`
	Yard     string    `json:"yard,omitempty" names:"shop"`
}

// Day gives what goes out on a day. A driver sees the trips that are his or nobody's.
func (s *Service) Day(ctx context.Context, who act.Actor, on act.Date) (d Day, err error) {
	if err := act.Allow(who, act.ToDeliver); err != nil {
		return Day{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		d, err = s.dayOf(who, on)(tx, "")
		return err
	})
	return d, act.Fail(err)
}

// seenBy is what of a day somebody may see.
func (d Day) seenBy(who act.Actor) Day {
	if who.Role == act.Driver {
		d.Trips = slices.DeleteFunc(d.Trips, func(t Trip) bool { return t.Driver != "" && t.Driver != who.Person })
		d.Waiting, d.Along, d.Vehicles = nil, nil, nil
	}
	return d
}

// Today is the day in the shop's zone.
func (s *Service) Today(ctx context.Context) (today act.Date, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		shop, err := tx.Shop()
		today = act.DayIn(s.acts.Now(), shop.Zone)
		return err
	})
	return today, act.Fail(err)
}

// A view is all that a day's plan rests on.
type view struct {
	tx    Tx
	shop  orders.Shop
	today act.Date
	park  Park
	plan  Plan
	open  map[string]orders.Stop // still to be delivered, by order
	order []string               // their ids, in the order of their days and hours
}

func (s *Service) look(tx Tx, on act.Date) (v view, err error) {
	v.tx, v.open = tx, map[string]orders.Stop{}
	if v.shop, err = tx.Shop(); err != nil {
		return v, err
	}
	v.today = act.DayIn(s.acts.Now(), v.shop.Zone)
	if v.park, err = parked(tx); err != nil {
		return v, err
	}
	if v.plan, err = tx.Plan(on); err != nil {
		return v, err
	}
	stops, err := orders.OpenStops(tx, v.today)
	slices.SortStableFunc(stops, func(a, b orders.Stop) int {
		return cmp.Or(a.Order.Day.Due().Midnight().Compare(b.Order.Day.Due().Midnight()),
			cmp.Compare(a.Order.Day.Start(), b.Order.Day.Start()), cmp.Compare(a.Order.Number, b.Order.Number))
	})
	for _, stop := range stops {
		if stop.Step == orders.StepDeliver {
			v.open[stop.Order.ID] = stop
			v.order = append(v.order, stop.Order.ID)
		}
	}
	if err != nil {
		return v, err
	}
	return v, v.came()
}

// came marks the planned stops that were delivered.
func (v view) came() error {
	loads := map[string]int{}
	for _, t := range v.plan.Trips {
		for i := range t.Stops {
			stop := &t.Stops[i]
			if _, open := v.open[stop.Order]; !open {
				stop.came = true
				continue
			}
			left, known := loads[stop.Order]
			if !known {
				all, err := v.tx.Loads(stop.Order)
				if err != nil {
					return err
				}
				for _, l := range all {
					if l.On == v.plan.Day {
						left++
					}
				}
			}
			stop.came = left > 0
			loads[stop.Order] = max(left-1, 0)
		}
	}
	return nil
}

// when tells whether an order is to come on the planned day, or may.
func (v view) when(stop orders.Stop) (must, may bool) {
	on, span := v.plan.Day, stop.Order.Day
	switch {
	case span.IsZero() || span.From.After(on):
		return false, false
	case span.Open():
		return false, true
	case span.Due() == on:
		return true, true
	}
	late := on == v.today && on.After(span.Due())
	return late, late || span.Due().After(on)
}

// day makes the day of the plan and of what is still to be delivered.
func (v view) day() (d Day, err error) {
	d = Day{On: v.plan.Day, Today: v.today, Version: v.plan.Version, ByHand: v.plan.ByHand, Proven: v.plan.Proven, Yard: v.park.Yard.Place,
		Trips: []Trip{}, Waiting: []Drop{}, Along: []Drop{}, Vehicles: v.park.Vehicles}
	rounds, planned := map[string]int{}, map[string]measure.Volume{}
	for i, p := range v.plan.Trips {
		rounds[p.Vehicle]++
		t := Trip{Number: i + 1, Round: rounds[p.Vehicle], Driver: p.Driver, Vehicle: v.known(p.Vehicle)}
		for _, stop := range p.Stops {
			drop, err := v.drop(stop.Order, stop.Wood)
			if err != nil {
				return d, err
			}
			drop.Loaded, drop.Gone = stop.Loaded, stop.came
			if !stop.came {
				planned[stop.Order] += stop.Wood.Volume
			}
			t.add(drop)
		}
		t.measure(v.park.Yard.Place)
		d.Trips = append(d.Trips, t)
	}
	d.collect(planned)
	for _, id := range v.order {
		stop := v.open[id]
		left := stop.Due
		left.Volume -= planned[id]
		if left.Volume <= 0 {
			continue
		}
		drop, err := v.drop(id, left)
		if err != nil {
			return d, err
		}
		if must, may := v.when(stop); must || planned[id] > 0 {
			d.Waiting = append(d.Waiting, drop)
		} else if may {
			d.Along = append(d.Along, drop)
		}
	}
	return d, nil
}

// known is a vehicle of the plan; one taken out of use has no name any more.
func (v view) known(id string) Vehicle {
	found, err := v.park.vehicle(id)
	if err != nil {
		return Vehicle{ID: id}
	}
	return found
}

// drop is wood of an order with all that is needed at its stop.
func (v view) drop(id string, q measure.Quantity) (d Drop, err error) {
	stop, open := v.open[id]
	if !open {
		if stop.Order, err = v.tx.Order(id); err != nil {
			return d, err
		}
	}
	d.Stop, d.Wood = stop, q
	d.Weight = cargo(stop.Order, q).Heaviest()
	if record := stop.Order.Customer.Record; record != "" {
		r, err := v.tx.CustomerRecord(record)
		if err != nil {
			return d, err
		}
		d.Access, d.Stacking, d.Place = r.Access, r.Stacking, r.Place
	}
	return d, nil
}

// cargo is wood of an order as it goes on a vehicle. A species that isn't known by that name is
// taken as the heaviest wood.
func cargo(o orders.Order, q measure.Quantity) storage.Cargo {
	c := storage.Cargo{Wood: q, PieceLength: o.PieceLength, Kind: storage.AnyWood}
	if mixes, err := wood.ParseMixes(o.Species); err == nil {
		c.Species = mixes
	}
	switch o.Seasoning {
	case yard.Seasoned:
		c.Dried = storage.AirDried
	case yard.KilnDried:
		c.Dried = storage.KilnHot
	}
	return c
}

// unholdable is the share of a bed that wood takes which doesn't fit in it at all.
const unholdable = 1_000

// add puts a drop on the trip.
func (t *Trip) add(d Drop) {
	if t.Vehicle.usable() {
		d.Share = min(cargo(d.Order, d.Wood).Share(t.Vehicle.holds(d.Order.PieceLength)), unholdable)
	}
	t.Share += d.Share
	t.Weight += d.Weight
	t.Drops = append(t.Drops, d)
}

// measure finds how far the trip is.
func (t *Trip) measure(yard string) {
	g := groundOf(t.Drops, yard)
	for _, placed := range g.placed {
		if !placed {
			t.Unplaced++
		}
	}
	t.Way = g.length(numbers(len(t.Drops)))
}

// groundOf is where drops are.
func groundOf(drops []Drop, yard string) ground {
	n := len(drops)
	g := ground{placed: make([]bool, n), between: make([][]measure.Length, n)}
	at, windows := make([]place, n), make([]window, n)
	for i, d := range drops {
		at[i], g.placed[i] = placeOf(d.Place)
		windows[i] = windowOf(d.Order.Day.Hours)
	}
	start, known := placeOf(yard)
	for i := range drops {
		g.between[i] = make([]measure.Length, n)
		for k := range drops {
			g.between[i][k] = crow(at[i], at[k])
		}
		if known {
			g.yard = append(g.yard, crow(start, at[i]))
		}
	}
	g.before = func(first, second int) bool { return windows[first].before(windows[second]) }
	return g
}

// collect tells at which drops what is paid: with the last of an order, where the day brings
// all that is due.
func (d *Day) collect(planned map[string]measure.Volume) {
	last := map[string]int{}
	for i, t := range d.Trips {
		for _, drop := range t.Drops {
			if !drop.Gone {
				last[drop.Order.ID] = i
			}
		}
	}
	for i, t := range d.Trips {
		for k, drop := range t.Drops {
			switch id := drop.Order.ID; {
			case drop.Gone || planned[id] < drop.Due.Volume:
			case last[id] == i && !later(t.Drops[k+1:], id):
				t.Drops[k].Collect = drop.Stop.Collect()
			default:
				t.Drops[k].With = last[id] + 1
			}
			t.Drops[k].Collect.Currency = drop.Order.Price.Wood.Currency
		}
	}
}

// later tells whether an order comes again among drops.
func later(drops []Drop, id string) bool {
	return slices.ContainsFunc(drops, func(d Drop) bool { return d.Order.ID == id && !d.Gone })
}
