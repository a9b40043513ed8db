package draw

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Stack draws a stack as measured, to one scale, ranked wood above the same volume
// redrawn as a cord; rows held against what was sold show what is missing of each
// instead. width is that of the drawing on paper, kept within 80 mm, for rows 56 mm, to 1 m. A
// tally without wood gives a Drawing of no size.
func Stack(t stack.Tally, r stack.Result, width measure.Length) Drawing {
	switch s := t.Stack.(type) {
	case stack.Rows:
		return drawRows(s, t.Tape, t.Raised, r, min(max(width, leastRows), maxWidth))
	case stack.Load:
		return drawLoad(s, t.Raised, r, paperWidth(width))
	case stack.Heap:
		return drawHeap(s, t.Raised, paperWidth(width))
	case stack.Bin:
		return drawBin(s, t.Raised, r, paperWidth(width))
	case stack.Round:
		return drawRound(s, t.Raised, r, paperWidth(width))
	case stack.Packaged:
		return drawPackaged(s, r, paperWidth(width))
	}
	return Drawing{}
}
