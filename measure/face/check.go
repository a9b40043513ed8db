package face

import (
	"math"
	"strconv"

	"wellstowed/measure"
)

// check notes what is missing or out of range.
func (p Photo) check(path string) (errs measure.InputErrors) {
	whole := func(field string, n int) {
		if n < MinPixels || n > MaxPixels {
			errs.Add(path+"."+field, "out-of-range", strconv.Itoa(n), measure.Say("this is not from %d to %d pixels", MinPixels, MaxPixels), measure.Say("the picture’s size in pixels"))
		}
	}
	whole("width", p.Width)
	whole("height", p.Height)
	count := func(field string, n, low, high int) bool {
		if n < low || n > high {
			errs.Add(path+"."+field, "out-of-range", strconv.Itoa(n), measure.Say("%d points are not from %d to %d", n, low, high), measure.Say("%d to %d points", low, high))
		}
		return n >= low && n <= high
	}
	if count("references", len(p.References), MinReferences, MaxReferences) {
		for i, r := range p.References {
			at := path + ".references[" + strconv.Itoa(i) + "]"
			p.seen(at+".pixel", r.Pixel, &errs)
			for _, l := range []measure.Length{r.X, r.Y} {
				if l > MaxPlace || l < -MaxPlace {
					errs.Add(at+".at", "too-large", l.String(), measure.Say("this is over the limit"), measure.Say("up to %s either way", measure.Length(MaxPlace)))
				}
			}
		}
	}
	if count("outline", len(p.Outline), MinOutline, MaxOutline) {
		p.within(path+".outline", p.Outline, &errs)
	}
	if count("voids", len(p.Voids), 0, MaxVoids) {
		for i, v := range p.Voids {
			at := "voids[" + strconv.Itoa(i) + "]"
			if count(at, len(v), MinOutline, MaxVoidPoints) {
				p.within(path+"."+at, v, &errs)
			}
		}
	}
	if p.Distance < MinDistance || p.Distance > MaxDistance {
		errs.Add(path+".distance", "out-of-range", p.Distance.String(), measure.Say("this is not from %s to %s", measure.Length(MinDistance), measure.Length(MaxDistance)), measure.Say("how far from the wood the photo was taken; paces are near enough"))
	}
	if p.Proud < -MaxProud || p.Proud > MaxProud {
		errs.Add(path+".proud", "out-of-range", p.Proud.String(), measure.Say("this is over the limit"), measure.Say("up to %s either way", measure.Length(MaxProud)))
	}
	if math.IsNaN(p.Zoom) || p.Zoom < 1 || p.Zoom > MaxZoom {
		errs.Add(path+".zoom", "out-of-range", strconv.FormatFloat(p.Zoom, 'g', -1, 64), measure.Say("this is not from 1 to %d", MaxZoom), measure.Say("how many times the picture was enlarged when it was tapped"))
	}
	switch p.Plumb {
	case "", PlumbByEye, PlumbLevel:
	default:
		errs.Add(path+".plumb", "unknown", string(p.Plumb), measure.Say("this way of setting sticks is not known"), measure.Say("“by eye” or “level”"))
	}
	return errs
}

func (p Photo) within(at string, outline []Pixel, errs *measure.InputErrors) {
	for i, q := range outline {
		p.seen(at+"["+strconv.Itoa(i)+"]", q, errs)
	}
}

// seen notes a point that is not in the picture.
func (p Photo) seen(at string, q Pixel, errs *measure.InputErrors) {
	if !(q.X >= 0 && q.X <= float64(p.Width) && q.Y >= 0 && q.Y <= float64(p.Height)) {
		errs.Add(at, "outside-picture", strconv.FormatFloat(q.X, 'g', 6, 64)+", "+strconv.FormatFloat(q.Y, 'g', 6, 64),
			measure.Say("this point is not in the picture"), measure.Say("from 0 to %d across and 0 to %d down", p.Width, p.Height))
	}
}
