package web

import (
	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
	"wellstowed/web/api"
)

// A batchPage shows one batch with all that happened to it.
type batchPage struct {
	page
	yard.BatchHistory
	Plan *yard.BatchDrying
	// Count and End are what was typed into the forms of those names.
	Count yard.BatchCount
	End   yard.BatchEnd
	// Doing names the form that is shown open.
	Doing string
}

func batchPath(id string) string { return "/batches/" + id }

// batch is the batch that the address names.
func (s *Server) batch(c *fiber.Ctx) (yard.BatchHistory, error) {
	id, err := batchID(c)
	if err != nil {
		return yard.BatchHistory{}, err
	}
	return s.service.Batch(c.UserContext(), s.actor(c), id)
}

func batchID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

func (s *Server) batchPage(c *fiber.Ctx) (batchPage, error) {
	h, err := s.batch(c)
	if err != nil {
		return batchPage{}, err
	}
	p := batchPage{page: s.page(c, measure.Say("Batch %s", h.Name), "/"), BatchHistory: h, Plan: h.Drying()}
	p.Count.On = s.today(p.Shop.Zone)
	return p, nil
}

func (s *Server) batchShow(c *fiber.Ctx) error {
	p, err := s.batchPage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(api.Batch{BatchHistory: p.BatchHistory, Drying: p.Plan})
	}
	return s.render(c, "batch_show", p)
}

func (s *Server) batchCount(c *fiber.Ctx) error {
	r, b, err := doOn(s, c, batchID, s.service.CountBatch)
	return s.batchAnswer(c, b, err, func(p *batchPage) { p.Count, p.Doing = r, "count" })
}

func (s *Server) batchEnd(c *fiber.Ctx) error {
	r, b, err := doOn(s, c, batchID, s.service.EndBatch)
	return s.batchAnswer(c, b, err, func(p *batchPage) { p.End, p.Doing = r, "end" })
}

// batchAnswer shows the batch as it is now, or the page again with what was typed.
func (s *Server) batchAnswer(c *fiber.Ctx, b yard.Batch, err error, again func(*batchPage)) error {
	if err == nil {
		return made(c, fiber.StatusOK, batchPath(b.ID), b)
	}
	return showAgain(s, c, "batch_show", err, s.batchPage, again)
}

// DryingPicture is the plan of its drying, the zero Drawing where it is dry or nothing
// is known.
func (p batchPage) DryingPicture() draw.Drawing {
	if p.Plan == nil {
		return draw.Drawing{}
	}
	return draw.Drying(p.Plan.Forecast, pictureWidth)
}

// NewestFirst are the readings of it, the newest first.
func (p batchPage) NewestFirst() []yard.Moisture {
	list := make([]yard.Moisture, 0, len(p.Moistures))
	for i := len(p.Moistures) - 1; i >= 0; i-- {
		list = append(list, p.Moistures[i])
	}
	return list
}
