package receipts

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// A trueType is a TrueType font taken apart as far as cutting a subset needs, after
// the OpenType specification (1.9, chapters "glyf", "loca", "hmtx", "cmap").
type trueType struct {
	tables map[string][]byte
	em     int // units of the em square
	long   bool
	glyphs int
	full   int // glyphs with an advance width of their own
}

var errFont = errors.New("the font's tables can't be read")

func parseTrueType(file []byte) (t trueType, err error) {
	// A table that is shorter than its header says would index past its end.
	defer func() {
		if recover() != nil {
			err = errFont
		}
	}()
	t.tables = map[string][]byte{}
	for n := range int(be16(file, 4)) {
		entry := file[12+16*n:]
		from, size := be32(entry, 8), be32(entry, 12)
		t.tables[string(entry[:4])] = file[from : from+size]
	}
	for _, name := range []string{"head", "hhea", "maxp", "hmtx", "loca", "glyf"} {
		if t.tables[name] == nil {
			return t, fmt.Errorf("%w: it lacks %q", errFont, name)
		}
	}
	t.em = int(be16(t.tables["head"], 18))
	t.long = be16(t.tables["head"], 50) == 1
	t.glyphs = int(be16(t.tables["maxp"], 4))
	t.full = int(be16(t.tables["hhea"], 34))
	return t, nil
}

func be16(b []byte, at int) uint16 { return binary.BigEndian.Uint16(b[at:]) }
func be32(b []byte, at int) uint32 { return binary.BigEndian.Uint32(b[at:]) }

// advance is a glyph's advance width in units of the em square.
func (t trueType) advance(glyph uint16) uint16 {
	return be16(t.tables["hmtx"], 4*min(int(glyph), t.full-1))
}

// outline is what the glyf table holds of a glyph; none for a blank.
func (t trueType) outline(glyph uint16) []byte {
	loca := t.tables["loca"]
	at := func(n int) uint32 {
		if t.long {
			return be32(loca, 4*n)
		}
		return 2 * uint32(be16(loca, 2*n))
	}
	return t.tables["glyf"][at(int(glyph)):at(int(glyph)+1)]
}

// Flags of a composite glyph's components.
const (
	wordArguments   = 0x0001
	oneScale        = 0x0008
	moreComponents  = 0x0020
	twoScales       = 0x0040
	twoByTwo        = 0x0080
	hasInstructions = 0x0100
)

// components calls visit with the place of each component's glyph number in a
// composite outline, and returns where the components end; 0 for a simple one.
func components(outline []byte, visit func(at int)) int {
	if len(outline) == 0 || int16(be16(outline, 0)) >= 0 {
		return 0
	}
	at := 10
	for {
		flags := be16(outline, at)
		binary.BigEndian.PutUint16(outline[at:], flags&^hasInstructions)
		visit(at + 2)
		at += 6
		if flags&wordArguments != 0 {
			at += 2
		}
		switch {
		case flags&oneScale != 0:
			at += 2
		case flags&twoScales != 0:
			at += 4
		case flags&twoByTwo != 0:
			at += 8
		}
		if flags&moreComponents == 0 {
			return at
		}
	}
}

// bare is an outline without its instructions, which paper has no use for.
func bare(outline []byte) []byte {
	if len(outline) == 0 {
		return nil
	}
	out := slices.Clone(outline)
	if end := components(out, func(int) {}); end > 0 {
		return out[:end]
	}
	hints := 10 + 2*int(be16(out, 0))
	size := int(be16(out, hints))
	binary.BigEndian.PutUint16(out[hints:], 0)
	return slices.Delete(out, hints+2, hints+2+size)
}

// cut makes a font file of the glyphs that runes stand for, in their order behind
// the glyph for what is missing, without hinting.
func (t trueType) cut(runes []rune, glyphOf func(rune) uint16) (file []byte, err error) {
	defer func() {
		if recover() != nil {
			err = errFont
		}
	}()
	kept := []uint16{0}
	for _, r := range runes {
		kept = append(kept, glyphOf(r))
	}
	var glyf, loca, hmtx []byte
	for n := 0; n < len(kept); n++ { // components that are met are kept behind the rest
		outline := bare(t.outline(kept[n]))
		components(outline, func(at int) {
			part := be16(outline, at)
			place := slices.Index(kept, part)
			if place < 0 {
				place, kept = len(kept), append(kept, part)
			}
			binary.BigEndian.PutUint16(outline[at:], uint16(place))
		})
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		glyf = padded(append(glyf, outline...))
		hmtx = binary.BigEndian.AppendUint16(hmtx, t.advance(kept[n]))
		hmtx = binary.BigEndian.AppendUint16(hmtx, t.bearing(kept[n]))
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	return assemble(map[string][]byte{
		"cmap": characterMap(runes), "glyf": glyf, "loca": loca, "hmtx": hmtx,
		"head": t.patched("head", 50, 1), "hhea": t.patched("hhea", 34, uint16(len(kept))),
		"maxp": t.patched("maxp", 4, uint16(len(kept))), "post": namelessPost(),
	}), nil
}

// bearing is a glyph's left side bearing.
func (t trueType) bearing(glyph uint16) uint16 {
	hmtx := t.tables["hmtx"]
	if int(glyph) < t.full {
		return be16(hmtx, 4*int(glyph)+2)
	}
	return be16(hmtx, 4*t.full+2*(int(glyph)-t.full))
}

// patched is a copy of a table with one number changed.
func (t trueType) patched(name string, at int, value uint16) []byte {
	out := slices.Clone(t.tables[name])
	binary.BigEndian.PutUint16(out[at:], value)
	return out
}

// namelessPost is a post table (version 3) that gives no glyph a name.
func namelessPost() []byte { return append([]byte{0, 3, 0, 0}, make([]byte, 28)...) }

// characterMap is a cmap table (Windows, Unicode, format 4) that gives the rune at
// place n the glyph n+1; one segment for each rune.
func characterMap(runes []rune) []byte {
	order := make([]int, len(runes))
	for n := range order {
		order[n] = n
	}
	slices.SortFunc(order, func(a, b int) int { return int(runes[a] - runes[b]) })
	var ends, starts, deltas, offsets []byte
	add := func(r, delta uint16) {
		ends = binary.BigEndian.AppendUint16(ends, r)
		starts = binary.BigEndian.AppendUint16(starts, r)
		deltas = binary.BigEndian.AppendUint16(deltas, delta)
		offsets = binary.BigEndian.AppendUint16(offsets, 0)
	}
	for _, n := range order {
		add(uint16(runes[n]), uint16(n+1)-uint16(runes[n]))
	}
	add(0xFFFF, 1) // the segment that ends every format 4 table
	segments := len(runes) + 1
	head := []uint16{0, 1, 3, 1, 0, 12, 4, uint16(16 + 8*segments), 0}
	head = append(head, searchHead(segments, 2)...)
	var out []byte
	for _, v := range head {
		out = binary.BigEndian.AppendUint16(out, v)
	}
	return slices.Concat(out, ends, []byte{0, 0}, starts, deltas, offsets)
}

// searchHead is the count, range, selector and shift that font files put before
// tables to be searched by halves, for n entries of size bytes. A segment count is
// stored doubled, as its size tells.
func searchHead(n, size int) []uint16 {
	power, selector := 1, 0
	for power*2 <= n {
		power, selector = power*2, selector+1
	}
	count := n
	if size == 2 {
		count = 2 * n
	}
	return []uint16{uint16(count), uint16(power * size), uint16(selector), uint16((n - power) * size)}
}

func padded(b []byte) []byte {
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	return b
}

// assemble puts tables together to a font file.
func assemble(tables map[string][]byte) []byte {
	names := make([]string, 0, len(tables))
	for name := range tables {
		names = append(names, name)
	}
	slices.Sort(names)
	out := []byte{0, 1, 0, 0}
	for _, v := range searchHead(len(names), 16) {
		out = binary.BigEndian.AppendUint16(out, v)
	}
	var body []byte
	for _, name := range names {
		table := tables[name]
		out = append(out, name...)
		out = binary.BigEndian.AppendUint32(out, checksum(table))
		out = binary.BigEndian.AppendUint32(out, uint32(12+16*len(names)+len(body)))
		out = binary.BigEndian.AppendUint32(out, uint32(len(table)))
		body = padded(append(body, table...))
	}
	return append(out, body...)
}

func checksum(table []byte) (sum uint32) {
	whole := padded(slices.Clone(table))
	for at := 0; at < len(whole); at += 4 {
		sum += be32(whole, at)
	}
	return sum
}
