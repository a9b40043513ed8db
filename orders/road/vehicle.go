package road

import (
	"context"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/yard"
)

// A Vehicle is a truck, or a truck with its trailer, that goes on the road: a bed that was
// taped up to a line, and what its papers let it carry. It is taken out of use, never changed.
type Vehicle struct {
	ID      string        `json:"id"`
	Name    string        `json:"name" names:"yard"` // "red truck"
	Bed     string        `json:"bed"`               // id of the bed
	Limit   storage.Limit `json:"limit"`
	Created time.Time     `json:"created"`
	// Body is its bed, nil where that was taken out of use; read only.
	Body *yard.Body `json:"body,omitempty" names:"yard"`
}

// Carries is the weight of wood that it may carry, by its own papers.
func (v Vehicle) Carries() wood.Mass {
	m, _ := v.Limit.Carries()
	return m
}

// usable tells that it has a bed.
func (v Vehicle) usable() bool { return v.Body != nil }

// holds is what its bed holds of pieces of a length, to the line; the zero Quantity where those
// don't fit in it.
func (v Vehicle) holds(piece measure.Length) measure.Quantity {
	holds, err := v.Body.Holding(piece)
	if err != nil {
		return measure.Quantity{}
	}
	return holds
}

// A VehicleRequest is a vehicle as typed; bare weights are pounds, in a metric shop kilograms.
type VehicleRequest struct {
	Name string `json:"vehicle"`
	Bed  string `json:"bed"` // id of a bed in use
	storage.TypedLimit
}

// A Yard is where the vehicles start and end.
type Yard struct {
	Version int64  `json:"version"`
	Place   string `json:"place" names:"shop"` // as in customers.Record; empty: not known
}

// A YardRequest is the yard's place as typed.
type YardRequest struct {
	Place   string `json:"yard"` // latitude and longitude in degrees
	Version int64  `json:"version"`
}

// A Park is the vehicles in use, the beds one may have, and where they start.
type Park struct {
	Vehicles []Vehicle   `json:"vehicles"`
	Beds     []yard.Body `json:"beds"`
	Yard     Yard        `json:"yard"`
}

// Park gives the vehicles.
func (s *Service) Park(ctx context.Context, who act.Actor) (p Park, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Park{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		p, err = parked(tx)
		return err
	})
	return p, act.Fail(err)
}

func parked(tx Tx) (p Park, err error) {
	if p.Vehicles, err = tx.Vehicles(); err != nil {
		return p, err
	}
	if p.Beds, err = tx.Bodies(); err != nil {
		return p, err
	}
	for i, v := range p.Vehicles {
		if at := slices.IndexFunc(p.Beds, func(b yard.Body) bool { return b.ID == v.Bed }); at >= 0 {
			p.Vehicles[i].Body = &p.Beds[at]
		}
	}
	p.Yard, err = tx.Yard()
	return p, err
}

// vehicle is one by its id; NotFound where it isn't in use.
func (p Park) vehicle(id string) (Vehicle, error) {
	if at := slices.IndexFunc(p.Vehicles, func(v Vehicle) bool { return v.ID == id }); at >= 0 {
		return p.Vehicles[at], nil
	}
	return Vehicle{}, act.NewNotFound("that vehicle isn’t in use here")
}

// AddVehicle keeps a vehicle. It is Invalid with all faults.
func (s *Service) AddVehicle(ctx context.Context, by act.Act, r VehicleRequest) (Vehicle, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: VehicleAdded, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		v, err := s.readVehicle(tx, r)
		if err != nil {
			return "", err
		}
		return v.ID, tx.AddVehicle(v)
	}, func(tx Tx, id string) (Vehicle, error) {
		p, err := parked(tx)
		if err != nil {
			return Vehicle{}, err
		}
		return p.vehicle(id)
	})
}

func (s *Service) readVehicle(tx Tx, r VehicleRequest) (v Vehicle, err error) {
	shop, err := tx.Shop()
	if err != nil {
		return v, err
	}
	p, err := parked(tx)
	if err != nil {
		return v, err
	}
	var in act.Fields
	v.Name = in.Printable(s.font, "vehicle", in.Line("vehicle", r.Name))
	if v.Name == "" && len(in.Faults) == 0 {
		in.Missing("vehicle", measure.Say("what it is called, such as red truck"))
	}
	if slices.ContainsFunc(p.Vehicles, func(o Vehicle) bool { return customers.Key(o.Name) == customers.Key(v.Name) }) {
		in.Add("vehicle", "twice", r.Name, measure.Say("another vehicle is called so"), measure.Say("a name of its own"))
	}
	if !slices.ContainsFunc(p.Beds, func(b yard.Body) bool { return b.ID == r.Bed }) {
		in.Add("bed", "unknown", "", measure.Say("no bed was picked"), measure.Say("a truck or trailer bed that was taped"))
	}
	v.Limit, err = r.TypedLimit.Read(unitsOf(shop))
	if err := in.Inputs(err); err != nil {
		return v, err
	}
	if err := in.Err(); err != nil {
		return v, err
	}
	v.Bed, v.Created = r.Bed, s.acts.Now()
	v.ID, err = act.NewID()
	return v, err
}

// unitsOf are the units that bare numbers of weight are in.
func unitsOf(shop orders.Shop) storage.Units {
	if shop.Units == act.Metric {
		return storage.Units{Mass: wood.Kilogram}
	}
	return storage.Units{Mass: wood.Pound}
}

// RetireVehicle takes a vehicle out of use; plans that name it keep its stops.
func (s *Service) RetireVehicle(ctx context.Context, by act.Act, id string) error {
	_, err := act.Do(ctx, s.acts, by, act.Write{Verb: VehicleRetired, Subject: id, May: act.ToManage},
		func(tx Tx) (string, error) { return id, tx.RetireVehicle(id) }, act.Nothing)
	return err
}

// SetYard keeps where the vehicles start.
func (s *Service) SetYard(ctx context.Context, by act.Act, r YardRequest) (Yard, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: YardSet, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		y, err := tx.Yard()
		if err != nil {
			return "", err
		}
		if r.Version != y.Version {
			return "", act.NewConflict("somebody else changed where the vehicles start first; look at it as it is now and change it again")
		}
		var in act.Fields
		place, err := customers.ParsePlace(r.Place)
		if !in.Parsed("yard", err) {
			return "", in.Err()
		}
		y.Place = place
		return "", tx.SaveYard(y)
	}, func(tx Tx, _ string) (Yard, error) { return tx.Yard() })
}
