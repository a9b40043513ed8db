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
	free := func(t Term) bool { return clear(t.Name, t.Means, t.Source) }
	out.Undefined, out.Defined = kept(s.Undefined, free), kept(s.Defined, free)
	out.Units = kept(s.Units, func(u Unit) bool { return clear(u.Name, u.Only, u.Source) })
	out.Required = kept(s.Required, func(f Field) bool { return clear(f.Name, f.when(), f.Source) })
	clean := func(m CordMeasure) bool { return clear(m.Name, m.Of, m.Source) }
	out.Ranked, out.Loose = kept(s.Ranked, clean), kept(s.Loose, clean)
	out.Notices = kept(s.Notices, func(n Statement) bool { return clear(n.Words, n.Source) })
	if t := out.Tolerance; t != nil && !clear(t.Words, t.Source) {
		out.Tolerance = nil
	}
	if l := out.Shares; l != nil && !clear(l.Words, l.Source) {
		out.Shares = nil
	}
	if m := out.Moisture; m != nil {
		clean := *m
		clean.Limits = kept(m.Limits, func(l MoistureLimit) bool { return clear(l.Only, l.Method, l.Whose, l.Reading, l.Source) })
		if out.Moisture = &clean; !clear(m.Words, m.Source) {
			out.Moisture = nil
		}
	}
	if t := out.Tax; t != nil && !clear(t.Words, t.Source) {
		out.Tax = nil
	}
	if p := out.Pieces; p != nil && !clear(p.Words, p.Source) {
		out.Pieces = nil
	}
	if l := out.Label; l != nil && !clear(l.Words, l.Source) {
		out.Label = nil
	}
	if l := out.Lots; l != nil && !clear(l.Name, l.Words, l.Source) {
		out.Lots = nil
	}
	if d := out.Seasoned; d != nil && !clear(d.Words, d.Source) {
		out.Seasoned = nil
	}
	out.Moving = kept(s.Moving, func(m Moving) bool { return clear(m.Words, m.Whom, m.Source) })
	out.Printed = kept(s.Printed, func(p Printed) bool { return clear(p.Words, p.Source) })
	out.Gaps = kept(s.Gaps, func(gap string) bool { return clear(gap) })
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
