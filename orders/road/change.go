package road

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A ChangeRequest is a day as it was put together by hand.
type ChangeRequest struct {
	Stops   []StopRequest   `json:"stops"`
	Drivers []DriverRequest `json:"drivers"`
	// Shortest puts the stops of each trip in the order of the shortest round: "yes".
	Shortest string `json:"shortest"`
	// Confirmed repeats which trips may be too much, where that was asked.
	Confirmed string `json:"confirmed"`
	Version   int64  `json:"version"`
}

// A StopRequest says where wood of an order goes.
type StopRequest struct {
	Order string `json:"order"` // id
	// Nanolitres is how much of it; 0 is all that is due.
	Nanolitres int64 `json:"nanolitres"`
	// Trip is the vehicle's id and which trip of it, "… 1"; empty: it doesn't go that day.
	Trip  string `json:"trip"`
	Place string `json:"place"` // 1 is the first stop; empty: as the list says
}

// A DriverRequest says who drives a vehicle that day.
type DriverRequest struct {
	Vehicle string `json:"vehicle"` // id
	Driver  string `json:"driver"`
}

// mostRounds is how often one vehicle may go in a day.
const mostRounds = 20

// Change keeps a day as it was put together by hand. A trip that may be more than the vehicle
// holds or may carry is asked about.
func (s *Service) Change(ctx context.Context, by act.Act, on act.Date, r ChangeRequest) (Day, error) {
	w := act.Write{Verb: DayChanged, Subject: on.String(), May: act.ToManage, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		v, err := s.look(tx, on)
		if err != nil {
			return "", err
		}
		plan, err := v.changed(r)
		if err != nil {
			return "", err
		}
		plan.Changed = s.acts.Now()
		return save(tx, plan)
	}, s.dayOf(by.Actor, on))
}

// A placed stop is one with where it goes.
type placedStop struct {
	PlannedStop
	vehicle      string
	round, place int
}

// changed is the plan as a person wants it.
func (v view) changed(r ChangeRequest) (Plan, error) {
	var in act.Fields
	var stops []placedStop
	planned := v.planned()
	for i, stop := range r.Stops {
		before, was := take(planned, stop.Order, measure.Volume(stop.Nanolitres))
		if strings.TrimSpace(stop.Trip) != "" {
			stops = append(stops, v.placed(&in, "stops["+strconv.Itoa(i)+"]", stop, before, was))
		}
	}
	v.enough(&in, stops)
	if err := in.Err(); err != nil {
		return Plan{}, err
	}
	slices.SortStableFunc(stops, func(a, b placedStop) int {
		return cmp.Or(v.rank(a.vehicle)-v.rank(b.vehicle), a.round-b.round, a.place-b.place)
	})
	p := Plan{Day: v.plan.Day, Version: r.Version, Trips: []PlannedTrip{}, ByHand: true}
	for i, stop := range stops {
		if i == 0 || stop.vehicle != stops[i-1].vehicle || stop.round != stops[i-1].round {
			p.Trips = append(p.Trips, PlannedTrip{Vehicle: stop.vehicle, Driver: v.driver(&in, r.Drivers, stop.vehicle)})
		}
		t := &p.Trips[len(p.Trips)-1]
		t.Stops = append(t.Stops, stop.PlannedStop)
	}
	asked, err := v.with(p, in.Ticked("shortest", r.Shortest))
	if err != nil {
		return Plan{}, err
	}
	if yes := strings.Join(asked.names, "; "); yes != strings.TrimSpace(r.Confirmed) {
		for _, text := range asked.says {
			in.Add("confirmed", "read-back", "", text, measure.Say("%s", yes))
		}
	}
	return p, in.Err()
}

// rank is the order of the vehicles.
func (v view) rank(id string) int {
	return slices.IndexFunc(v.park.Vehicles, func(o Vehicle) bool { return o.ID == id })
}

// placed reads where a stop goes, which was planned as before says if it was.
func (v view) placed(in *act.Fields, field string, r StopRequest, before PlannedStop, was bool) (out placedStop) {
	stop, open := v.open[r.Order]
	if !open && !was {
		in.Add(field+".trip", "not-due", "", measure.Say("nothing of that order is still to be delivered"), measure.Say("orders that are to be delivered"))
		return out
	}
	id, round, _ := strings.Cut(strings.TrimSpace(r.Trip), " ")
	n, err := strconv.Atoi(round)
	if v.rank(id) < 0 || err != nil || n < 1 || n > mostRounds {
		in.Add(field+".trip", "unknown", r.Trip, measure.Say("that trip isn’t one of a vehicle in use"), measure.Say("a vehicle and which trip of it"))
	}
	out = placedStop{vehicle: id, round: n, place: mostDrops + 1}
	if text := strings.TrimSpace(r.Place); text != "" {
		if out.place, err = strconv.Atoi(text); err != nil || out.place < 1 || out.place > mostDrops {
			in.Add(field+".place", "not-a-number", text, measure.Say("it isn’t the number of a stop"), measure.Say("1 for the first stop"))
		}
	}
	out.Order, out.Wood, out.Loaded, out.came = r.Order, stop.Due, before.Loaded, before.came
	if !open {
		out.Wood = before.Wood
	}
	if r.Nanolitres != 0 {
		out.Wood.Volume = measure.Volume(r.Nanolitres)
	}
	return out
}

// enough notes stops that bring more of an order than is still due, or nothing of it.
func (v view) enough(in *act.Fields, stops []placedStop) {
	sums := map[string]measure.Volume{}
	for _, s := range stops {
		if s.came {
			continue // it isn't due any more
		}
		due, open := v.open[s.Order]
		if sums[s.Order] += s.Wood.Volume; s.Wood.Volume <= 0 || open && sums[s.Order] > due.Due.Volume {
			in.Add("stops", "too-much", "", measure.Say("of order %d other wood is planned than is still to be delivered", int(due.Order.Number)), measure.Say("up to %s", due.Due))
		}
	}
}

// planned are the stops of the plan before, in order.
func (v view) planned() *[]PlannedStop {
	var all []PlannedStop
	for _, t := range v.plan.Trips {
		all = append(all, t.Stops...)
	}
	return &all
}

// take takes the first stop with so much of an order out of those planned, so that of two alike
// each is what one was before; false where there is none.
func take(planned *[]PlannedStop, order string, volume measure.Volume) (s PlannedStop, found bool) {
	at := slices.IndexFunc(*planned, func(s PlannedStop) bool { return s.Order == order && s.Wood.Volume == volume })
	if at < 0 {
		return PlannedStop{}, false
	}
	s = (*planned)[at]
	*planned = slices.Delete(*planned, at, at+1)
	return s, true
}

// driver is who drives a vehicle.
func (v view) driver(in *act.Fields, all []DriverRequest, vehicle string) string {
	for i, d := range all {
		if d.Vehicle == vehicle {
			return in.Line("drivers["+strconv.Itoa(i)+"].driver", d.Driver)
		}
	}
	return ""
}

// overs are the trips that may be too much, each with what a yes repeats of it.
type overs struct {
	names []string
	says  []measure.Text
}

// with looks at the trips of a plan, and puts their stops in order where that is asked.
func (v view) with(p Plan, shortest bool) (o overs, err error) {
	for i, planned := range p.Trips {
		t := Trip{Number: i + 1, Vehicle: v.known(planned.Vehicle)}
		for _, stop := range planned.Stops {
			drop, err := v.drop(stop.Order, stop.Wood)
			if err != nil {
				return o, err
			}
			t.add(drop)
		}
		if shortest {
			round, _ := groundOf(t.Drops, v.park.Yard.Place).roundOf(numbers(len(t.Drops)))
			order := slices.Clone(planned.Stops)
			for k, stop := range round {
				p.Trips[i].Stops[k] = order[stop]
			}
		}
		o.look(t)
	}
	return o, nil
}

// numbers are 0 to n-1.
func numbers(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

func (o *overs) look(t Trip) {
	name := t.Vehicle.Name + " " + strconv.Itoa(t.Number)
	if !t.Fits() {
		o.names = append(o.names, name+" room")
		o.says = append(o.says, measure.Say("trip %d, %s, may be fuller than the line: %d %% of its room", t.Number, t.Vehicle.Name, int(t.Share*100+0.5)))
	}
	if !t.Allowed() {
		o.names = append(o.names, name+" weight")
		o.says = append(o.says, measure.Say("trip %d, %s, may be heavier than its papers allow", t.Number, t.Vehicle.Name))
	}
}

// A LoadedRequest says which stops of a trip are loaded, by their order on it.
type LoadedRequest struct {
	Trip   int64   `json:"trip"`   // from 1
	Loaded []int64 `json:"loaded"` // stops, from 1
	// Shown is what the trip was as it was ticked, in the words of Trip.Shown: what others
	// ticked of other stops meanwhile then stays, and only another plan is a conflict. Without
	// it the version decides.
	Shown   string `json:"shown"`
	Version int64  `json:"version"`
}

// loadedMark parts in Shown what was loaded from what wasn't.
const loadedMark = "+"

// Shown is what a trip's stops are and which were loaded, to be sent back with ticks.
func (t Trip) Shown() string {
	all := make([]string, len(t.Drops))
	for i, d := range t.Drops {
		all[i] = PlannedStop{Order: d.Order.ID, Wood: d.Wood, Loaded: d.Loaded}.shown()
	}
	return strings.Join(all, " ")
}

func (s PlannedStop) shown() string {
	text := s.Order + "/" + strconv.FormatInt(int64(s.Wood.Volume), 10)
	if s.Loaded {
		text += loadedMark
	}
	return text
}

// tick puts what was ticked on a trip's stops: of a trip that was shown only what differs from
// what it showed. It is a conflict where the stops are others by now.
func (r LoadedRequest) tick(stops []PlannedStop) error {
	shown := strings.Fields(r.Shown)
	changed := func(i int) bool { return true }
	if r.Shown != "" {
		if len(shown) != len(stops) {
			return errTripChanged()
		}
		changed = func(i int) bool {
			return strings.HasSuffix(shown[i], loadedMark) != slices.Contains(r.Loaded, int64(i+1))
		}
	}
	for i := range stops {
		is := stops[i]
		is.Loaded = false
		if r.Shown != "" && strings.TrimSuffix(shown[i], loadedMark) != is.shown() {
			return errTripChanged()
		}
		if changed(i) {
			stops[i].Loaded = slices.Contains(r.Loaded, int64(i+1))
		}
	}
	return nil
}

func errTripChanged() error {
	return act.NewConflict("this trip was put together again meanwhile; look at it as it is now and tick it again")
}

// Load keeps which stops of a trip are loaded; of a driver only on a trip of his or nobody's.
func (s *Service) Load(ctx context.Context, by act.Act, on act.Date, r LoadedRequest) (Day, error) {
	w := act.Write{Verb: StopsLoaded, Subject: on.String(), May: act.ToDeliver, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		p, err := tx.Plan(on)
		if err != nil {
			return "", err
		}
		if r.Trip < 1 || int(r.Trip) > len(p.Trips) {
			return "", act.NewNotFound("that trip isn’t planned")
		}
		t := &p.Trips[r.Trip-1]
		if by.Actor.Role == act.Driver && t.Driver != "" && t.Driver != by.Actor.Person {
			return "", act.NewNotFound("that trip isn’t planned")
		}
		if err := r.tick(t.Stops); err != nil {
			return "", err
		}
		if r.Shown == "" {
			p.Version = r.Version
		}
		p.Changed = s.acts.Now()
		return save(tx, p)
	}, s.dayOf(by.Actor, on))
}
