//go:build !wasm

package words

import (
	"math"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// labelRules are what is said of the labels of packages.
func (p *Printer) labelRules(l *rules.Label) []Rule {
	if l == nil {
		return nil
	}
	return []Rule{p.rule(l.Text(), l.Known)}
}

// A LabelText is what a label of a package says.
type LabelText struct {
	What     string `json:"what"`
	Quantity string `json:"quantity"`
	Also     string `json:"also,omitempty"` // the same in a second unit; empty where the rules name one
	Price    string `json:"price,omitempty"`
	Origin   string `json:"origin,omitempty"`
	Packer   string `json:"packer"`
}

// Label words the label of a package in the units that its rules name for packages.
func (p *Printer) Label(l orders.Label) LabelText {
	unit := l.Rules.PackageUnit(p.metric())
	t := LabelText{What: l.What, Quantity: p.inPackageUnit(l.Volume, unit), Packer: p.say("Packed by %s", strings.ReplaceAll(strings.TrimSpace(l.Packer.Name+"\n"+l.Packer.Address), "\n", ", "))}
	for _, second := range []rules.UnitCode{rules.CubicFoot, rules.Litre} {
		if second != unit && namedFor(l.Rules, second) {
			t.Also = p.inPackageUnit(l.Volume, second)
			break
		}
	}
	if l.Price.Minor > 0 {
		t.Price = p.say("%s (%s per %s)", l.Price, l.Price.ForVolume(unit.Volume(), l.Volume), p.packageUnit(unit))
	}
	if l.Origin != "" {
		t.Origin = p.say("Cut in %s", l.Origin)
	}
	return t
}

func namedFor(s rules.Set, unit rules.UnitCode) bool {
	for _, u := range s.Units {
		if u.Unit == unit {
			return true
		}
	}
	return false
}

// inPackageUnit words a volume with no more than is in the package: what does not fit the
// decimals is left off.
func (p *Printer) inPackageUnit(v measure.Volume, unit rules.UnitCode) string {
	digits := 3
	if unit != rules.CubicFoot {
		digits = 1
	}
	scale := math.Pow10(digits)
	return p.say("%s %s", p.decimal(math.Floor(v.In(unit.Volume())*scale+1e-6)/scale, digits), p.packageUnit(unit))
}

func (p *Printer) packageUnit(unit rules.UnitCode) string {
	switch unit {
	case rules.Litre:
		return p.say("L")
	case rules.CubicDecimetre:
		return p.say("dm³")
	}
	return p.say("ft³")
}

// LabelType says how high the letters of the quantity are, and by what.
func (p *Printer) LabelType(s rules.Set) string {
	if s.Label == nil {
		return p.say("The quantity is printed 1/4 inch (6.4 mm) high. These rules say nothing of that here, so look up your own.")
	}
	return p.say("%s (%s.)", p.Say(s.Label.Text()), p.Mark(s.Label.Known))
}
