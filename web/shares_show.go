package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/web/form"
)

// A sharesAsk is a mix as stated and the pieces counted of it, as typed.
type sharesAsk struct {
	Mix     string `json:"mix"`
	Counted string `json:"counted"`
}

// A sharesPage holds stated shares of species against pieces counted.
type sharesPage struct {
	page
	R      sharesAsk
	Answer *wood.Shares // nil where nothing was asked yet
}

// sharesShow answers what the address asks; nothing is saved.
func (s *Server) sharesShow(c *fiber.Ctx) error {
	p := sharesPage{page: s.page(c, measure.Say("Does the mix hold?"), "/wood")}
	p.R, _ = form.Read[sharesAsk](query(c)) // each of its fields is a text
	if p.R.Counted == "" && !wantsJSON(c) {
		return s.render(c, "shares_show", p)
	}
	held, err := p.hold()
	switch {
	case err != nil && wantsJSON(c):
		return err
	case err != nil:
		s.refuse(c, &p.page, err)
	case wantsJSON(c):
		return c.JSON(p.Print.SharesAnswer(held, p.Set))
	default:
		p.Answer = &held
	}
	return s.render(c, "shares_show", p)
}

// Mix is what the order states of shares, empty where it states none.
func (p orderPage) Mix() string {
	if !wood.StatesShares(p.Order.Species) {
		return ""
	}
	return p.Order.Species
}

// hold reads what was typed, all faults at once.
func (p sharesPage) hold() (wood.Shares, error) {
	var faults measure.InputErrors
	note := func(field, typed string, err error) {
		if err == nil && len(p.Set.BarredIn(typed)) == 0 {
			return
		}
		fault := &measure.InputError{Code: "barred", Reason: measure.Say("it holds a term that may not be used for a quantity of wood"), Accepts: measure.Say("the same without that term")}
		if one, ok := err.(*measure.InputError); ok {
			copied := *one
			fault = &copied
		}
		fault.Field = field
		faults = append(faults, fault)
	}
	stated, err := wood.ParseStated(p.R.Mix)
	note("mix", p.R.Mix, err)
	counted, err := wood.ParseCounted(p.R.Counted)
	note("counted", p.R.Counted, err)
	if len(faults) > 0 {
		return wood.Shares{}, faults
	}
	return wood.HoldShares(stated, counted, p.Set.ShareLimit()), nil
}
