package rules

import (
	"math"
	"slices"

	"wellstowed/measure"
)

// A UnitCode is a unit that wood may be sold in.
type UnitCode string

// The units of sale.
const (
	Cord       UnitCode = "cord"
	LooseCord  UnitCode = "loose-cord"
	CubicFoot  UnitCode = "cubic-foot"
	CubicInch  UnitCode = "cubic-inch"
	CubicMetre UnitCode = "cubic-metre"
	Litre      UnitCode = "litre"
	// CubicDecimetre is a litre by the name that a law prescribes.
	CubicDecimetre UnitCode = "cubic-decimetre"
	Weight         UnitCode = "weight"
)

func unitCodes() []UnitCode {
	return []UnitCode{Cord, LooseCord, CubicFoot, CubicInch, CubicMetre, Litre, CubicDecimetre, Weight}
}

// Volume is one of a unit; 0 for units that have no volume of their own.
func (u UnitCode) Volume() measure.Volume {
	switch u {
	case Cord:
		return measure.Cord
	case CubicFoot:
		return measure.CubicFoot
	case CubicInch:
		return measure.CubicInch
	case CubicMetre:
		return measure.CubicMetre
	case Litre, CubicDecimetre:
		return measure.Litre
	}
	return 0
}

// SoldIn is the unit that quantities are given in: the first in the set that any
// ranked wood may be sold by and that suits the reader, else the first at all. It
// is Cord, CubicFoot or CubicMetre, or empty where the set has none of them. Where a
// cord hangs on how the wood is prepared it is CubicFoot, which nobody misreads.
func (s Set) SoldIn(metric bool) UnitCode {
	if s.CordVaries() {
		return CubicFoot
	}
	first := UnitCode("")
	for _, u := range s.Units {
		if u.Only != "" || u.Basis != measure.Ranked || !slices.Contains([]UnitCode{Cord, CubicFoot, CubicMetre}, u.Unit) {
			continue
		}
		if (u.Unit == CubicMetre) == metric {
			return u.Unit
		}
		if first == "" {
			first = u.Unit
		}
	}
	return first
}

// PackageUnit is the unit that the quantity of a package is given in: CubicFoot, Litre or
// CubicDecimetre.
func (s Set) PackageUnit(metric bool) UnitCode {
	named := func(unit UnitCode) bool {
		return slices.ContainsFunc(s.Units, func(u Unit) bool { return u.Unit == unit })
	}
	switch {
	case named(CubicDecimetre):
		return CubicDecimetre
	case metric && named(Litre):
		return Litre
	case named(CubicFoot) || s.SoldIn(metric) != CubicMetre:
		return CubicFoot
	}
	return CubicDecimetre
}

// Sells tells whether any wood may be sold by a unit.
func (s Set) Sells(unit UnitCode) bool {
	return slices.ContainsFunc(s.Units, func(u Unit) bool { return u.Unit == unit && u.Only == "" })
}

// Spell writes a quantity exactly in a unit that the set sells by, so that
// measure.ParseQuantity reads it back.
func (s Set) Spell(q measure.Quantity, metric bool) string {
	switch s.SoldIn(metric) {
	case CubicFoot:
		return q.WithoutCords(false)
	case CubicMetre:
		return q.WithoutCords(true)
	}
	return q.String()
}

// Round takes a quantity that was said in no unit of the set to what is printed of
// it: tenths of a cubic foot, hundredths of a cubic metre. Under a set that sells
// by the cord it stays as it is.
func (s Set) Round(q measure.Quantity, metric bool) measure.Quantity {
	switch s.SoldIn(metric) {
	case CubicFoot:
		q.Volume = nearest(q.Volume, measure.CubicFoot, 10)
	case CubicMetre:
		q.Volume = nearest(q.Volume, measure.CubicMetre, 100)
	}
	return q
}

// nearest is v taken to the nearest part of a unit.
func nearest(v, unit measure.Volume, parts float64) measure.Volume {
	return measure.Volume(math.RoundToEven(math.Round(v.In(unit)*parts) * float64(unit) / parts))
}
