package rules

import "slices"

// Unbarred is the set as it may be printed outside its own list: without its barred
// terms, and without any item that holds one.
func (s Set) Unbarred() Set {
	clear := func(texts ...string) bool {
		return !slices.ContainsFunc(texts, func(text string) bool { return len(s.BarredIn(text)) > 0 })
	}
	out := s
	out.Barred = nil
	out.Units = kept(s.Units, func(u Unit) bool { return clear(u.Name, u.Only, u.Source) })
	out.Required = kept(s.Required, func(f Field) bool { return clear(f.Name, f.Source) })
	clean := func(m CordMeasure) bool { return clear(m.Name, m.Of, m.Source) }
	out.Ranked, out.Loose = kept(s.Ranked, clean), kept(s.Loose, clean)
	out.Notices = kept(s.Notices, func(n Statement) bool { return clear(n.Words, n.Source) })
	for _, l := range []**Limit{&out.Tolerance, &out.Shares} {
		if *l != nil && !clear((*l).Words, (*l).Source) {
			*l = nil
		}
	}
	for _, said := range []**Statement{&out.Moisture, &out.Tax} {
		if *said != nil && !clear((*said).Words, (*said).Source) {
			*said = nil
		}
	}
	if r := out.Reading; r != nil && !clear(r.Source) {
		out.Reading = nil
	}
	if r := out.Retention; r != nil && !clear(r.Source) {
		out.Retention = nil
	}
	return out
}

// kept are the items that keep holds of, in a list of their own.
func kept[T any](items []T, keep func(T) bool) []T {
	var out []T
	for _, item := range items {
		if keep(item) {
			out = append(out, item)
		}
	}
	return out
}
