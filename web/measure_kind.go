package web

import (
	"errors"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/forms"
	"wellstowed/orders/act"
	"wellstowed/web/live"
)

const rowsKind = live.RowsKind

// kindOf is the kind of stack that the address asks for.
func kindOf(c *fiber.Ctx) (string, error) {
	kind := c.Query("kind", rowsKind)
	for _, f := range forms.All() {
		if f.Kind == kind {
			return f.Kind, nil
		}
	}
	return "", &act.Error{Kind: act.NotFound}
}

// Kinds are the ways wood may stand, each with its link.
func (p measurePage) Kinds() []choice {
	base, _, _ := strings.Cut(p.Action, "?")
	var list []choice
	for _, f := range forms.All() {
		link := base
		if f.Kind != rowsKind {
			link += "?kind=" + f.Kind
		}
		list = append(list, choice{link, p.kindName(f), f.Kind == p.Kind})
	}
	return list
}

// KindName is how the wood stands on this page.
func (p measurePage) KindName() string {
	for _, k := range p.Kinds() {
		if k.On {
			return k.Label
		}
	}
	return ""
}

func (p measurePage) kindName(f forms.Form) string {
	switch f.Kind {
	case rowsKind:
		return p.T("In rows")
	case "load":
		return p.T("On a truck or trailer")
	case "heap":
		return p.T("In a heap")
	case "bin":
		return p.T("In a bin or crate")
	case "round":
		return p.T("In a round stack")
	case "packaged":
		return p.T("In packages")
	}
	return p.Print.Say(f.Title)
}

// Lead says in a line or two what to do about wood that stands so.
func (p measurePage) Lead() string {
	switch p.Kind {
	case "load":
		return p.T("Read it before any is taken off. Wood thrown in is loose: what it will be once ranked is a range.")
	case "heap":
		return p.T("Burn none of it yet. A heap cannot be measured well: stack it in rows %s high, pieces parallel and touching, and measure those. Three readings here tell how long a row to expect.", 4*measure.Foot)
	case "bin":
		return p.T("Read the inside of it, and heights from its floor up to the top of the wood.")
	case "round":
		return p.T("Read across it in several directions, or once all the way round, and the height of its wall in several places.")
	case "packaged":
		return p.T("One package is measured, by the procedure for packaged firewood.")
	}
	return ""
}

// Apart is what was said of wood that is elsewhere: empty, "not known", "none" or "some".
func (p measurePage) Apart() string {
	if p.Kind != rowsKind {
		return p.K.Apart
	}
	return p.F.Apart
}

// ApartSome is how much is elsewhere, as typed.
func (p measurePage) ApartSome() string {
	if p.Kind != rowsKind {
		return p.K.ApartSome
	}
	return p.F.ApartSome
}

// withFaults measures a document, and joins what is wrong with it to the faults that
// the form itself found; those come first, and alone where both speak of one field.
func withFaults(faults measure.InputErrors, err error) error {
	if len(faults) == 0 {
		return err
	}
	var many measure.InputErrors
	var one *measure.InputError
	var known *act.Error
	switch {
	case errors.As(err, &many):
	case errors.As(err, &one):
		many = measure.InputErrors{one}
	case errors.As(err, &known) && known.Kind == act.Invalid:
		many = known.Fields
	case err != nil:
		return err
	}
	all := slices.Clone([]*measure.InputError(faults))
	for _, e := range many {
		if !slices.ContainsFunc(faults, func(f *measure.InputError) bool { return f.Field == e.Field }) {
			all = append(all, e)
		}
	}
	return refused(all)
}
