package draw

import "wellstowed/measure"

// readingGap is the least distance between two readings, on paper.
const readingGap = measure.Millimetre

// A reading is a height written above its station, on the first or the second
// level above the row; or the number it has in the list of readings.
type reading struct {
	station int
	level   int
	x       measure.Length // of the label's middle
	half    measure.Length // of its width
	stem    measure.Length // x of the station
	text    measure.Text
	role    string
}

// placeReadings writes all the readings of a row, or where they would touch their
// numbers, by which the list of readings has them: a picture that shows some of them is
// no evidence.
func (d *Drawing) placeReadings(p rowPaper, heights []measure.Length) []reading {
	var placed []reading
	for i, h := range heights {
		r := d.over(p, i, measure.Say("%s", h), "reading")
		for r.level = 0; r.level < 2 && !r.free(placed); r.level++ {
		}
		if r.level == 2 {
			return d.placeNumbers(p, len(heights))
		}
		placed = append(placed, r)
	}
	return placed
}

// placeNumbers numbers the stations: all of them, or each second, fifth, tenth, …
func (d *Drawing) placeNumbers(p rowPaper, count int) []reading {
	for _, step := range []int{1, 2, 5, 10, 20, 50, 100} {
		var placed []reading
		fits := true
		for i := 0; i < count && fits; i++ {
			if n := i + 1; n == 1 || n%step == 0 {
				r := d.over(p, i, measure.Say("%d", n), "number")
				fits = r.free(placed)
				placed = append(placed, r)
			}
		}
		if fits {
			return placed
		}
	}
	return []reading{d.over(p, 0, measure.Say("%d", 1), "number")}
}

// over is a text above a station.
func (d *Drawing) over(p rowPaper, station int, text measure.Text, role string) reading {
	r := reading{station: station, stem: p.at(p.shape.xs[station], 0).X, text: text, role: role}
	r.half = textWidth(text, typeSize)/2 + readingGap/2
	r.x = min(max(r.stem, margin/2+r.half), d.Width-margin/2-r.half)
	return r
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

func abs(l measure.Length) measure.Length { return max(l, -l) }
