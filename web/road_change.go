package web

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/act"
	"wellstowed/orders/road"
)

// A roadFormPage is a day to be put together by hand.
type roadFormPage struct {
	roadPage
	C       road.ChangeRequest
	Rows    []roadRow
	Persons []string // who may drive; none where nobody signs in
	// Overs are what may be too much, and ReadBack is what a yes repeats.
	Overs    []string
	ReadBack string
}

// A roadRow is wood that goes on a trip, or on none.
type roadRow struct {
	road.Drop
	Trip, Place string // as in road.StopRequest
}

func (s *Server) roadForm(c *fiber.Ctx, on act.Date) (p roadFormPage, err error) {
	if p.roadPage, err = s.roadPage(c, on); err != nil {
		return p, err
	}
	p.Title = p.T("Change by hand")
	p.C.Version = p.Version
	for _, t := range p.Trips {
		for i, d := range t.Drops {
			p.Rows = append(p.Rows, roadRow{d, t.Vehicle.ID + " " + strconv.Itoa(t.Round), strconv.Itoa(i + 1)})
		}
	}
	for _, d := range slices.Concat(p.Waiting, p.Along) {
		p.Rows = append(p.Rows, roadRow{Drop: d})
	}
	for _, v := range p.Vehicles {
		p.C.Drivers = append(p.C.Drivers, road.DriverRequest{Vehicle: v.ID, Driver: p.drives(v.ID)})
	}
	roll, err := s.service.People.Roll(c.UserContext(), s.actor(c))
	for _, person := range roll.People {
		if person.Role == act.Owner || person.Role == act.Driver {
			p.Persons = append(p.Persons, person.Name)
		}
	}
	return p, err
}

// drives is who drives a vehicle that day.
func (p roadPage) drives(vehicle string) string {
	for _, t := range p.Trips {
		if t.Vehicle.ID == vehicle {
			return t.Driver
		}
	}
	return ""
}

func (s *Server) roadEdit(c *fiber.Ctx) error {
	on, err := roadDay(c)
	if err != nil {
		return err
	}
	p, err := s.roadForm(c, on)
	if err != nil {
		return err
	}
	return s.render(c, "road_form", p)
}

// changedRoad reads the form that a day is put together by.
func changedRoad(c *fiber.Ctx) (road.ChangeRequest, error) {
	fields, err := roadFields(c, "stops", "drivers", "shortest", "confirmed", "version")
	r := road.ChangeRequest{Shortest: fields["shortest"], Confirmed: fields["confirmed"], Version: whole(fields["version"])}
	for i := 0; ; i++ {
		of := func(name string) string { return fields[fmt.Sprintf("stops[%d].%s", i, name)] }
		if of("order") == "" {
			break
		}
		r.Stops = append(r.Stops, road.StopRequest{Order: of("order"), Nanolitres: whole(of("nanolitres")), Trip: of("trip"), Place: of("place")})
	}
	for i := 0; ; i++ {
		of := func(name string) string { return fields[fmt.Sprintf("drivers[%d].%s", i, name)] }
		if of("vehicle") == "" {
			break
		}
		r.Drivers = append(r.Drivers, road.DriverRequest{Vehicle: of("vehicle"), Driver: of("driver")})
	}
	return r, err
}

func (s *Server) roadChange(c *fiber.Ctx) error {
	on, err := roadDay(c)
	if err != nil {
		return err
	}
	r, day, err := doRoad(s, c, on, changedRoad, s.road.Change)
	if err == nil {
		return made(c, fiber.StatusOK, roadPath(on), day)
	}
	return showAgain(s, c, "road_form", err, func(c *fiber.Ctx) (roadFormPage, error) { return s.roadForm(c, on) }, func(p *roadFormPage) {
		typed := slices.Clone(r.Stops)
		for i, row := range p.Rows {
			at := slices.IndexFunc(typed, func(o road.StopRequest) bool { return o.Order == row.Order.ID && o.Nanolitres == p.Nanolitres(row) })
			if at >= 0 {
				p.Rows[i].Trip, p.Rows[i].Place = typed[at].Trip, typed[at].Place
				typed = slices.Delete(typed, at, at+1) // of two loads alike each has its own
			}
		}
		r.Version = p.Version // sent again, it is meant
		p.C = r
		p.ask(err)
	})
}

// Slots are the trips that wood may go on: those there are of each vehicle, and one more.
func (p roadFormPage) Slots(row roadRow) []choice {
	slots := []choice{{"", p.T("Not this day"), row.Trip == ""}}
	for _, v := range p.Vehicles {
		if v.Body == nil {
			continue
		}
		trips := 1
		for _, t := range p.Trips {
			if t.Vehicle.ID == v.ID {
				trips++
			}
		}
		for n := range trips {
			value := v.ID + " " + strconv.Itoa(n+1)
			slots = append(slots, choice{value, p.T("%s, trip %d", v.Name, n+1), row.Trip == value})
		}
	}
	return slots
}

// Name is the name of a field of a list.
func (p roadFormPage) Name(list string, i int, field string) string {
	return fmt.Sprintf("%s[%d].%s", list, i, field)
}

// Nanolitres are how much wood a row is.
func (p roadFormPage) Nanolitres(row roadRow) int64 { return int64(row.Wood.Volume) }

// Driver is a vehicle's, as typed.
func (p roadFormPage) Driver(vehicle string) string {
	for _, d := range p.C.Drivers {
		if d.Vehicle == vehicle {
			return d.Driver
		}
	}
	return ""
}

// ask shows what may be too much, as it is asked about.
func (p *roadFormPage) ask(err error) {
	var e *act.Error
	if !errors.As(err, &e) {
		return
	}
	for _, f := range e.Fields {
		if f.Field == "confirmed" {
			p.Overs, p.ReadBack = append(p.Overs, p.Sentence(f.Reason)), f.Accepts.String()
		}
	}
}
