package wood

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// A Part is one species of a load and its share of the solid volume, a ratio > 0.
type Part struct {
	Species Species `json:"species"`
	Share   float64 `json:"share"`
}

// A Mix is what a load is made of: at least one part, shares that sum to 1.
type Mix []Part

// mostParts bounds the species in one load.
const mostParts = 12

// Green is the moisture of the load as it grew, on the dry basis: all its water over
// all its dry wood.
func (m Mix) Green() Moisture {
	water, dry := 0.0, 0.0
	for _, p := range m {
		mass := p.Share * p.Species.BasicGravity
		dry += mass
		water += mass * p.Species.Green.dryRatio()
	}
	if dry == 0 {
		return fromDry(0)
	}
	return fromDry(100 * water / dry)
}

// MoistureOf reads a moisture as ParseMoisture does, and “green” as the load's own.
func (m Mix) MoistureOf(text string, basis Basis) (Moisture, error) {
	if strings.EqualFold(strings.TrimSpace(text), "green") {
		return m.Green(), nil
	}
	return ParseMoisture(text, basis)
}

var (
	between = regexp.MustCompile(`\s*(?:[;+&/\n]|\band\b)\s*`)
	shareAt = regexp.MustCompile(`^(?:(\d{1,3}(?:\.\d{1,3})?) ?% )?(.+?)(?:,? (\d{1,3}(?:\.\d{1,3})?) ?%)?$`)
)

// ParseMix reads the species of a load: "red oak", "red oak and sugar maple" for
// equal shares, or "red oak 60 %; sugar maple 40 %". Shares are by volume and sum
// to 100 %; all parts have one or none. The error is a *measure.InputError.
func ParseMix(s string) (Mix, error) {
	if len(s) > measure.MaxText {
		s = shown(s)
	}
	parts := between.Split(strings.TrimSpace(s), -1)
	if len(parts) > mostParts {
		return nil, badMix(s, measure.Say("it names more than %d species", mostParts))
	}
	var mix Mix
	named, sum := 0, 0.0
	for _, part := range parts {
		p, shared, err := readPart(part)
		if err != nil {
			return nil, err
		}
		for _, before := range mix {
			if before.Species.Name == p.Species.Name {
				return nil, badMix(s, measure.Say("it names %s twice", p.Species.Name))
			}
		}
		if shared {
			named++
			sum += p.Share
		}
		mix = append(mix, p)
	}
	switch {
	case named == 0:
		for i := range mix {
			mix[i].Share = 1 / float64(len(mix))
		}
	case named != len(mix):
		return nil, badMix(s, measure.Say("some species have a share and some have none"))
	case sum < 0.9995 || sum > 1.0005:
		return nil, badMix(s, measure.Say("the shares add up to %s %%, not 100", figure(100*sum, 3)))
	default:
		for i := range mix {
			mix[i].Share /= sum
		}
	}
	return mix, nil
}

// ParseMixes reads the species of a load as ParseMix does, and a name that several
// species go by (“oak”) as one load of each of them: which it is is not known. The
// error is a *measure.InputError.
func ParseMixes(s string) ([]Mix, error) {
	mix, err := ParseMix(s)
	var fault *measure.InputError
	if err == nil {
		return []Mix{mix}, nil
	}
	if !errors.As(err, &fault) || fault.Code != "ambiguous" {
		return nil, err
	}
	all, tableErr := All()
	if tableErr != nil {
		return nil, tableErr
	}
	exact, _ := matches(keyOf(s), all)
	if len(exact) < 2 { // one part of a mixed load
		return nil, err
	}
	var each []Mix
	for _, name := range exact {
		one, err := Find(name)
		if err != nil {
			return nil, err
		}
		each = append(each, Mix{{Species: one, Share: 1}})
	}
	return each, nil
}

// readPart reads one species, and tells whether it has a share.
func readPart(text string) (Part, bool, error) {
	text = strings.Join(strings.Fields(text), " ")
	m := shareAt.FindStringSubmatch(text)
	if m == nil || m[1] != "" && m[3] != "" {
		_, err := Find(text)
		if err == nil {
			err = badMix(text, measure.Say("it has two shares"))
		}
		return Part{}, false, err
	}
	s, err := Find(m[2])
	if err != nil {
		return Part{}, false, err
	}
	number := m[1] + m[3]
	if number == "" {
		return Part{Species: s}, false, nil
	}
	percent, err := strconv.ParseFloat(number, 64)
	if err != nil || percent <= 0 || percent > 100 {
		return Part{}, false, badMix(text, measure.Say("a share is more than 0 and at most 100 %"))
	}
	return Part{Species: s, Share: percent / 100}, true, nil
}

func badMix(got string, reason measure.Text) error {
	return &measure.InputError{
		Code: "not-a-mix", Got: shown(got), Reason: reason,
		Accepts: measure.Say("a species, or several with their shares: red oak 60 %; sugar maple 40 %"),
	}
}
