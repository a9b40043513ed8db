package measure

import "strings"

// A plain is a length in figures as most are typed: "99.5 in", "15 1/2 in", "8 ft 6 in",
// "2.51 m". It is read in whole numbers, at a small part of what the whole grammar costs;
// whatever else there is, and whatever may be meant in two ways, is left to that.
type plain struct {
	text string
	at   int
}

// plainLength reads a length, a bare number in bare unless that is 0; false where it is
// no plain one. It gives what the whole grammar gives.
func plainLength(s string, bare Length, points bool) (Length, bool) {
	p := plain{text: s}
	n, ok := p.number(points)
	if !ok {
		return 0, false
	}
	if p.at == len(s) && bare != 0 {
		return n.of(bare), true
	}
	unit := p.unit()
	switch {
	case unit == 0:
		return 0, false
	case p.at == len(s):
		return n.of(unit), true
	case unit != Foot || n.parts != 1:
		return 0, false
	}
	p.space()
	more, ok := p.number(points)
	if !ok || p.unit() != Inch || p.at < len(s) || more.whole >= 12 {
		return 0, false
	}
	return n.of(Foot) + more.of(Inch), true
}

// PlainNumber tells whether s is a number in figures without a unit, as most bare numbers
// are typed; false says nothing.
func PlainNumber(s string) bool {
	p := plain{text: s}
	_, ok := p.number(false)
	return ok && p.at == len(s)
}

// A plainNumber is whole + part/parts, ≥ 0.
type plainNumber struct{ whole, part, parts int64 }

// of is the number times a unit, rounded once, halves to even.
func (n plainNumber) of(unit Length) Length {
	total := n.whole*int64(unit) + n.part*int64(unit)/n.parts
	switch rest := 2 * (n.part * int64(unit) % n.parts); {
	case rest > n.parts, rest == n.parts && total%2 == 1:
		total++
	}
	return Length(total)
}

// number reads "16", "15.5", "15 1/2" or "1/2", of so few figures that it can be
// multiplied with any unit.
func (p *plain) number(points bool) (n plainNumber, ok bool) {
	const mostWhole, mostParts = 6, 3
	n.parts = 1
	if n.whole, ok = p.figures(mostWhole); !ok {
		return n, false
	}
	switch start := p.at; p.peek() {
	case '.':
		p.at++
		n.part, ok = p.figures(mostWhole)
		for range p.at - start - 1 {
			n.parts *= 10
		}
		return n, ok && !(points && p.at-start-1 == 3) && p.peek() != '.'
	case '/':
		p.at++
		n.part, n.whole = n.whole, 0
		n.parts, ok = p.figures(mostParts)
		return n, ok && n.part < n.parts
	case ' ':
		p.at++
		part, more := p.figures(mostParts)
		if !more || p.peek() != '/' {
			p.at = start
			return n, true
		}
		p.at++
		n.part = part
		n.parts, ok = p.figures(mostParts)
		return n, ok && n.part < n.parts
	}
	return n, true
}

// figures reads at most so many digits; false where there is none, or there are more.
func (p *plain) figures(most int) (n int64, ok bool) {
	start := p.at
	for ; p.at < len(p.text) && digit(rune(p.text[p.at])); p.at++ {
		if p.at-start == most {
			return 0, false
		}
		n = n*10 + int64(p.text[p.at]-'0')
	}
	return n, p.at > start
}

// unit reads a unit's short name, 0 where there is none.
func (p *plain) unit() Length {
	p.space()
	for _, u := range [...]struct {
		name string
		unit Length
	}{{"in", Inch}, {"ft", Foot}, {`"`, Inch}, {"'", Foot}, {"cm", Centimetre}, {"mm", Millimetre}, {"m", Metre}} {
		if strings.HasPrefix(p.text[p.at:], u.name) {
			p.at += len(u.name)
			return u.unit
		}
	}
	return 0
}

func (p *plain) space() {
	if p.peek() == ' ' {
		p.at++
	}
}

// peek is the next byte, 0 at the end.
func (p *plain) peek() byte {
	if p.at == len(p.text) {
		return 0
	}
	return p.text[p.at]
}
