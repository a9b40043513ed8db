package rules

import "fmt"

// Nations are those whose rules on moving wood are built in, once for all sets of theirs.
func Nations() []string { return []string{"us"} }

// withNation gives the set with its nation's rules on moving wood after its own. An error
// means that the file built in is faulty.
func (s Set) withNation() (Set, error) {
	if s.Nation == "" {
		return s, nil
	}
	name := s.Nation + "-moving.json"
	text, err := files.ReadFile(name)
	if err != nil {
		return s, err
	}
	var national []Moving
	if err := strictly(text, &national); err != nil {
		return s, fmt.Errorf("rules of a nation %s: %w", name, err)
	}
	s.Moving = movings(s.Moving, national)
	return s, nil
}

// movings puts rules on moving wood after others, or in place of those in the same words.
func movings(base, own []Moving) []Moving {
	return joined(base, own, func(m Moving) string { return m.Words })
}
