package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/yard"
)

// A batchListPage shows the batches there are.
type batchListPage struct {
	page
	Batches []yard.Batch
}

func (s *Server) batchList(c *fiber.Ctx) error {
	batches, err := s.service.Batches(c.UserContext(), s.actor(c))
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(append([]yard.Batch{}, batches...))
	}
	return s.render(c, "batch_list", batchListPage{s.page(c, measure.Say("Batches of wood"), "/"), batches})
}

// InUse are the batches that are not used up; Gone are the others.
func (p batchListPage) InUse() []yard.Batch { return p.only(false) }

// Gone are the batches that are used up.
func (p batchListPage) Gone() []yard.Batch { return p.only(true) }

func (p batchListPage) only(usedUp bool) []yard.Batch {
	var list []yard.Batch
	for _, b := range p.Batches {
		if b.UsedUp == usedUp {
			list = append(list, b)
		}
	}
	return list
}

// A batchFormPage takes a batch, or a correction of what is said of one.
type batchFormPage struct {
	page
	R       yard.BatchRequest
	Action  string
	Batch   *yard.Batch // the one being corrected, nil for a new one
	Species []wood.Species
}

func (s *Server) batchForm(c *fiber.Ctx, r yard.BatchRequest) (batchFormPage, error) {
	all, err := wood.All()
	p := batchFormPage{page: s.page(c, measure.Say("New batch"), "/"), R: r, Action: "/batches", Species: all}
	p.names = map[string]string{"name": p.T("Name of the batch"), "notes": p.T("Notes")}
	return p, err
}

func (s *Server) batchNew(c *fiber.Ctx) error {
	p, err := s.batchForm(c, yard.BatchRequest{PieceLength: "16 in"})
	if err != nil {
		return err
	}
	return s.render(c, "batch_form", p)
}

func (s *Server) batchCreate(c *fiber.Ctx) error {
	r, b, err := doWith(s, c, s.service.AddBatch)
	if err == nil {
		return made(c, fiber.StatusCreated, batchPath(b.ID), b)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p, broken := s.batchForm(c, r)
	if broken != nil {
		return broken
	}
	s.refuse(c, &p.page, err)
	return s.render(c, "batch_form", p)
}

// QuantityHint gives examples in the units of the shop's rules.
func (p batchFormPage) QuantityHint() string {
	if p.Print.InCords() {
		return p.T("Stacked or loose: 1 1/2 cords, 64 cu ft stacked, 180 cu ft loose.")
	}
	return p.T("Stacked or loose: 64 cu ft stacked, 3.6 m³ stacked, 5 m³ loose.")
}
