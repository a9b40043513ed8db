package web

import (
	"context"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// A moisturePage shows what readings of the wood of an order or of a batch came to, and
// takes more.
type moisturePage struct {
	page
	R        yard.MoistureRequest
	Home     string          // the page of the order or the batch
	HomeName string          // what leads there
	Sets     []yard.Moisture // oldest first
	OpenTo   bool            // readings may be added
}

func (s *Server) moistureForm(c *fiber.Ctx) (moisturePage, error) {
	history, err := s.history(c)
	if err != nil {
		return moisturePage{}, err
	}
	p := s.page(c, measure.Say("Moisture of order %d", int(history.Order.Number)), "/")
	return moisturePage{
		page: p, R: yard.MoistureRequest{On: s.today(p.Shop.Zone)}, Sets: history.Moistures, OpenTo: history.Order.State != orders.Cancelled,
		Home: "/orders/" + history.Order.ID, HomeName: p.T("Back to the order"),
	}, nil
}

func (s *Server) batchMoistureForm(c *fiber.Ctx) (moisturePage, error) {
	h, err := s.batch(c)
	if err != nil {
		return moisturePage{}, err
	}
	p := s.page(c, measure.Say("Moisture of batch %s", h.Name), "/")
	return moisturePage{
		page: p, R: yard.MoistureRequest{On: s.today(p.Shop.Zone)}, Sets: h.Moistures, OpenTo: true,
		Home: batchPath(h.ID), HomeName: p.T("Back to the batch"),
	}, nil
}

func (s *Server) moistureNew(c *fiber.Ctx) error { return s.moistureShow(c, s.moistureForm) }

func (s *Server) batchMoistureNew(c *fiber.Ctx) error { return s.moistureShow(c, s.batchMoistureForm) }

func (s *Server) moistureShow(c *fiber.Ctx, form func(*fiber.Ctx) (moisturePage, error)) error {
	p, err := form(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.Sets)
	}
	return s.render(c, "moisture_form", p)
}

func (s *Server) moistureCreate(c *fiber.Ctx) error {
	return s.moistureAdd(c, s.service.AddMoisture, s.moistureForm)
}

func (s *Server) batchMoistureCreate(c *fiber.Ctx) error {
	return s.moistureAdd(c, s.service.AddBatchMoisture, s.batchMoistureForm)
}

// moistureAdd saves readings of what the address names, or shows its form again.
func (s *Server) moistureAdd(c *fiber.Ctx, add func(context.Context, act.Act, string, yard.MoistureRequest) (yard.Moisture, error),
	form func(*fiber.Ctx) (moisturePage, error)) error {
	r, m, err := doOn(s, c, orderID, add)
	if err == nil {
		return made(c, fiber.StatusCreated, c.Path(), m)
	}
	return showAgain(s, c, "moisture_form", err, form, func(p *moisturePage) { p.R = r })
}

// Latest is the last set, which receipts print; nil without one.
func (p moisturePage) Latest() *yard.Moisture {
	if len(p.Sets) == 0 {
		return nil
	}
	return &p.Sets[len(p.Sets)-1]
}

// Usual is the limit that readings of today are held against where none is typed.
func (p moisturePage) Usual() string {
	limit := p.Set.MoistureLimit(p.R.On)
	if limit.AtMost {
		return p.Print.MoistureLimit(limit.Moisture)
	}
	return p.T("less than %s", p.Print.MoistureLimit(limit.Moisture))
}

// Earlier are the sets before it.
func (p moisturePage) Earlier() []yard.Moisture {
	return p.Sets[:max(len(p.Sets)-1, 0)]
}

// Bases, Methods and Faces are to choose from; none is chosen beforehand.
func (p moisturePage) Bases() []choice { return p.bases(p.R.Basis) }

// Methods are the ways of reading.
func (p moisturePage) Methods() []choice {
	var list []choice
	for _, m := range wood.Methods() {
		list = append(list, choice{string(m), p.Upper(p.Print.Method(m)), p.R.Method == string(m)})
	}
	return list
}

// Faces tell where the pieces were read.
func (p moisturePage) Faces() []choice {
	return []choice{
		{"yes", p.T("On freshly split faces, in the middle"), p.R.FreshFace == "yes"},
		{"no", p.T("On the outside or on ends"), p.R.FreshFace == "no"},
	}
}

// How says how a set was read.
func (p moisturePage) How(m yard.Moisture) string {
	r := m.Readings[0]
	face := p.T("not on freshly split faces")
	if r.FreshFace {
		face = p.T("on freshly split faces")
	}
	if r.Method == wood.OvenDrying {
		return p.T("%s, %s basis", p.Print.Method(r.Method), measure.Say(string(r.Moisture.Basis())))
	}
	if r.Temperature == nil {
		return p.T("%s, %s, %s basis", p.Print.Method(r.Method), face, measure.Say(string(r.Moisture.Basis())))
	}
	return p.T("%s, %s, %s basis, wood at %s", p.Print.Method(r.Method), face, measure.Say(string(r.Moisture.Basis())), p.Print.Temperature(*r.Temperature))
}
