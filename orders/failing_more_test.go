package orders_test

import (
	"maps"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/storage"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/people"
	"wellstowed/orders/prices"
	"wellstowed/orders/road"
	"wellstowed/orders/yard"
)

// sideDeeds are the methods that write of what stands beside orders: customers, prices, the
// road and people, by the field of the service and the method.
func sideDeeds() map[string]deed {
	all := map[string]deed{}
	maps.Copy(all, customerDeeds())
	maps.Copy(all, priceDeeds())
	maps.Copy(all, roadDeeds())
	maps.Copy(all, peopleDeeds())
	return all
}

func ada() customers.Request {
	return customers.Request{Name: "Ada Quill-Reed", Address: "9 Ferry Lane\nAlder Bend", Phone: "555-0109", Access: "ring first"}
}

func (y *sellerYard) keep(r customers.Request) customers.Record {
	y.t.Helper()
	kept, err := y.Customers.Add(y.ctx, y.act(), r)
	require.NoError(y.t, err)
	return kept
}

func customerDeeds() map[string]deed {
	return map[string]deed{
		"Customers.Add": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) (customers.Record, error) { return y.Customers.Add(y.ctx, by, ada()) })
		},
		"Customers.Change": func(y *sellerYard) func(act.Act) error {
			kept := y.keep(ada())
			r := kept.Typed()
			r.Phone = "555-0110"
			return ready(func(by act.Act) (customers.Record, error) { return y.Customers.Change(y.ctx, by, kept.ID, r) })
		},
		"Customers.Merge": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			kept := y.keep(ada())
			r := customers.MergeRequest{From: o.Customer.Record}
			return ready(func(by act.Act) (customers.Record, error) { return y.Customers.Merge(y.ctx, by, kept.ID, r) })
		},
		"Customers.Drop": func(y *sellerYard) func(act.Act) error {
			kept := y.keep(ada())
			return func(by act.Act) error { return y.Customers.Drop(y.ctx, by, kept.ID) }
		},
		"Customers.Import": func(y *sellerYard) func(act.Act) error {
			r := customers.ImportRequest{List: "name,phone\nAda Quill-Reed,555-0109\nTobias Fenn,555-0111\n"}
			return ready(func(by act.Act) (customers.Import, error) { return y.Customers.Import(y.ctx, by, r) })
		},
	}
}

func priceDeeds() map[string]deed {
	oak := prices.Request{Kind: "wood", Species: "red oak", Price: "300"}
	return map[string]deed{
		"Prices.Set": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) (prices.Line, error) { return y.Prices.Set(y.ctx, by, oak) })
		},
		"Prices.End": func(y *sellerYard) func(act.Act) error {
			line, err := y.Prices.Set(y.ctx, y.act(), oak)
			require.NoError(y.t, err)
			return ready(func(by act.Act) (prices.Line, error) {
				return y.Prices.End(y.ctx, by, line.ID, prices.EndRequest{From: "2026-04-01"})
			})
		},
		"Prices.Import": func(y *sellerYard) func(act.Act) error {
			r := prices.ImportRequest{List: "kind,species,price\nwood,red oak,300\nwood,beech,290\n"}
			return ready(func(by act.Act) (prices.Import, error) { return y.Prices.Import(y.ctx, by, r) })
		},
	}
}

// redTruck is a truck that carries four tons on a bed.
func redTruck(bed yard.Body) road.VehicleRequest {
	return road.VehicleRequest{Name: "red truck", Bed: bed.ID, TypedLimit: storage.TypedLimit{Gross: "18000 lb", Scale: "10000 lb"}}
}

// onTheRoad is a truck with its bed, an order for its day, and how the day was arranged.
func (y *sellerYard) onTheRoad(arranged bool) (truck road.Vehicle, day act.Date, plan road.Day) {
	y.t.Helper()
	bed, err := y.AddBody(y.ctx, y.act(), goodBed())
	require.NoError(y.t, err)
	truck, err = y.road.AddVehicle(y.ctx, y.act(), redTruck(bed))
	require.NoError(y.t, err)
	r := orderOf("32 cu ft stacked")
	r.Day = "tomorrow"
	day = y.take(r).Day.From
	if arranged {
		plan, err = y.road.Arrange(y.ctx, y.act(), day, road.ArrangeRequest{Vehicles: []string{truck.ID}})
		require.NoError(y.t, err)
		require.NotEmpty(y.t, plan.Trips)
	}
	return truck, day, plan
}

func roadDeeds() map[string]deed {
	return map[string]deed{
		"Road.AddVehicle": func(y *sellerYard) func(act.Act) error {
			bed, err := y.AddBody(y.ctx, y.act(), goodBed())
			require.NoError(y.t, err)
			return ready(func(by act.Act) (road.Vehicle, error) {
				return y.road.AddVehicle(y.ctx, by, redTruck(bed))
			})
		},
		"Road.RetireVehicle": func(y *sellerYard) func(act.Act) error {
			truck, _, _ := y.onTheRoad(false)
			return func(by act.Act) error { return y.road.RetireVehicle(y.ctx, by, truck.ID) }
		},
		"Road.SetYard": func(y *sellerYard) func(act.Act) error {
			park, err := y.road.Park(y.ctx, owner)
			require.NoError(y.t, err)
			return ready(func(by act.Act) (road.Yard, error) {
				return y.road.SetYard(y.ctx, by, road.YardRequest{Place: "44.0000, -72.0000", Version: park.Yard.Version})
			})
		},
		"Road.Arrange": func(y *sellerYard) func(act.Act) error {
			truck, day, _ := y.onTheRoad(false)
			return ready(func(by act.Act) (road.Day, error) {
				return y.road.Arrange(y.ctx, by, day, road.ArrangeRequest{Vehicles: []string{truck.ID}})
			})
		},
		"Road.Change": func(y *sellerYard) func(act.Act) error {
			truck, day, plan := y.onTheRoad(true)
			r := road.ChangeRequest{Drivers: []road.DriverRequest{{Vehicle: truck.ID, Driver: "Wren"}}, Version: plan.Version}
			return ready(func(by act.Act) (road.Day, error) { return y.road.Change(y.ctx, by, day, r) })
		},
		"Road.Load": func(y *sellerYard) func(act.Act) error {
			_, day, plan := y.onTheRoad(true)
			r := road.LoadedRequest{Trip: 1, Loaded: []int64{1}, Version: plan.Version}
			return ready(func(by act.Act) (road.Day, error) { return y.road.Load(y.ctx, by, day, r) })
		},
	}
}

const aPassword = "four ash wedges by the door"

// signedIn is an owner who just signed in.
func (y *sellerYard) signedIn() people.Visitor {
	y.t.Helper()
	made, err := y.People.OwnerCode(y.ctx)
	require.NoError(y.t, err)
	token, _, err := y.People.Redeem(y.ctx, people.CodeRequest{Code: made.Code, Name: "Rosalind Pike", Password: aPassword}, people.Device{Name: "a browser"})
	require.NoError(y.t, err)
	v, err := y.People.Visitor(y.ctx, token)
	require.NoError(y.t, err)
	return v
}

// staff is an owner who signed in, and a driver whom the owner added.
func (y *sellerYard) staff() (people.Visitor, people.Person) {
	y.t.Helper()
	v := y.signedIn()
	p, err := y.People.AddPerson(y.ctx, act.Act{Actor: v.Actor, Request: newRequest()}, people.PersonRequest{Name: "Tam Birch", Role: "driver"})
	require.NoError(y.t, err)
	return v, p
}

func peopleDeeds() map[string]deed {
	as := func(v people.Visitor, call func(act.Act) error) func(act.Act) error {
		return func(by act.Act) error {
			by.Actor = v.Actor
			return call(by)
		}
	}
	return map[string]deed{
		"People.AddPerson": func(y *sellerYard) func(act.Act) error {
			return as(y.signedIn(), ready(func(by act.Act) (people.Person, error) {
				return y.People.AddPerson(y.ctx, by, people.PersonRequest{Name: "Tam Birch", Role: "driver"})
			}))
		},
		"People.ChangePerson": func(y *sellerYard) func(act.Act) error {
			v, p := y.staff()
			r := people.ChangeRequest{Role: "auditor", Version: p.Version}
			return as(v, ready(func(by act.Act) (people.Person, error) { return y.People.ChangePerson(y.ctx, by, p.ID, r) }))
		},
		"People.Invite": func(y *sellerYard) func(act.Act) error {
			v, p := y.staff()
			return as(v, ready(func(by act.Act) (people.Invitation, error) { return y.People.Invite(y.ctx, by, p.ID) }))
		},
		"People.MakeToken": func(y *sellerYard) func(act.Act) error {
			v, p := y.staff()
			r := people.TokenRequest{Program: "ledger", Person: p.ID}
			return as(v, ready(func(by act.Act) (people.Token, error) { return y.People.MakeToken(y.ctx, by, r) }))
		},
		"People.SetPassword": func(y *sellerYard) func(act.Act) error {
			v := y.signedIn()
			return as(v, func(by act.Act) error {
				return y.People.SetPassword(y.ctx, by, v.Session, people.PasswordRequest{Password: "three oak wedges in the shed"})
			})
		},
		"People.RenewRecovery": func(y *sellerYard) func(act.Act) error {
			return as(y.signedIn(), ready(func(by act.Act) ([]string, error) { return y.People.RenewRecovery(y.ctx, by) }))
		},
		"People.EndSession": func(y *sellerYard) func(act.Act) error {
			v := y.signedIn()
			return as(v, func(by act.Act) error { return y.People.EndSession(y.ctx, by, v.Session.ID) })
		},
		"People.EndSessions": func(y *sellerYard) func(act.Act) error {
			v := y.signedIn()
			return as(v, func(by act.Act) error { return y.People.EndSessions(y.ctx, by, v.Actor.ID, "") })
		},
	}
}
