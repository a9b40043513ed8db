package wood

import (
	"slices"
	"strings"
	"unicode"

	"wellstowed/measure"
)

// nearest names that an error lists.
const mostNear = 8

// Find gives the species that people call name: its name or an alias, in any case,
// with or without hyphens, "oak, red" or "red oak", one or many ("oaks"). A name of
// several species ("oak") is refused with theirs. The error is a
// *measure.InputError.
func Find(name string) (Species, error) {
	all, err := All()
	if err != nil {
		return Species{}, err
	}
	key := keyOf(name)
	if key != "" && len(name) <= measure.MaxText {
		if called := calledSo(key, all); len(called) == 1 {
			return called[0], nil
		}
	}
	return Species{}, notFound(name, key, all)
}

// calledSo are the species whose name or alias key is: a name goes before aliases,
// which several may share.
func calledSo(key string, all []Species) []Species {
	var called []Species
	for _, s := range all {
		if keyOf(s.Name) == key {
			return []Species{s}
		}
		if slices.ContainsFunc(s.Aliases, func(a string) bool { return keyOf(a) == key }) {
			called = append(called, s)
		}
	}
	return called
}

func notFound(name, key string, all []Species) error {
	fault := &measure.InputError{Code: "unknown-species", Got: shown(name), Reason: measure.Say("no species of that name is in the table")}
	exact, near := matches(key, all)
	switch {
	case key == "":
		fault.Code, fault.Reason = "missing", measure.Say("no species was named")
		fault.Accepts = measure.Say("a species such as red oak, sugar maple or Douglas-fir")
	case len(exact) > 1:
		fault.Code, fault.Reason = "ambiguous", measure.Say("several species are called that, and they differ")
		fault.Accepts = measure.Say("one of: %s", strings.Join(exact, ", "))
	case len(near) > 0:
		fault.Accepts = measure.Say("nearest in the table: %s", strings.Join(near, ", "))
	default:
		fault.Accepts = measure.Say("a species such as red oak, sugar maple or Douglas-fir")
	}
	return fault
}

// matches gives the names that are called key or hold it as a whole word, and the
// names that differ from key by few letters or hold it.
func matches(key string, all []Species) (exact, near []string) {
	if key == "" || len(key) > 80 {
		return nil, nil
	}
	type close struct {
		name     string
		distance int
	}
	var found []close
	for _, s := range all {
		names := append([]string{s.Name}, s.Aliases...)
		best := len(key)
		for _, n := range names {
			k := keyOf(n)
			if (k == key || slices.Contains(strings.Fields(k), key)) && !slices.Contains(exact, s.Name) {
				exact = append(exact, s.Name)
			}
			best = min(best, distance(k, key))
			for _, word := range strings.Fields(k) {
				if words := strings.Fields(key); slices.Contains(words, word) || distance(word, key) <= 1 {
					best = min(best, 2)
				}
			}
		}
		if best <= max(2, len(key)/3) {
			found = append(found, close{s.Name, best})
		}
	}
	slices.SortStableFunc(found, func(a, b close) int { return a.distance - b.distance })
	for _, c := range found[:min(len(found), mostNear)] {
		near = append(near, c.name)
	}
	return exact, near
}

// keyOf is a name as compared: lower case, words in the order they are said, the
// last one in the singular.
func keyOf(name string) string {
	if last, first, comma := strings.Cut(name, ","); comma {
		name = first + " " + last
	}
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' })
	if len(words) > 1 && (words[len(words)-1] == "wood" || words[len(words)-1] == "firewood") {
		words = words[:len(words)-1]
	}
	if n := len(words); n > 0 {
		words[n-1] = singular(words[n-1])
	}
	return strings.ReplaceAll(strings.Join(words, " "), "'", "’")
}

func singular(word string) string {
	switch {
	case strings.HasSuffix(word, "ches"), strings.HasSuffix(word, "shes"):
		return strings.TrimSuffix(word, "es")
	case strings.HasSuffix(word, "ies") && len(word) > 4:
		return strings.TrimSuffix(word, "ies") + "y"
	case strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") && !strings.HasSuffix(word, "s’arc") && len(word) > 3:
		return strings.TrimSuffix(word, "s")
	}
	return word
}

// distance counts the letters to change, add or drop between a and b.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		before := row[0]
		row[0] = i + 1
		for j := range y {
			cost := before
			if x[i] != y[j] {
				cost = 1 + min(before, row[j], row[j+1])
			}
			before, row[j+1] = row[j+1], cost
		}
	}
	return row[len(y)]
}
