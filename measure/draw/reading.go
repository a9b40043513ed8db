package draw

import (
	"slices"

	"wellstowed/measure"
)

// readingGap is the least distance between two readings, on paper.
const readingGap = measure.Millimetre

// A reading is a height written above its station, on the first or the second
// level above the row.
type reading struct {
	station int
	level   int
	x       measure.Length // of the label's middle
	half    measure.Length // of its width
	stem    measure.Length // x of the station
	text    measure.Text
}

// placeReadings finds room for as many readings as can stand without touching:
// the lowest and the highest first, then the outer ones, then evenly between.
func (d *Drawing) placeReadings(p rowPaper, heights []measure.Length) []reading {
	var placed []reading
	for _, i := range byWeight(heights) {
		r := reading{station: i, stem: p.at(p.shape.xs[i], 0).X, text: measure.Say("%s", heights[i])}
		r.half = textWidth(r.text, typeSize)/2 + readingGap/2
		r.x = min(max(r.stem, margin/2+r.half), d.Width-margin/2-r.half)
		for r.level = 0; r.level < 2; r.level++ {
			if r.free(placed) {
				placed = append(placed, r)
				break
			}
		}
	}
	slices.SortFunc(placed, func(a, b reading) int { return a.station - b.station })
	return placed
}

// free tells whether r touches no label and no stem of those placed.
func (r reading) free(placed []reading) bool {
	for _, o := range placed {
		switch {
		case r.level == o.level && abs(r.x-o.x) < r.half+o.half:
			return false
		case r.level < o.level && abs(r.x-o.stem) < r.half:
			return false
		case r.level > o.level && abs(r.stem-o.x) < o.half:
			return false
		}
	}
	return true
}

// levels is how many levels are in use.
func levels(readings []reading) int {
	n := 0
	for _, r := range readings {
		n = max(n, r.level+1)
	}
	return n
}

// byWeight orders stations by how much their reading is missed if left out.
func byWeight(heights []measure.Length) []int {
	last := len(heights) - 1
	order := []int{
		slices.Index(heights, slices.Min(heights)),
		slices.Index(heights, slices.Max(heights)),
		0, last,
	}
	for stride := len(heights)/2 + 1; stride > 0; stride /= 2 {
		for i := 0; i <= last; i += stride {
			order = append(order, i)
		}
	}
	seen := make([]bool, len(heights))
	return slices.DeleteFunc(order, func(i int) bool {
		was := seen[i]
		seen[i] = true
		return was
	})
}

func abs(l measure.Length) measure.Length { return max(l, -l) }
