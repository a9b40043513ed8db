package web

import (
	"html/template"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/act"
	"wellstowed/orders/road"
)

// A runPage is the run sheet of one trip, on the phone.
type runPage struct {
	roadPage
	Trip road.Trip
}

func (s *Server) runPage(c *fiber.Ctx) (p runPage, err error) {
	on, err := roadDay(c)
	if err != nil {
		return p, err
	}
	if p.roadPage, err = s.roadPage(c, on); err != nil {
		return p, err
	}
	for _, t := range p.Trips {
		if strconv.Itoa(t.Number) == c.Params("trip") {
			p.Trip, p.Title = t, p.T("Run sheet")
			return p, nil
		}
	}
	return p, &act.Error{Kind: act.NotFound}
}

func (s *Server) runShow(c *fiber.Ctx) error {
	p, err := s.runPage(c)
	if err != nil {
		return err
	}
	return s.render(c, "road_run", p)
}

// ticked reads the form of what is loaded.
func ticked(c *fiber.Ctx) (road.LoadedRequest, error) {
	fields, err := roadFields(c, "loaded", "shown", "version")
	r := road.LoadedRequest{Trip: whole(c.Params("trip")), Shown: fields["shown"], Version: whole(fields["version"])}
	for name, value := range fields {
		if strings.HasPrefix(name, "loaded[") && value == "yes" {
			r.Loaded = append(r.Loaded, whole(name[len("loaded["):len(name)-1]))
		}
	}
	return r, err
}

// runLoaded keeps what is loaded.
func (s *Server) runLoaded(c *fiber.Ctx) error {
	on, err := roadDay(c)
	if err != nil {
		return err
	}
	_, day, err := doRoad(s, c, on, ticked, s.road.Load)
	if err == nil {
		return made(c, fiber.StatusOK, "/road/"+on.String()+"/trips/"+c.Params("trip"), day)
	}
	return showAgain(s, c, "road_run", err, s.runPage, nil)
}

// Last counts the stops.
func (p runPage) Last() int { return len(p.Trip.Drops) }

// Stop is the number of the stop that is loaded n-th, from 0.
func (p runPage) Stop(n int) int { return len(p.Trip.Drops) - n }

// PlaceLink opens a place on the phone's map (RFC 5870), where it is saved, else its address.
func (p runPage) PlaceLink(d road.Drop) template.URL {
	if d.Place != "" {
		return template.URL("geo:" + url.PathEscape(d.Place))
	}
	return p.Geo(d.Order.Customer.Address)
}

// Next tells whether a stop, from 0, is the first that isn't done.
func (p runPage) Next(n int) bool {
	return n == slices.IndexFunc(p.Trip.Drops, func(d road.Drop) bool { return !d.Gone })
}
