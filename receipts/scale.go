package receipts

import (
	"strconv"

	"wellstowed/orders"
)

// edgeScale draws a rule along the left edge, true to size where the page is
// printed at full size: inches in eighths, or centimetres in millimetres.
func (w *paper) edgeScale() {
	step, per := 25.4/8, 8
	if w.units == orders.Metric {
		step, per = 1, 10
	}
	top := marginTop
	n := int((w.height - 2*top) / step)
	n -= n % per
	w.line(scaleAt, top, scaleAt, top+float64(n)*step, ruleLine)
	w.at(scaleAt+1.2, top+float64(n)*step+2.6, face{6.5, false}, w.print.ScaleUnit())
	for i := range n + 1 {
		y := top + float64(i)*step
		w.line(scaleAt, y, scaleAt+tickLength(i, per), y, hairline)
		if i%per == 0 && i > 0 {
			w.at(scaleAt+1.2, y-0.5, face{6.5, false}, strconv.Itoa(i/per))
		}
	}
}

// tickLength is longest at a whole unit, then at its halves and quarters.
func tickLength(i, per int) float64 {
	switch {
	case i%per == 0:
		return 5
	case 2*i%per == 0:
		return 3
	case per == 8 && i%2 == 0:
		return 2.1
	}
	return 1.3
}
