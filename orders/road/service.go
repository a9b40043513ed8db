// Package road plans a day's deliveries: which order goes on which vehicle by room and
// weight, in which order the stops come, what is loaded first, and what the driver needs at
// each stop.
package road

import (
	"time"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/yard"
)

// A Tx is one transaction on the road. What is not there is answered NotFound; a version that
// is not the latest Conflict.
type Tx interface {
	act.Requests
	orders.OpenTx
	Shop() (orders.Shop, error)
	Order(id string) (orders.Order, error)
	Bodies() ([]yard.Body, error)
	CustomerRecord(id string) (customers.Record, error)
	Store
}

// Store keeps the vehicles and the plans of days.
type Store interface {
	// Vehicles are those in use, oldest first.
	Vehicles() ([]Vehicle, error)
	AddVehicle(v Vehicle) error
	RetireVehicle(id string) error
	// Yard is where the vehicles start; the zero Yard where nobody said.
	Yard() (Yard, error)
	SaveYard(y Yard) error
	// Plan is that of a day; one without trips, at Version 0, before there is one.
	Plan(on act.Date) (Plan, error)
	// SavePlan saves over the plan at p.Version and raises the version.
	SavePlan(p Plan) error
}

// The verbs of the road.
const (
	VehicleAdded   act.Verb = "add vehicle"
	VehicleRetired act.Verb = "retire vehicle"
	YardSet        act.Verb = "set yard"
	DayArranged    act.Verb = "arrange road"
	DayChanged     act.Verb = "change road"
	StopsLoaded    act.Verb = "load vehicle"
)

// A Service is all that can be done about the road.
type Service struct {
	acts act.Doer[Tx]
	font act.Font
}

// New makes a Service over a store that prints in a font, by a clock.
func New(store act.Store[Tx], font act.Font, clock func() time.Time) *Service {
	return &Service{acts: act.Doer[Tx]{Store: store, Now: act.Clock(clock)}, font: font}
}
