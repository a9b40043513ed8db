package road

import (
	"context"
	"slices"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// An ArrangeRequest asks for a day to be arranged: which vehicles go, and which orders go along
// that need not.
type ArrangeRequest struct {
	Vehicles []string `json:"vehicles"` // ids
	Along    []string `json:"along"`    // ids of orders that may come on a later day too
	Version  int64    `json:"version"`  // of the plan that was seen; 0 where there was none
}

// mostDrops is how many drops a day may have.
const mostDrops = 60

// Arrange puts the orders of a day onto vehicles, and the stops of each trip in the order of
// the shortest round. An order that is too much for any vehicle alone is parted into full loads
// and a rest. What was planned before is arranged again; what is loaded already isn't known
// any more.
func (s *Service) Arrange(ctx context.Context, by act.Act, on act.Date, r ArrangeRequest) (Day, error) {
	w := act.Write{Verb: DayArranged, Subject: on.String(), May: act.ToManage, Content: r}
	slow := act.Slow[Tx, arranging]{
		Read: func(tx Tx) (arranging, error) { return s.arranging(tx, on, r) },
		Prepare: func(a arranging) (func(Tx) (string, error), error) {
			plan := a.plan()
			plan.Changed = s.acts.Now()
			return func(tx Tx) (string, error) { return save(tx, plan) }, nil
		},
	}
	return act.DoSlow(ctx, s.acts, by, w, slow, s.dayOf(by.Actor, on))
}

// dayOf reads a day that was written.
func (s *Service) dayOf(who act.Actor, on act.Date) func(Tx, string) (Day, error) {
	return func(tx Tx, _ string) (Day, error) {
		v, err := s.look(tx, on)
		if err != nil {
			return Day{}, err
		}
		d, err := v.day()
		return d.seenBy(who), err
	}
}

// save keeps a plan that was made of the one at its version.
func save(tx Tx, p Plan) (string, error) {
	was, err := tx.Plan(p.Day)
	if err != nil {
		return "", err
	}
	if was.Version != p.Version {
		return "", act.NewConflict("somebody else changed this day first; look at it as it is now and change it again")
	}
	return "", tx.SavePlan(p)
}

// An arranging is what is to be put on which vehicles.
type arranging struct {
	version  int64
	on       act.Date
	yard     string
	vehicles []Vehicle
	drops    []Drop
	drivers  map[string]string // by vehicle, as planned before
}

func (s *Service) arranging(tx Tx, on act.Date, r ArrangeRequest) (a arranging, err error) {
	v, err := s.look(tx, on)
	if err != nil {
		return a, err
	}
	a = arranging{version: r.Version, on: on, yard: v.park.Yard.Place, drivers: map[string]string{}}
	for _, t := range v.plan.Trips {
		a.drivers[t.Vehicle] = t.Driver
	}
	var in act.Fields
	a.pick(&in, v.park, r.Vehicles)
	for _, id := range v.order {
		stop := v.open[id]
		if must, may := v.when(stop); !must && !(may && slices.Contains(r.Along, id)) {
			continue
		}
		if err := a.part(&in, v, stop); err != nil {
			return a, err
		}
	}
	if len(a.drops) == 0 && len(in.Faults) == 0 {
		in.Add("along", "nothing", "", measure.Say("no order is to be delivered that day"), measure.Say("a day with orders, or orders that may go along"))
	}
	if len(a.drops) > mostDrops {
		in.Add("along", "too-many", "", measure.Say("that is more than %d stops", mostDrops), measure.Say("fewer orders, or larger vehicles"))
	}
	return a, in.Err()
}

// pick takes the vehicles that go.
func (a *arranging) pick(in *act.Fields, p Park, ids []string) {
	for _, id := range ids {
		v, err := p.vehicle(id)
		switch {
		case err != nil:
			in.Add("vehicles", "unknown", "", measure.Say("one of the vehicles isn’t in use any more"), measure.Say("vehicles in use"))
		case !v.usable():
			in.Add("vehicles", "no-bed", v.Name, measure.Say("its bed was taken out of use, so its room isn’t known"), measure.Say("a vehicle with a taped bed"))
		default:
			a.vehicles = append(a.vehicles, v)
		}
	}
	if len(ids) == 0 {
		in.Add("vehicles", "missing", "", measure.Say("no vehicle was picked"), measure.Say("those that go out that day"))
	}
}

// part makes the drops of an order: full loads as long as what is left is too much for any of the
// vehicles, then the rest.
func (a *arranging) part(in *act.Fields, v view, stop orders.Stop) error {
	left := stop.Due
	for left.Volume > 0 && len(a.vehicles) > 0 && len(a.drops) <= mostDrops {
		q := left
		if q.Volume = min(left.Volume, a.most(stop.Order, left)); q.Volume <= 0 {
			in.Add("vehicles", "too-small", "", measure.Say("order %d doesn’t fit on any of these vehicles", int(stop.Order.Number)), measure.Say("a vehicle with room for pieces of that length"))
			return nil
		}
		drop, err := v.drop(stop.Order.ID, q)
		if err != nil {
			return err
		}
		a.drops = append(a.drops, drop)
		left.Volume -= q.Volume
	}
	return nil
}

// most is the most of an order's wood that one of the vehicles carries at once.
func (a *arranging) most(o orders.Order, q measure.Quantity) (most measure.Volume) {
	whole := cargo(o, q)
	for _, v := range a.vehicles {
		part := 1.0
		if share := whole.Share(v.holds(o.PieceLength)); share > 1 {
			part = 1 / share
		}
		if weight := whole.Heaviest(); weight > v.Carries() {
			part = min(part, v.Carries().In(weight))
		}
		volume := q.Volume
		if part < 1 {
			volume = measure.Volume(part * float64(q.Volume) * (1 - rim)) // rounded, it still fits
		}
		most = max(most, volume)
	}
	return most
}

// plan puts the drops on the vehicles.
func (a arranging) plan() Plan {
	g := groundOf(a.drops, a.yard)
	p := Plan{Day: a.on, Version: a.version, Trips: []PlannedTrip{}, Proven: true}
	parcels, carriers := make([]parcel, len(a.drops)), make([]carrier, len(a.vehicles))
	for v, vehicle := range a.vehicles {
		carriers[v] = carrier{vehicle.Carries()}
		for i, d := range a.drops {
			parcels[i].weight = d.Weight
			parcels[i].shares = append(parcels[i].shares, cargo(d.Order, d.Wood).Share(vehicle.holds(d.Order.PieceLength)))
		}
	}
	packed := pack(parcels, carriers, g)
	p.Proven = packed.exact
	for v, vehicle := range a.vehicles {
		var trips [][]int
		for trip := 0; ; trip++ {
			stops := on(packed.slots, slot{v, trip})
			if len(stops) == 0 {
				break
			}
			round, exact := g.roundOf(stops)
			p.Proven = p.Proven && exact
			trips = append(trips, round)
		}
		slices.SortStableFunc(trips, func(x, y []int) int { return a.earliest(x) - a.earliest(y) })
		for _, round := range trips {
			p.Trips = append(p.Trips, a.trip(vehicle, round))
		}
	}
	return p
}

// on are the parcels in a slot.
func on(slots []slot, at slot) (stops []int) {
	for i, s := range slots {
		if s == at {
			stops = append(stops, i)
		}
	}
	return stops
}

// earliest is the hour by which the first of some drops is wanted.
func (a arranging) earliest(round []int) int {
	hours := make([]int, len(round))
	for i, stop := range round {
		hours[i] = windowOf(a.drops[stop].Order.Day.Hours).to
	}
	return slices.Min(hours)
}

func (a arranging) trip(v Vehicle, round []int) PlannedTrip {
	t := PlannedTrip{Vehicle: v.ID, Driver: a.drivers[v.ID]}
	for _, stop := range round {
		t.Stops = append(t.Stops, PlannedStop{Order: a.drops[stop].Order.ID, Wood: a.drops[stop].Wood})
	}
	return t
}
