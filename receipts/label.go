package receipts

import (
	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Labels of one page: so many across and down.
const labelsAcross, labelsDown = 2, 4

// xHeight is the height of the small letters of the font to its size, by its own table.
const xHeight = 0.53

// usualLabelHeight is how high a quantity is printed where the rules say nothing of it: a
// practice of this program.
const usualLabelHeight = measure.Inch / 4

// Labels paints a page of labels for packages, all alike, to be cut apart: what the wood
// is, its quantity as high as the rules ask, price and unit price, where it was cut, and
// who packed it. It returns an *act.Error of Kind Invalid that names the text that
// can't be printed. The same bytes each time.
func (p *Painter) Labels(l orders.Label, shop orders.Shop) ([]byte, error) {
	texts := []named{{"identity", l.What}, {"origin", l.Origin}, {"vendor.name", l.Packer.Name}, {"vendor.address", l.Packer.Address}}
	if err := p.letters.printable(texts); err != nil {
		return nil, err
	}
	w := p.paper(setup{title: measure.Say("Package labels"), paper: shop.Paper, units: shop.Units, unit: l.Rules.SoldIn(shop.Units == act.Metric), language: shop.Language, whose: shop.Name})
	width, height := w.inner()/labelsAcross, (w.bottom()-w.y)/labelsDown
	top := w.y
	for i := range labelsAcross * labelsDown {
		w.packageLabel(l, w.left()+float64(i%labelsAcross)*width, top+float64(i/labelsAcross)*height, width, height)
	}
	return w.bytes()
}

// packageLabel paints one label into its box.
func (w *paper) packageLabel(l orders.Label, x, y, width, height float64) {
	const pad = 4.0
	t := w.print.Label(l)
	w.frame(x, y, width, height, hairline)
	high := usualLabelHeight
	if l.Rules.Label != nil {
		high = l.Rules.Label.Height
	}
	w.y = y + pad
	put := func(f face, lines int, text string) {
		wrapped := w.wrap(f, text, width-2*pad)
		for _, line := range wrapped[:min(lines, len(wrapped))] {
			w.y += f.lead()
			w.at(x+pad, w.y-f.lead()*0.24, f, line)
		}
	}
	put(strongFace(), 2, t.What)
	put(face{high.In(measure.Millimetre) / xHeight / pointInMM, true}, 1, t.Quantity)
	for _, line := range []string{t.Also, t.Price, t.Origin} {
		put(noteFace(), 1, line)
	}
	put(noteFace(), 2, t.Packer)
}
