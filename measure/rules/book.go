package rules

import (
	"fmt"
	"slices"
	"strings"
)

// A Book is the rule sets a program goes by: those built in and the shop's own. It
// is never changed; the zero Book has no sets.
type Book struct{ sets []Set }

// All gives every set, in the order of their codes.
func (b Book) All() []Set { return slices.Clone(b.sets) }

// Get gives the set of a code; the error lists the codes there are.
func (b Book) Get(code string) (Set, error) {
	var codes []string
	for _, s := range b.sets {
		if s.Code == code {
			return s, nil
		}
		codes = append(codes, s.Code)
	}
	return Set{}, fmt.Errorf("read “%s”: that rule set isn’t here; accepted: %s", code, strings.Join(codes, ", "))
}

// With reads a shop's own file and gives the book with its set: in place of the set
// of its code, or beside the others. A file that extends a set has all of it, save
// what it says itself; the error is a *FileError.
func (b Book) With(file []byte) (Book, error) {
	s, err := Parse(file)
	if err != nil {
		return Book{}, err
	}
	if s.Extends != "" {
		base, err := b.Get(s.Extends)
		if err != nil {
			return Book{}, &FileError{lineOfField(file, "extends"), "extends: " + err.Error()}
		}
		if s, err = s.over(base, file); err != nil {
			return Book{}, err
		}
	}
	if s, err = s.withNation(); err != nil {
		return Book{}, err
	}
	sets := slices.DeleteFunc(b.All(), func(old Set) bool { return old.Code == s.Code })
	sets = append(sets, s)
	slices.SortFunc(sets, func(a, b Set) int { return strings.Compare(a.Code, b.Code) })
	return Book{sets}, nil
}

// over adds what s says to what a base says: an item takes the place of the base's
// item of the same name, or stands after the others. Both together have to hold; the
// error names the line of the file's own part.
func (s Set) over(base Set, text []byte) (Set, error) {
	s.Units = joined(base.Units, s.Units, func(u Unit) string { return u.Name + string(u.Basis) })
	s.overTerms(base)
	s.Required = joined(base.Required, s.Required, func(f Field) string { return f.Code })
	s.Ranked = joined(base.Ranked, s.Ranked, CordMeasure.wood)
	s.Loose = joined(base.Loose, s.Loose, CordMeasure.wood)
	s.Notices = joined(base.Notices, s.Notices, func(n Statement) string { return n.Words })
	s.Gaps = joined(base.Gaps, s.Gaps, func(gap string) string { return gap })
	s.Pieces, s.Seasoned, s.Label = either(s.Pieces, base.Pieces), either(s.Seasoned, base.Seasoned), either(s.Label, base.Label)
	s.Lots = either(s.Lots, base.Lots)
	s.Moving = movings(base.Moving, s.Moving)
	s.Printed = joined(base.Printed, s.Printed, func(p Printed) string { return p.Words })
	s.Reading = either(s.Reading, base.Reading)
	s.Tolerance = either(s.Tolerance, base.Tolerance)
	s.Shares = either(s.Shares, base.Shares)
	s.Moisture = either(s.Moisture, base.Moisture)
	s.Retention = either(s.Retention, base.Retention)
	s.Tax = either(s.Tax, base.Tax)
	whole := s
	whole.Extends = ""
	return s, linesOf(text).check(whole)
}

// overTerms puts the base's terms before the set's own, but for those the set has in any
// of its lists.
func (s *Set) overTerms(base Set) {
	own := slices.Concat(s.Barred, s.Undefined, s.Defined)
	over := func(base, mine []Term) []Term {
		inherited := kept(base, func(t Term) bool {
			return !slices.ContainsFunc(own, func(o Term) bool { return o.Name == t.Name })
		})
		return append(inherited, mine...)
	}
	s.Barred, s.Undefined, s.Defined = over(base.Barred, s.Barred), over(base.Undefined, s.Undefined), over(base.Defined, s.Defined)
}

// wood tells which wood a measure is of.
func (m CordMeasure) wood() string {
	return m.Name + m.Of + string(m.Preparation) + m.PieceFrom.String()
}

func joined[T any](base, own []T, key func(T) string) []T {
	all := slices.Clone(base)
	for _, item := range own {
		same := func(old T) bool { return key(old) == key(item) }
		if i := slices.IndexFunc(all, same); i >= 0 {
			all[i] = item
			continue
		}
		all = append(all, item)
	}
	return all
}

func either[T any](own, base *T) *T {
	if own != nil {
		return own
	}
	return base
}

// lineOfField is the line of a field at the top of a file that was parsed.
func lineOfField(text []byte, name string) int { return linesOf(text).lineOf(name) }

// linesOf finds the lines of a file that was parsed.
func linesOf(text []byte) *file {
	f := &file{text: text, lines: map[string]int{}, values: map[string]int{}}
	_ = f.walk() // it was walked once without a fault
	return f
}
