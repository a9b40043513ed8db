package yard

import (
	"slices"
	"strings"

	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

// Covers tells whether wood of a name is of the kind that another names: "oak" covers red
// oak, and no name covers all. Mixed wood is covered by the same name alone.
func Covers(kind, name string) bool {
	kind, name = act.Fold(kind), act.Fold(name)
	return kind == "" || kind == name || strings.HasSuffix(name, " "+kind) && !wood.StatesShares(name) && !strings.ContainsAny(name, ";,/&+") && !strings.Contains(name, " and ")
}

// Serves tells whether wood of a name may be delivered where a kind was ordered: the kind
// covers it, or every species of it is among those that the kind names.
func Serves(kind, name string) bool {
	if Covers(kind, name) {
		return true
	}
	ordered, there := named(kind), named(name)
	if len(ordered) == 0 || len(there) == 0 {
		return false
	}
	return !slices.ContainsFunc(there, func(n string) bool { return !slices.Contains(ordered, n) })
}

// named are the species of the table that a text may mean, none where it isn't known.
func named(text string) (names []string) {
	mixes, err := wood.ParseMixes(text)
	if err != nil {
		return nil
	}
	for _, mix := range mixes {
		for _, part := range mix {
			names = append(names, part.Species.Name)
		}
	}
	return names
}
