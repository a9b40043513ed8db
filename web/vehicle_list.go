package web

import (
	"context"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/road"
	"wellstowed/web/api"
)

// A vehicleListPage is the vehicles in use, and takes another.
type vehicleListPage struct {
	page
	road.Park
	R road.VehicleRequest
	Y road.YardRequest
}

func (s *Server) vehicleForm(c *fiber.Ctx) (p vehicleListPage, err error) {
	p.page = s.page(c, measure.Say("Vehicles"), "/")
	p.Finder = s.assets.path("customer.js")
	p.names = map[string]string{"vehicle": p.T("Truck, or truck and trailer"), "bed": p.T("Its bed, to the line"), "yard": p.T("Where the yard is, in degrees")}
	if p.Park, err = s.road.Park(c.UserContext(), s.actor(c)); err != nil {
		return p, err
	}
	p.Y = road.YardRequest{Place: p.Yard.Place, Version: p.Yard.Version}
	return p, nil
}

func (s *Server) vehicleList(c *fiber.Ctx) error {
	p, err := s.vehicleForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.Park)
	}
	return s.render(c, "vehicle_list", p)
}

const vehiclePath = "/road/vehicles"

func (s *Server) vehicleCreate(c *fiber.Ctx) error {
	r, v, err := doWith(s, c, s.road.AddVehicle)
	if err == nil {
		return made(c, fiber.StatusCreated, vehiclePath, v)
	}
	return showAgain(s, c, "vehicle_list", err, s.vehicleForm, func(p *vehicleListPage) { p.R = r })
}

// vehicleRetire takes a vehicle out of use.
func (s *Server) vehicleRetire(c *fiber.Ctx) error {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return &act.Error{Kind: act.NotFound}
	}
	_, _, err = doWith(s, c, func(ctx context.Context, by act.Act, _ struct{}) (struct{}, error) {
		return struct{}{}, s.road.RetireVehicle(ctx, by, id.String())
	})
	if err == nil {
		return made(c, fiber.StatusOK, vehiclePath, api.Retired{Retired: id.String()})
	}
	return showAgain(s, c, "vehicle_list", err, s.vehicleForm, nil)
}

func (s *Server) yardSet(c *fiber.Ctx) error {
	r, y, err := doWith(s, c, s.road.SetYard)
	if err == nil {
		return made(c, fiber.StatusOK, vehiclePath, y)
	}
	return showAgain(s, c, "vehicle_list", err, s.vehicleForm, func(p *vehicleListPage) { p.Y.Place = r.Place })
}

// BedChoices are the beds that a vehicle may have.
func (p vehicleListPage) BedChoices() []choice {
	picks := []choice{{"", "", p.R.Bed == ""}}
	for _, b := range p.Beds {
		picks = append(picks, choice{b.ID, p.T("%s, %s: %s", b.Name, b.Line, b.Quantity), p.R.Bed == b.ID})
	}
	return picks
}
