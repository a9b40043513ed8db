package main

import (
	"fmt"

	"wellstowed/orders/road"
)

// plannedDays is how many days the demonstration's deliveries are on vehicles for.
const plannedDays = 5

// onTheRoad keeps the vehicles, and puts on them what is to be delivered on the next days.
func (s *seeder) onTheRoad(roads *road.Service, vehicles []road.VehicleRequest) error {
	beds, err := s.service.Bodies(s.ctx, atTheTerminal())
	if err != nil {
		return err
	}
	ids := map[string]string{}
	for _, b := range beds {
		ids[b.Name] = b.ID
	}
	var out []string
	for _, r := range vehicles {
		r.Bed = ids[r.Bed]
		v, err := roads.AddVehicle(s.ctx, s.act(), r)
		if err != nil {
			return fmt.Errorf("demo.json: vehicle %s: %w", r.Name, err)
		}
		out = append(out, v.ID)
	}
	if err := s.places(roads); err != nil {
		return err
	}
	today, err := roads.Today(s.ctx)
	if err != nil {
		return err
	}
	for n := range plannedDays {
		day, err := roads.Day(s.ctx, atTheTerminal(), today.AddDays(n))
		if err != nil {
			return err
		}
		if len(day.Waiting) == 0 {
			continue
		}
		if _, err := roads.Arrange(s.ctx, s.act(), day.On, road.ArrangeRequest{Vehicles: out}); err != nil {
			return fmt.Errorf("demo.json: the road of %s: %w", day.On, err)
		}
	}
	return nil
}

// The demonstration's yard, and how far its customers are from it, in hundredths of a degree to
// the north and to the east: invented places, a few miles from each other.
var (
	demoYard   = [2]float64{44.05, -72.2}
	demoPlaces = [][2]int{{3, 4}, {-2, 6}, {5, -3}, {1, 9}, {-6, -2}, {8, 2}, {-4, -7}, {2, -8}, {-7, 5}, {6, 7}, {-1, 3}, {4, -6}}
)

// places saves where the yard is and where each customer is, so that rounds have distances.
func (s *seeder) places(roads *road.Service) error {
	park, err := roads.Park(s.ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if _, err := roads.SetYard(s.ctx, s.act(), road.YardRequest{Place: fmt.Sprintf("%.4f, %.4f", demoYard[0], demoYard[1]), Version: park.Yard.Version}); err != nil {
		return err
	}
	all, err := s.service.Customers.List(s.ctx, atTheTerminal(), "")
	if err != nil {
		return err
	}
	for i, r := range all {
		off, typed := demoPlaces[i%len(demoPlaces)], r.Typed()
		typed.Place = fmt.Sprintf("%.4f, %.4f", demoYard[0]+float64(off[0])/100, demoYard[1]+float64(off[1])/100)
		if _, err := s.service.Customers.Change(s.ctx, s.act(), r.ID, typed); err != nil {
			return fmt.Errorf("demo.json: the place of %s: %w", r.Name, err)
		}
	}
	return nil
}
