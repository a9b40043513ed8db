package wood

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"wellstowed/measure"
)

// A Stated is one species or group of a load as it was said, with its share of the
// load: a ratio above 0.
type Stated struct {
	Name  string  `json:"name"`
	Share float64 `json:"share"`
}

// A Counted is how many pieces of one species or group were counted, 0 or more.
type Counted struct {
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
}

// MostCounted is the most pieces of one species that are read.
const MostCounted = 100_000

var (
	listed     = regexp.MustCompile(`\s*(?:[,;+&/\n]|\band\b)\s*`)
	shareFirst = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,3})?) ?% ?(?:of )?(.+)$`)
	shareLast  = regexp.MustCompile(`^(.+?):? (\d{1,3}(?:\.\d{1,3})?) ?%$`)
	countFirst = regexp.MustCompile(`^(\d{1,6}) (?:pieces of )?(.+)$`)
	countLast  = regexp.MustCompile(`^(.+?):? (\d{1,6})$`)
)

// ParseStated reads stated shares: "60 % oak, 40 % maple", "oak 60 %; maple 40 %",
// "50 % hickory / 50 % mixed softwood". Names need not be in the table of species;
// every one has a share, and together they are 100 %, to a tenth of one. The error is
// a *measure.InputError.
func ParseStated(s string) ([]Stated, error) {
	accepts := measure.Say("each species with its share, together 100 %: 60 % oak, 40 % maple")
	parts, fault := partsOf(s, accepts)
	if fault != nil {
		return nil, fault
	}
	var stated []Stated
	sum := 0.0
	for _, part := range parts {
		m, number := shareFirst.FindStringSubmatch(part), 1
		if m == nil {
			m, number = shareLast.FindStringSubmatch(part), 2
		}
		if m == nil {
			return nil, badShare(part, measure.Say("this isn’t a species with a share in percent"), accepts)
		}
		percent, err := strconv.ParseFloat(m[number], 64)
		if err != nil || percent <= 0 || percent > 100 {
			return nil, badShare(part, measure.Say("a share is more than 0 and at most 100 %"), accepts)
		}
		name, fault := nameOf(m[3-number], accepts)
		if fault != nil {
			return nil, fault
		}
		for _, before := range stated {
			if keyOf(before.Name) == keyOf(name) {
				return nil, badShare(s, measure.Say("it names %s twice", name), accepts)
			}
		}
		stated = append(stated, Stated{name, percent / 100})
		sum += percent
	}
	if math.Abs(sum-100) > 0.1+1e-9 {
		return nil, badShare(s, measure.Say("the shares add up to %s %%, not 100", figure(sum, 4)), accepts)
	}
	return stated, nil
}

// ParseCounted reads pieces counted by species: "oak 14, maple 6", "14 oak; 6 maple".
// At least one piece was counted. The error is a *measure.InputError.
func ParseCounted(s string) ([]Counted, error) {
	accepts := measure.Say("each species with its pieces: oak 14, maple 6")
	parts, fault := partsOf(s, accepts)
	if fault != nil {
		return nil, fault
	}
	var counted []Counted
	sum := 0
	for _, part := range parts {
		m, number := countFirst.FindStringSubmatch(part), 1
		if m == nil {
			m, number = countLast.FindStringSubmatch(part), 2
		}
		if m == nil {
			return nil, badShare(part, measure.Say("this isn’t a species with a number of pieces"), accepts)
		}
		pieces, err := strconv.Atoi(m[number])
		if err != nil || pieces > MostCounted {
			return nil, badShare(part, measure.Say("that is more than %d pieces", MostCounted), accepts)
		}
		name, fault := nameOf(m[3-number], accepts)
		if fault != nil {
			return nil, fault
		}
		for _, before := range counted {
			if keyOf(before.Name) == keyOf(name) {
				return nil, badShare(s, measure.Say("it names %s twice", name), accepts)
			}
		}
		counted = append(counted, Counted{name, pieces})
		sum += pieces
	}
	if sum == 0 {
		return nil, badShare(s, measure.Say("no piece was counted"), accepts)
	}
	return counted, nil
}

// partsOf takes a list of species apart.
func partsOf(s string, accepts measure.Text) ([]string, error) {
	switch text := strings.TrimSpace(s); {
	case text == "":
		return nil, &measure.InputError{Code: "missing", Reason: measure.Say("no species was named"), Accepts: accepts}
	case len(text) > measure.MaxText:
		return nil, badShare(s, measure.Say("this is too long"), accepts)
	default:
		parts := listed.Split(text, -1)
		if len(parts) > mostParts {
			return nil, badShare(s, measure.Say("it names more than %d species", mostParts), accepts)
		}
		for i, part := range parts {
			parts[i] = strings.Join(strings.Fields(part), " ")
		}
		return parts, nil
	}
}

// nameOf reads the name of a species or group: letters, spaces and marks.
func nameOf(text string, accepts measure.Text) (string, error) {
	strange := strings.ContainsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsMark(r) && !strings.ContainsRune(" -'’.()", r)
	})
	if strange || keyOf(text) == "" {
		return "", badShare(text, measure.Say("this isn’t a name of a species"), accepts)
	}
	return text, nil
}

func badShare(got string, reason, accepts measure.Text) error {
	return &measure.InputError{Code: "not-shares", Got: shown(got), Reason: reason, Accepts: accepts}
}

// StatesShares tells whether a text about the species of a load gives shares in
// percent, so that ParseStated has to read it.
func StatesShares(text string) bool { return strings.Contains(text, "%") }
