//go:build !wasm

package words

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/road"
)

// RoadDay is the day that goes out: "Saturday 28 November".
func (p *Printer) RoadDay(d road.Day) string { return p.weekday(d.On, d.Today) }

// Trip names a trip with its vehicle and driver: "Trip 2: red truck, Wren".
func (p *Printer) Trip(t road.Trip) string {
	name := t.Vehicle.Name
	if name == "" {
		name = p.say("a vehicle that isn’t in use any more")
	}
	text := p.say("Trip %d: %s", t.Number, name)
	if t.Driver != "" {
		text = p.say("%s, %s", text, t.Driver)
	}
	return text
}

// TripLoad is how full the bed is and what all of it may weigh, as a sentence.
func (p *Printer) TripLoad(t road.Trip) string {
	if t.Vehicle.Body == nil {
		return p.say("Up to %s.", p.Mass(t.Weight))
	}
	return p.say("Up to %d %% of the room to its line, and up to %s of the %s that it may carry.", percentUp(t.Share), p.Mass(t.Weight), p.Mass(t.Vehicle.Carries()))
}

// TripWood is all the wood of a trip.
func (p *Printer) TripWood(t road.Trip) string { return p.Quantities(t.Wood(), p.Quantity) }

// percentUp is a share in whole percent, never less than it is by more than a hair.
func percentUp(share float64) int { return int(share*100 + 1 - 1e-6) }

// TripFaults say what may be too much on a trip.
func (p *Printer) TripFaults(t road.Trip) (lines []string) {
	if t.Vehicle.Body == nil {
		return []string{p.say("What this vehicle holds and may carry isn’t known any more.")}
	}
	if !t.Fits() {
		lines = append(lines, p.say("This may not fit below the line."))
	}
	if !t.Allowed() {
		lines = append(lines, p.say("This may be heavier than the vehicle’s papers allow: weigh it, or take some off."))
	}
	return lines
}

// TripWay is how far a trip is.
func (p *Printer) TripWay(t road.Trip, fromYard bool) string {
	placed := len(t.Drops) - t.Unplaced
	way := p.say("%s as the crow flies, from the yard and back; the road is longer.", p.far(t.Way))
	switch {
	case placed == 0:
		return p.say("How far it is isn’t known: no place of these stops is saved.")
	case !fromYard && placed == 1:
		return p.say("How far it is isn’t known: nobody said where the yard is.")
	case !fromYard:
		way = p.say("%s as the crow flies, from the first stop to the last; the road is longer.", p.far(t.Way))
	}
	switch t.Unplaced {
	case 0:
		return way
	case 1:
		return p.say("%s One stop has no saved place and isn’t counted.", way)
	}
	return p.say("%s %d stops have no saved place and aren’t counted.", way, t.Unplaced)
}

// far words a way to about a tenth.
func (p *Printer) far(l measure.Length) string {
	if p.metric() {
		return p.say("%s km", p.decimal(l.In(orders.Kilometre), 1))
	}
	return p.say("%s mi", p.decimal(l.In(orders.Mile), 1))
}

// RoadOrder says how the day was put together.
func (p *Printer) RoadOrder(d road.Day) string {
	switch {
	case d.ByHand:
		return p.say("Put together by hand.")
	case d.Proven:
		return p.say("Of all ways this one is done in the fewest rounds, then with the fewest trips, then the shortest.")
	}
	return p.say("With so many stops it isn’t certain that this is the shortest way, or the fewest trips.")
}

// RoadCaution is the one caution about loads.
func (p *Printer) RoadCaution() string {
	return p.say("An overloaded truck may not stop or steer. The weights here are estimates: the vehicle’s own plate and your local law decide what it may carry.")
}

// DropWood is the wood that comes off at a stop: "red oak, 16 in, seasoned".
func (p *Printer) DropWood(d road.Drop) string {
	var said []string
	if d.Order.Species != "" {
		said = append(said, d.Order.Species)
	}
	if d.Order.PieceLength > 0 {
		said = append(said, p.Length(d.Order.PieceLength))
	}
	if d.Order.Seasoning != "" {
		said = append(said, p.Seasoning(d.Order.Seasoning))
	}
	return strings.Join(said, ", ")
}

// DropHours is when on the day the wood is wanted, or may come; empty where any hour does.
func (p *Printer) DropHours(d road.Drop) string { return p.hours(d.Order.Day.Hours) }

// DropWhen is the day or days that an order may come.
func (p *Printer) DropWhen(d road.Drop, today act.Date) string {
	return p.Promised(d.Order.Day, today)
}

// DropMoney is what to collect at a stop.
func (p *Printer) DropMoney(d road.Drop) string {
	switch {
	case d.Gone && d.Due.Volume > 0:
		return p.say("Delivered; more of it is still to come")
	case d.Gone:
		return p.say("Delivered; nothing is left to bring")
	case d.With > 0:
		return p.say("To be paid with trip %d", d.With)
	case d.Collect.Minor > 0:
		return p.say("Collect %s", d.Collect)
	case d.Wood.Volume < d.Due.Volume:
		return p.say("As its receipt says: more is still to come")
	}
	return p.say("Nothing to collect")
}

// Loaded is what is loaded for a stop.
func (p *Printer) Loaded(d road.Drop) string {
	wood := p.DropWood(d)
	if wood == "" {
		return p.Quantity(d.Wood)
	}
	return p.say("%s, %s", p.Quantity(d.Wood), wood)
}

// StopOf names a stop by its number and whose it is.
func (p *Printer) StopOf(n int, name string) string { return p.say("stop %d, %s", n, name) }

// StopNumber heads a stop.
func (p *Printer) StopNumber(n int) string { return p.say("Stop %d", n) }
