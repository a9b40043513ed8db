package lot

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"wellstowed/measure"
)

// maxFaults is the most faults of one lot that are listed.
const maxFaults = 200

// faults are gathered while a lot is read.
type faults measure.InputErrors

func (f *faults) add(path, code, got string, reason, accepts measure.Text) {
	*f = append(*f, &measure.InputError{Field: path, Code: code, Got: shown(got), Reason: reason, Accepts: accepts})
}

// addAt notes the fault of a value that was parsed by itself.
func (f *faults) addAt(path string, err error) {
	fault := *err.(*measure.InputError)
	fault.Field = path
	*f = append(*f, &fault)
}

// within notes a count that is not from 1 to high.
func (f *faults) within(path string, n, high int) {
	if n < 1 || n > high {
		f.add(path, "out-of-range", strconv.Itoa(n), measure.Say("this is not from 1 to %d", high), measure.Say("a whole number from 1 to %d", high))
	}
}

// volume notes a volume that is not more than nothing and at most high.
func (f *faults) volume(path string, v, high measure.Volume) {
	f.amount(path, v.String(), int64(v), int64(high), measure.Say("a volume of more than nothing, up to %s", high))
}

func (f *faults) length(path string, l measure.Length) {
	f.amount(path, l.String(), int64(l), int64(measure.MaxPieceLength), measure.Say("a length of more than nothing, up to %s", measure.Length(measure.MaxPieceLength)))
}

func (f *faults) area(path string, a Area) {
	f.amount(path, a.String(), int64(a), int64(MaxArea), measure.Say("an area of more than nothing, up to %s", MaxArea.String()))
}

func (f *faults) amount(path, got string, n, high int64, accepts measure.Text) {
	switch {
	case n <= 0:
		f.add(path, "not-positive", got, measure.Say("this is not more than nothing"), accepts)
	case n > high:
		f.add(path, "too-large", got, measure.Say("this is over the limit"), accepts)
	}
}

// listed keeps the first fault of each place, with the text that was read there,
// and says how many there are over maxFaults.
func (f faults) listed(read map[string]string) measure.InputErrors {
	told := map[string]bool{}
	f = slices.DeleteFunc(f, func(e *measure.InputError) bool {
		again := told[e.Field]
		told[e.Field] = true
		return again
	})
	for _, e := range f {
		if text, ok := read[e.Field]; ok {
			e.Got = shown(text)
		}
	}
	if more := len(f) - maxFaults; more > 0 {
		f = append(f[:maxFaults], &measure.InputError{Code: "too-many-faults", Reason: measure.Say("there are %d more faults", more)})
	}
	return measure.InputErrors(f)
}

// shown is text with a mark for what can't be seen, and no longer than a line.
func shown(text string) string {
	text = strings.Map(func(c rune) rune {
		if unicode.IsPrint(c) {
			return c
		}
		return unicode.ReplacementChar
	}, strings.ToValidUTF8(text, string(unicode.ReplacementChar)))
	if utf8.RuneCountInString(text) > 80 {
		return string([]rune(text)[:80]) + "…"
	}
	return text
}
