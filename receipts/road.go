package receipts

import (
	"cmp"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/road"
)

// RunSheets paints the run sheets of a day: for each trip what is loaded in which order, and
// for each stop the address, the wood, how to get in, what to collect, boxes to tick and room
// to sign. They are the driver's: what is kept of how to get in and the notes stand on them.
// The same bytes each time from the same data. It returns an *act.Error of Kind Invalid that
// names the text that can't be printed.
func (p *Painter) RunSheets(d road.Day, shop orders.Shop) ([]byte, error) {
	if err := p.runTexts(d, shop); err != nil {
		return nil, err
	}
	set, _ := p.rules.Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	w := p.paper(setup{title: measure.Say("Run sheets of %s", d.On), paper: shop.Paper, units: shop.Units,
		unit: set.SoldIn(shop.Units == measure.Metric), language: shop.Language, whose: shop.Name})
	for i, t := range d.Trips {
		if i > 0 {
			w.turn()
		}
		w.runHead(d, t)
		w.loading(t)
		for n, drop := range t.Drops {
			w.stop(n+1, drop)
		}
	}
	if len(d.Trips) == 0 {
		w.paragraph(mainFace(), w.print.Heading("No trip is planned on this day."))
	}
	return w.bytes()
}

// runTexts refuses what can't or may not be printed.
func (p *Painter) runTexts(d road.Day, shop orders.Shop) error {
	texts := []named{{"vendor.name", shop.Name}}
	var noted []named
	for _, t := range d.Trips {
		texts = append(texts, named{"vehicle", t.Vehicle.Name}, named{"driver", t.Driver})
		for _, drop := range t.Drops {
			c := printed(drop.Order.Customer)
			texts = append(texts, named{"customer.name", c.Name}, named{"customer.address", c.Address}, named{"customer.phone", c.Phone}, named{"species", drop.Order.Species})
			noted = append(noted, named{"access", drop.Access}, named{"stacking", drop.Stacking}, named{"notes", drop.Order.Notes})
		}
	}
	if err := p.letters.printable(append(texts, noted...)); err != nil {
		return err
	}
	return p.lawful(orders.RuleSet{Code: shop.RuleSet}, noted...)
}

// printed is a customer in letters that the font has.
func printed(c orders.Customer) orders.Customer {
	c.Name, c.Address = cmp.Or(c.PrintName, c.Name), cmp.Or(c.PrintAddress, c.Address)
	return c
}

// runHead is which trip it is, and what goes along.
func (w *paper) runHead(d road.Day, t road.Trip) {
	w.letterhead(head{kind: w.print.Heading("Run sheet"), facts: []string{w.print.RoadDay(d)}})
	w.paragraph(headFace(), w.print.Trip(t))
	w.gap(1)
	w.paragraph(boldFace(), w.print.TripWood(t))
	w.paragraph(mainFace(), w.print.TripLoad(t))
	for _, line := range w.print.TripFaults(t) {
		w.paragraph(boldFace(), line)
	}
	w.paragraph(noteFace(), w.print.TripWay(t, d.Yard != ""))
	w.paragraph(noteFace(), w.print.RoadCaution())
	if sum := t.Collect(); sum.Minor > 0 {
		w.gap(1)
		w.amount(w.print.Heading("To collect in all"), w.print.Money(sum), true)
	}
	w.gap(1)
}

// loading is the list to load by: last out, first in.
func (w *paper) loading(t road.Trip) {
	w.heading(w.print.Heading("Load in this order: what comes off last goes in first"), 2*mainFace().lead())
	w.gap(0.8)
	for i, drop := range t.Loading() {
		stop := len(t.Drops) - i
		w.need(2 * mainFace().lead())
		w.square(w.left(), w.y+0.8)
		width := w.inner() - 60
		top := w.y
		w.block(w.left()+6, width, mainFace(), w.print.Loaded(drop))
		low := w.y
		w.y = top
		w.block(w.left()+6+width+2, w.inner()-width-8, mainFace(), w.print.StopOf(stop, printed(drop.Order.Customer).Name))
		w.y = max(low, w.y) + 0.8
	}
}

// square is a box to tick.
func (w *paper) square(x, y float64) {
	w.frame(x, y, 3.4, 3.4, ruleLine)
}

// stop is one stop: who and where left, the wood and the money right, then what to know there,
// boxes and a line to sign.
func (w *paper) stop(n int, d road.Drop) {
	c := printed(d.Order.Customer)
	w.reach(c.Phone)
	half := w.inner()/2 - 3
	left := append(w.lines(strongFace(), half, c.Name), w.lines(mainFace(), half, c.Address, c.Phone)...)
	right := w.lines(boldFace(), half, w.print.Quantity(d.Wood))
	right = append(right, w.lines(mainFace(), half, w.print.DropWood(d), w.print.DropHours(d))...)
	right = append(right, w.lines(boldFace(), half, w.print.DropMoney(d))...)
	cols := []column{{x: w.left(), lines: left}, {x: w.left() + half + 6, lines: right}}
	known := w.lines(mainFace(), w.inner()-34, d.Access, d.Stacking, d.Order.Notes)
	const foot = 17
	if h := highest(cols) + float64(len(known))*mainFace().lead() + foot + 12; h < w.bottom()-marginTop {
		w.need(h)
	}
	w.heading(w.print.StopNumber(n), highest(cols))
	w.columns(cols...)
	for _, note := range []struct{ name, text string }{{"How to get in", d.Access}, {"Stacking", d.Stacking}, {"Notes", d.Order.Notes}} {
		if note.text != "" {
			w.columns(column{x: w.left(), lines: w.lines(noteFace(), 32, w.print.Heading(note.name))}, column{x: w.left() + 34, lines: w.lines(mainFace(), w.inner()-34, note.text)})
		}
	}
	w.need(foot)
	x := w.left()
	for _, box := range []string{"Delivered", "Receipt left", "Paid"} {
		w.square(x, w.y+foot-9)
		w.at(x+5, w.y+foot-6, mainFace(), w.print.Heading(box))
		x += 9 + w.measure(mainFace(), w.print.Heading(box))
	}
	w.writeOn(x+4, w.y+foot-6, w.right()-x-4, "Signed for, with the name printed")
	w.y += foot
}
