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
