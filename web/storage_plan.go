package web

import (
	"net/url"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/storage"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

// A storagePage asks for wood and a place, and shows the best ways to stow it.
type storagePage struct {
	page
	F       storage.Typed
	Answers []storage.Answer // one for each place; none where nothing was asked yet
}

func (s *Server) storageForm(c *fiber.Ctx) storagePage {
	return storagePage{page: s.page(c, measure.Say("Where the wood can go"), "/storage")}
}

// query reads the address as a form's fields.
func query(c *fiber.Ctx) form.Values {
	args := c.Context().QueryArgs()
	return func(name string) string { return formText(args.Peek(name)) }
}

// storageNew shows the form, filled in from the address where it says something.
func (s *Server) storageNew(c *fiber.Ctx) error {
	p := s.storageForm(c)
	p.F, _ = form.Read[storage.Typed](query(c)) // each of its fields is a text
	if p.F.PieceLength == "" {
		p.F.PieceLength = (16 * measure.Inch).String()
	}
	if p.F.Stacked == "" {
		p.F.Stacked = s.today(p.Shop.Zone)
	}
	return s.render(c, "storage", p)
}

func (s *Server) storageTry(c *fiber.Ctx) error {
	p := s.storageForm(c)
	all, err := ask(c, &p.F, func(t storage.Typed) ([]storage.Answer, error) {
		r, err := t.Read(s.typedUnits(p.Shop, p.Set))
		if err != nil {
			return nil, err
		}
		return storage.FindAll(r)
	})
	if err == nil {
		p.Answers = *all
	}
	return s.answered(c, "storage", &p.page, &p, func() any { return p.Print.StorageAll(p.Answers) }, err)
}

// storagePrint is a plan to build from; the address, a form or JSON says which.
func (s *Server) storagePrint(c *fiber.Ctx) error {
	p := s.storageForm(c)
	typed, plan, err := storageAsked(c)
	p.F = typed
	var r storage.Request
	if err == nil {
		r, err = typed.Read(s.typedUnits(p.Shop, p.Set))
	}
	var a storage.Answer
	if err == nil {
		a, err = storage.Find(r)
	}
	if err != nil {
		return s.answered(c, "storage", &p.page, &p, nil, err)
	}
	content, err := s.blank.StoragePlan(p.Lang, a, planNumber(plan), p.Shop.Paper, p.Shop.Units, p.Set.SoldIn(p.Shop.Units == act.Metric))
	if err != nil {
		return err
	}
	return sendPDF(c, "storage-plan.pdf", content)
}

// storageAsked reads what was typed and which plan is wanted.
func storageAsked(c *fiber.Ctx) (storage.Typed, string, error) {
	plan := query(c)("plan")
	if c.Method() != fiber.MethodPost {
		typed, _ := form.Read[storage.Typed](query(c)) // each of its fields is a text
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

// PrintPath is the address of the n-th plan of an answer as PDF, in plain quantities.
func (p storagePage) PrintPath(a storage.Answer, n int) string {
	v := url.Values{"plan": {strconv.Itoa(n + 1)}}
	set := func(name, text string) {
		if text = strings.TrimSpace(text); text != "" {
			v.Set(name, text)
		}
	}
	length := func(name string, l measure.Length) {
		if l > 0 {
			v.Set(name, l.String())
		}
	}
	r := a.Request
	quantity := measure.Quantity{Volume: r.Volume, Basis: measure.Ranked}
	if r.Thrown > 0 {
		quantity = measure.Quantity{Volume: r.Thrown, Basis: measure.Loose}
	}
	set("quantity", p.Spell(quantity))
	length("piece_length", r.PieceLength)
	set("place", string(r.Place.Kind))
	length("width", r.Place.Width)
	length("depth", r.Place.Depth)
	length("height", r.Place.Height)
	length("back_height", r.Place.Back)
	set("wood", string(r.Wood))
	set("species", p.F.Species)
	set("moisture", p.F.Moisture)
	set("stacked", p.F.Stacked)
	length("shoulder", r.Shoulder)
	if r.Place.Braced {
		set("braced", "yes")
	}
	return "/storage.pdf?" + v.Encode()
}

// First is the answer for the first place.
func (p storagePage) First() storage.Answer { return p.Answers[0] }

// Cautions are those of all the places.
func (p storagePage) Cautions() []measure.Text { return storage.Cautions(p.Answers) }

// LeftOver tells whether wood is left that has no place yet.
func (p storagePage) LeftOver() bool {
	return len(p.Answers) > 0 && p.Answers[len(p.Answers)-1].Left() > 0
}

// ThenOpen tells whether the next place is to be seen on the form.
func (p storagePage) ThenOpen() bool {
	f := p.F
	return p.LeftOver() || f.ThenPlace+f.ThenWidth+f.ThenDepth+f.ThenHeight != ""
}

// DryingPicture is how the wood dries, the zero Drawing where there is nothing to dry.
func (p storagePage) DryingPicture() draw.Drawing {
	return draw.Drying(p.First().Burns.Forecast, pictureWidth)
}

// TripsPath leads to how often a vehicle goes for the wood that was asked about.
func (p storagePage) TripsPath() string {
	if len(p.Answers) == 0 {
		return "/trips"
	}
	r := p.First().Request
	return p.planning("/trips", measure.Quantity{Volume: r.Volume, Basis: measure.Ranked}, r.PieceLength, p.F.Species)
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
	return draw.Pressure(l, pictureWidth, p.Shop.Units == act.Metric)
}

// PressureShown tells whether the n-th plan's pressure is another than that of the
// plan before it.
func (p storagePage) PressureShown(a storage.Answer, n int) bool {
	return n == 0 || a.Layouts[n].Height != a.Layouts[n-1].Height
}

// Places are the kinds of place to choose from, and NextPlaces those of the next one,
// of which there may be none.
func (p storagePage) Places() []choice { return named(p.page, storage.PlaceKinds(), p.F.Place) }

// NextPlaces are for what finds no room in the first.
func (p storagePage) NextPlaces() []choice {
	none := choice{"", p.T("None"), p.F.ThenPlace == ""}
	return append([]choice{none}, named(p.page, storage.PlaceKinds(), p.F.ThenPlace)...)
}

// Woods are the kinds of wood to choose from.
func (p storagePage) Woods() []choice { return p.woods(p.F.Wood) }
