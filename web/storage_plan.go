package web

import (
	"net/url"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/web/form"
)

// A storagePage asks for wood and a place, and shows the best ways to stow it.
type storagePage struct {
	page
	F      storage.Typed
	Answer *storage.Answer // nil where nothing was asked yet
}

func (s *Server) storageForm(c *fiber.Ctx) storagePage {
	return storagePage{page: s.page(c, measure.Say("Where the wood can stand"), "/storage")}
}

// typedUnits are the units of bare numbers in a form.
func typedUnits(units orders.Units) storage.Units {
	if units == orders.Metric {
		return storage.Units{Long: measure.Metre, Small: measure.Centimetre, Mass: wood.Kilogram, Area: storage.SquareMetre}
	}
	return storage.Units{Long: measure.Foot, Small: measure.Inch, Mass: wood.Pound, Area: storage.SquareFoot}
}

// query reads the address as a form's fields.
func query(c *fiber.Ctx) form.Values {
	args := c.Context().QueryArgs()
	return func(name string) string { return formText(args.Peek(name)) }
}

// storageNew shows the form, filled in from the address where it says something.
func (s *Server) storageNew(c *fiber.Ctx) error {
	p := s.storageForm(c)
	p.F, _ = form.Read[storage.Typed](query(c)) // it has no field that is no text
	if p.F.PieceLength == "" {
		p.F.PieceLength = (16 * measure.Inch).String()
	}
	return s.render(c, "storage", p)
}

func (s *Server) storageTry(c *fiber.Ctx) error {
	typed, err := decode[storage.Typed](c)
	p := s.storageForm(c)
	p.F = typed
	var a storage.Answer
	if err == nil {
		a, err = findPlace(typed, p.page)
	}
	switch {
	case err != nil && (wantsJSON(c) || !mendable(err)):
		return err
	case err != nil:
		return s.storageRefused(c, p, err)
	case wantsJSON(c):
		return c.JSON(p.Print.Storage(a))
	}
	p.Answer = &a
	return s.render(c, "storage", p)
}

func findPlace(typed storage.Typed, p page) (storage.Answer, error) {
	r, err := typed.Read(typedUnits(p.Shop.Units))
	if err != nil {
		return storage.Answer{}, err
	}
	return storage.Find(r)
}

func (s *Server) storageRefused(c *fiber.Ctx, p storagePage, err error) error {
	s.refuse(c, &p.page, err)
	return s.render(c, "storage", p)
}

// storagePrint is a plan to build from; the address, a form or JSON says which.
func (s *Server) storagePrint(c *fiber.Ctx) error {
	p := s.storageForm(c)
	typed, plan, err := storageAsked(c)
	p.F = typed
	var a storage.Answer
	if err == nil {
		a, err = findPlace(typed, p.page)
	}
	switch {
	case err != nil && (wantsJSON(c) || !mendable(err)):
		return err
	case err != nil:
		return s.storageRefused(c, p, err)
	}
	content, err := s.blank.StoragePlan(a, planNumber(plan), p.Shop.Paper, p.Shop.Units)
	if err != nil {
		return err
	}
	return sendPDF(c, "storage-plan.pdf", content)
}

// storageAsked reads what was typed and which plan is wanted.
func storageAsked(c *fiber.Ctx) (storage.Typed, string, error) {
	plan := query(c)("plan")
	if c.Method() != fiber.MethodPost {
		typed, _ := form.Read[storage.Typed](query(c)) // it has no field that is no text
		return typed, plan, nil
	}
	if sent := formValue(c)("plan"); sent != "" {
		plan = sent
	}
	typed, err := decode[storage.Typed](c)
	return typed, plan, err
}

// planNumber reads which plan is wanted, counted from 1; nothing is the first.
func planNumber(text string) int {
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return -1
	}
	return n - 1
}

// PrintPath is the address of the n-th plan as PDF, in plain quantities.
func (p storagePage) PrintPath(n int) string {
	v := url.Values{"plan": {strconv.Itoa(n + 1)}}
	set := func(name, text string) {
		if text = strings.TrimSpace(text); text != "" {
			v.Set(name, text)
		}
	}
	r := p.Answer.Request
	quantity := measure.Quantity{Volume: r.Volume, Basis: measure.Ranked}
	if r.Thrown > 0 {
		quantity = measure.Quantity{Volume: r.Thrown, Basis: measure.Loose}
	}
	set("quantity", p.Spell(quantity))
	set("piece_length", r.PieceLength.String())
	set("place", string(r.Place.Kind))
	set("width", r.Place.Width.String())
	set("depth", r.Place.Depth.String())
	if r.Place.Height > 0 {
		set("height", r.Place.Height.String())
	}
	set("wood", string(r.Wood))
	set("species", p.F.Species)
	set("shoulder", r.Shoulder.String())
	if r.Place.Braced {
		set("braced", "yes")
	}
	return "/storage.pdf?" + v.Encode()
}

// StoragePath leads to the storage page with what was delivered filled in.
func (p receiptPage) StoragePath() string {
	return p.planning("/storage", p.Facts.Delivered, p.Facts.PieceLength, p.Facts.Species)
}

// LayoutPicture is a plan as drawn.
func (p storagePage) LayoutPicture(l storage.Layout) draw.Drawing {
	return draw.Layout(l, pictureWidth)
}

// PressurePicture is the pressure on the floor beside what decks are designed for.
func (p storagePage) PressurePicture(l storage.Layout) draw.Drawing {
	return draw.Pressure(l, pictureWidth, p.Shop.Units == orders.Metric)
}

// PressureShown tells whether the n-th plan's pressure is another than that of the
// plan before it.
func (p storagePage) PressureShown(n int) bool {
	return n == 0 || p.Answer.Layouts[n].Height != p.Answer.Layouts[n-1].Height
}

// Places are the kinds of place to choose from.
func (p storagePage) Places() []choice {
	var list []choice
	for _, k := range storage.PlaceKinds() {
		list = append(list, choice{string(k), p.Upper(p.Print.Say(k.Name())), string(k) == p.F.Place})
	}
	return list
}

// Woods are the kinds of wood to choose from.
func (p storagePage) Woods() []choice { return p.woods(p.F.Wood) }

func (p page) woods(now string) []choice {
	var list []choice
	for _, k := range storage.WoodKinds() {
		list = append(list, choice{string(k), p.Upper(p.Print.Say(k.Name())), string(k) == now})
	}
	return list
}

// LongUnit and SmallUnit say what a bare number in a field is in.
func (p page) LongUnit() string {
	if p.Shop.Units == orders.Metric {
		return p.T("In metres, or with its unit.")
	}
	return p.T("In feet, or with its unit: 6 ft 3 in.")
}

// SmallUnit is for pieces and boards.
func (p page) SmallUnit() string {
	if p.Shop.Units == orders.Metric {
		return p.T("In centimetres, or with its unit.")
	}
	return p.T("In inches, or with its unit.")
}

// MassUnit is for weights.
func (p page) MassUnit() string {
	if p.Shop.Units == orders.Metric {
		return p.T("In kilograms, or with its unit.")
	}
	return p.T("In pounds, or with its unit.")
}
