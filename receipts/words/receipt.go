//go:build !wasm

package words

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/storage"
	"wellstowed/orders"
)

// Heading words a heading or label of a paper; English in place is the key.
func (p *Printer) Heading(key string) string { return p.say(key) }

// Field words a label and what it holds: "Order: 12".
func (p *Printer) Field(label, text string) string { return p.say("%s: %s", p.say(label), text) }

// Stated says of a seasoning that nothing was read.
func (p *Printer) Stated(seasoning string) string {
	return p.say("%s (stated by seller, not measured)", seasoning)
}

// WoodPrice says what the wood's price is for.
func (p *Printer) WoodPrice(price orders.Price, q measure.Quantity) string {
	if by := p.PricePer(price); by != "" && !p.InCords() {
		return p.say("Wood, %s, at %s", q, by)
	}
	if price.PerCord.Minor == 0 || !p.InCords() {
		return p.say("Wood, %s, price agreed for the whole", q)
	}
	return p.say("Wood, %s, at %s a cord of %s", q, price.PerCord, measure.Cord)
}

// PricePer is the wood's price by the unit it is sold in, empty where it was agreed
// for the whole or by a unit that is not sold in here.
func (p *Printer) PricePer(price orders.Price) string {
	switch {
	case p.InCords() && price.PerCord.Minor != 0:
		return p.say("%s per cord", price.PerCord)
	case price.PerUnit.Minor == 0 || price.Unit != p.unit:
		return ""
	case price.Unit == rules.CubicFoot:
		return p.say("%s per cubic foot", price.PerUnit)
	}
	return p.say("%s per cubic metre", price.PerUnit)
}

// PerUnit labels a price by the unit that wood is sold in.
func (p *Printer) PerUnit() string {
	switch {
	case p.InCords():
		return p.say("Price per cord")
	case p.InMetres():
		return p.say("Price per cubic metre")
	}
	return p.say("Price per cubic foot")
}

// Rules names the reading of the law a receipt was issued under.
func (p *Printer) Rules(set orders.RuleSet) string {
	return p.say("Issued under: %s, edition %s. This is a reading of the law, not legal advice.", set.Name, set.Edition)
}

// Plan says in a few lines how a volume can be stowed.
func (p *Printer) Plan(plan storage.Plan) []string {
	lines := []string{p.rows(plan)}
	if plan.Width > 0 && plan.Depth > 0 {
		lines = append(lines, p.say("Room needed: %s along the wall, %s deep.", plan.Width, plan.Depth))
	}
	if plan.OffGround > 0 {
		lines = append(lines, p.say("On runners, %s off the ground.", plan.OffGround))
	}
	if plan.WallGap > 0 {
		lines = append(lines, p.say("Air gap of %s to the wall.", plan.WallGap))
	}
	if plan.RowGap > 0 && plan.Rows > 1 {
		lines = append(lines, p.say("Air gap of %s between rows.", plan.RowGap))
	}
	return lines
}

func (p *Printer) rows(plan storage.Plan) string {
	if plan.Rows == 1 {
		return p.say("One row, %s long and %s high.", plan.RowLength, plan.Height)
	}
	return p.say("%d rows, each %s long and %s high.", plan.Rows, plan.RowLength, plan.Height)
}

// Cautions are what to take care of, one line each: the plan's own, or those that
// hold for any stack.
func (p *Printer) Cautions(plan *storage.Plan) []string {
	if plan != nil && len(plan.Cautions) > 0 {
		return p.texts(plan.Cautions)
	}
	return []string{
		p.say("Stacks can fall: keep them low, their ends braced, and children off them."),
		p.say("Keep wood away from buildings and heat as your local fire code says, and burn it only dry."),
	}
}

// QuantityParts is a quantity as a paper prints it large, and what stands beside it:
// "1 cord" and "(128 ft³)", "4.83 m³" and "stacked". Together they are Quantity.
func (p *Printer) QuantityParts(q measure.Quantity) (much, rest string) {
	whole := p.Quantity(q)
	much = p.Volume(q.Volume)
	if n, parts, exact := cordParts(q.Volume); q.Basis == measure.Ranked && p.InCords() {
		much = p.Cords(q.Volume)
		if exact {
			much = p.cords(q.Volume, mixed(n, parts))
		}
	}
	if rest, found := strings.CutPrefix(whole, much); found {
		return much, strings.TrimSpace(rest)
	}
	return whole, ""
}

// BasisNote says how a quantity lies.
func (p *Printer) BasisNote(q measure.Quantity) string { return p.basis(q.Basis) }

// Identity is what wood was sold, how long and how dry: "Red oak, 16 in pieces, seasoned
// (stated by seller, not measured)".
func (p *Printer) Identity(f orders.Facts) string {
	what := p.say("%s pieces, %s", f.PieceLength, p.Dryness(f.Seasoning, f.Moisture))
	if f.Species == "" {
		return what
	}
	return p.say("%s, %s", f.Species, what)
}

// AllTheSame says that one quantity was ordered, delivered and priced.
func (p *Printer) AllTheSame(q measure.Quantity) string {
	return p.say("Ordered, delivered and priced alike: %s", q)
}

// LooksLike heads the picture of a quantity.
func (p *Printer) LooksLike(q measure.Quantity) string {
	much, _ := p.QuantityParts(q)
	return p.say("What %s looks like on the ground", much)
}

// CheckHow says how to stack and read wood to check how much it is.
func (p *Printer) CheckHow() string {
	if p.metric() {
		return p.say("Stack it in rows, the pieces side by side and touching. In centimetres, the height as the mean of five readings:")
	}
	return p.say("Stack it in rows, the pieces side by side and touching. In inches, the height as the mean of five readings:")
}

// CheckBoxes are what is multiplied, what it is divided by, and the unit of the answer.
func (p *Printer) CheckBoxes() (boxes []string, divided, unit string) {
	divided, unit = "÷ 1 728 =", "ft³"
	if p.metric() {
		divided, unit = "÷ 1 000 000 =", "m³"
	}
	return []string{p.say("length"), p.say("mean height"), p.say("piece length"), p.say("rows alike")}, divided, unit
}

// CheckNear says what such a check should give, how near that is, and whom to call first.
func (p *Printer) CheckNear(f orders.Facts) string {
	feet := p.SoldIn(rules.CubicFoot)
	if p.metric() {
		feet = p.SoldIn(rules.CubicMetre)
	}
	sold := feet.Volume(f.Delivered.Volume)
	if f.Vendor.Phone == "" {
		return p.say("It should be %s, within 5 in 100. Much less: call the seller first, and leave the stack as it is.", sold)
	}
	return p.say("It should be %s, within 5 in 100. Much less: call %s first, and leave the stack as it is.", sold, f.Vendor.Phone)
}

// TaxNumber says by what number the tax office knows a seller; empty where there is none.
func (p *Printer) TaxNumber(number string) string {
	if number == "" {
		return ""
	}
	return p.say("Tax number: %s", number)
}
