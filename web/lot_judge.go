package web

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/web/form"
)

// A lotPage draws a sample of a packaged lot and judges what was measured of it.
// Of it only its draws are kept.
type lotPage struct {
	page
	F       form.Lot
	Plan    *lot.Plan // nil before a sample was drawn
	Picks   []int     // as drawn from the seed
	Lot     lot.Lot
	Verdict *lot.Verdict     // nil before it was judged
	Draws   []audits.LotDraw // every one for this lot, oldest first
	Under   rules.Set        // whose plan is taken
	Sets    []choice
}

func (s *Server) lotForm(c *fiber.Ctx) lotPage {
	p := lotPage{page: s.page(c, measure.Say("Packaged wood"), "/how-to-measure")}
	p.Under = p.Set
	return p
}

func (s *Server) lotNew(c *fiber.Ctx) error { return s.lotShow(c, s.lotForm(c)) }

// lotShow shows the page, with the rule sets there are to pick from.
func (s *Server) lotShow(c *fiber.Ctx, p lotPage) error {
	p.Sets = ruleChoices(s.service.Rules().All(), p.Under.Code)
	return s.render(c, "lot", p)
}

// underRules takes the rule set that was picked, where one was.
func (s *Server) underRules(p *lotPage) (err error) {
	if p.F.Rules == "" {
		return nil
	}
	set, err := s.service.Rules().Get(p.F.Rules)
	if err != nil {
		return refused([]*measure.InputError{{Field: "rules", Code: "unknown", Got: p.F.Rules, Reason: measure.Say("that rule set isn’t here"), Accepts: measure.Say("one of the list")}})
	}
	p.Under, p.Print = set, p.Print.Under(set)
	return nil
}

// lotTry draws, judges or prints, as the button that was pressed says; a JSON body
// is a lot document and is judged.
func (s *Server) lotTry(c *fiber.Ctx) error {
	p := s.lotForm(c)
	if sentJSON(c) {
		return s.judgeLotJSON(c, p)
	}
	p.F = form.ReadLot(formValue(c))
	do := formValue(c)("do")
	if do == "" && len(p.F.Packages) > 0 {
		do = "judge"
	}
	err := refused(slices.Concat(unreadable(c), unknown(c, p.F.Knows)))
	if err == nil {
		err = s.underRules(&p)
	}
	switch {
	case err != nil:
	case do == "draw" || do == "again":
		err = s.drawLot(c, &p, do == "again")
	case do == "":
		return s.lotShow(c, p)
	default:
		err = s.judgeLot(c, &p)
	}
	if err != nil {
		return s.lotRefused(c, p, err)
	}
	if do == "report" {
		return s.lotPrint(c, p)
	}
	return s.lotShow(c, p)
}

// judgeLotJSON judges a lot document by the plan of the rules that the address names, else
// the shop's.
func (s *Server) judgeLotJSON(c *fiber.Ctx, p lotPage) error {
	under, err := s.pickedRules(c, p.page)
	if err != nil {
		return err
	}
	l, err := lot.ParseJSON(c.Request().Body())
	if err != nil {
		return err
	}
	v, err := lot.Judge(under, l)
	if err != nil {
		return err
	}
	return c.JSON(p.Print.Lot(l, v))
}

// drawLot picks the packages to measure, from the seed that was typed or a new one. That
// it was drawn is kept.
func (s *Server) drawLot(c *fiber.Ctx, p *lotPage, again bool) error {
	act, err := s.act(c)
	if err != nil {
		return err
	}
	r := audits.LotDrawRequest{Lot: p.F.Name, Size: p.F.LotSize, Seed: p.F.Seed}
	if again {
		r.Seed = ""
	}
	if p.Draws, err = s.audits.DrawLot(c.UserContext(), act, r); err != nil {
		return err
	}
	last := p.Draws[len(p.Draws)-1]
	plan, err := lot.PlanFor(p.Under, last.Size)
	if err != nil {
		return err
	}
	p.F.Seed = strconv.FormatUint(last.Seed, 10)
	p.Picks = lot.Pick(last.Size, plan.Sample.Value, last.Seed)
	p.F = p.F.Picked(p.Picks)
	p.Plan = &plan
	return nil
}

func (s *Server) judgeLot(c *fiber.Ctx, p *lotPage) (err error) {
	l, err := p.F.Parse(p.Shop.Units == act.Metric)
	if err != nil {
		return err
	}
	if p.F.Name != "" {
		if p.Draws, err = s.audits.LotDraws(c.UserContext(), s.actor(c), p.F.Name); err != nil {
			return err
		}
	}
	for _, d := range p.Draws {
		l.Drawn = append(l.Drawn, d.Seed)
	}
	v, err := lot.Judge(p.Under, l)
	if err != nil {
		return err
	}
	p.Lot, p.Verdict, p.Plan = l, &v, &v.Plan
	return nil
}

// Trace is every draw for this lot, with when.
func (p lotPage) Trace() []string {
	lines := make([]string, len(p.Draws))
	for i, d := range p.Draws {
		lines[i] = p.T("Seed %s, of %d packages, %s", strconv.FormatUint(d.Seed, 10), d.Size, p.Print.Time(d.At, p.Shop.Zone))
		if d.Typed {
			lines[i] = p.T("%s; the seed was typed", lines[i])
		}
	}
	return lines
}

func (s *Server) lotRefused(c *fiber.Ctx, p lotPage, err error) error {
	if !mendable(err) {
		return err
	}
	s.refuse(c, &p.page, err)
	p.nameFaults()
	return s.lotShow(c, p)
}

// nameFaults names the packages of the summary by the numbers they bear.
func (p *lotPage) nameFaults() {
	for i, f := range p.Faults {
		var n int
		if _, err := fmt.Sscanf(f.Link, "#packages[%d]", &n); err == nil && n < len(p.F.Packages) {
			p.Faults[i].Label = p.T("Package %s", p.F.Packages[n].Number)
		}
	}
}

// lotPrint is the report on the lot, dated in the shop's zone.
func (s *Server) lotPrint(c *fiber.Ctx, p lotPage) error {
	zone, err := time.LoadLocation(p.Shop.Zone)
	if err != nil {
		return err
	}
	content, err := s.blank.Lot(p.Lang, p.Under, p.Lot, *p.Verdict, p.Shop.Paper, p.Shop.Units, s.clock().In(zone))
	if err != nil {
		return err
	}
	return sendPDF(c, "lot-report.pdf", content)
}

// Drawn names the packages to measure.
func (p lotPage) Drawn() string { return p.T("Pick packages %s.", p.Print.Numbers(p.Picks)) }

// Cell is the input of a package's field.
func (p lotPage) Cell(i int, name, label, value string) field {
	f := p.Field(form.LotPath(i, name), value)
	f.Short = label
	f.Label = p.T("Package %s: %s", p.F.Packages[i].Number, label)
	return f
}

// NumberPath is where a package's number stands.
func (p lotPage) NumberPath(i int) string { return form.LotPath(i, "number") }

// BareUnits says what numbers without a unit are.
func (p lotPage) BareUnits() string {
	if p.Shop.Units == act.Metric {
		return p.T("Numbers without a unit are litres, centimetres and square centimetres.")
	}
	return p.T("Numbers without a unit are cubic inches, inches and square inches.")
}
