package web

import (
	"fmt"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/forms"
	"wellstowed/web/form"
)

// A section is one group of a kind's form.
type section struct {
	ID, Title string
	Fold      bool
	Open      bool
	hangs
	Blocks []formBlock
}

// A formBlock is one thing on a kind's form: a reading, a choice, a list of readings
// or a list of parts.
type formBlock struct {
	Type string // "reading", "choice", "check", "cells" or "parts"
	field
	hangs
	Choices []choice
	Cells   []field
	Parts   []formPart
	More    string // what the button that makes more room sends; empty where there is none
	MoreFor string
	Back    string // where the page comes back to
	OneMore string // what the button says that counts one more by script; empty where there is none
}

type formPart struct {
	Legend string
	Blocks []formBlock
}

// hangs is what a part of the form depends on: a choice, or the way of a set; in plain
// words where scripts are off.
type hangs struct{ Only, When, Is, Set, Ways string }

// Sections are the groups of the stack itself.
func (p measurePage) Sections() []section {
	var list []section
	shown := map[string]bool{} // sets whose ways have been asked for
	for i, g := range p.K.Groups() {
		if fields := only(g.Fields, func(f forms.Field) bool { return !form.OfTally(f) }); len(fields) > 0 {
			s := p.section(fmt.Sprintf("group-%d", i+1), g.Title, fields, shown)
			s.Fold = optionalPart(fields[0].Path)
			list = append(list, s)
		}
	}
	return list
}

// ReadingBlocks are the fields of how it was read, which every kind has.
func (p measurePage) ReadingBlocks() []formBlock {
	return p.tallyBlocks("tape", "rounded", "tape_made", "top", "stowed", "gaps.count", "gaps.pieces", "raised", "by", "look")
}

// HabitBlocks are how the tape is read, and what it is made of.
func (p measurePage) HabitBlocks() []formBlock { return p.tallyBlocks("rounded", "tape_made") }

// StowingBlocks are how closely the stowing was looked at.
func (p measurePage) StowingBlocks() []formBlock {
	return p.tallyBlocks("stowed", "gaps.count", "gaps.pieces")
}

// StackedBlocks ask whether the wood was stacked again since the check before; none where
// there was none.
func (p measurePage) StackedBlocks() []formBlock {
	if p.Checks == 0 || p.Owed != nil {
		return nil
	}
	return p.tallyBlocks("stacked", "stacked_by")
}

// DryingBlocks are the fields that a drying allowance needs.
func (p measurePage) DryingBlocks() []formBlock {
	return p.tallyBlocks("condition", "sold_condition", "moisture.percent", "moisture.basis", "moisture.pieces", "moisture.method",
		"shrinkage.percent", "shrinkage.basic_gravity")
}

// WindowBlocks are the part of the face in which pieces were counted.
func (p measurePage) WindowBlocks() []formBlock {
	return p.tallyBlocks("stack.window.width", "stack.window.height", "stack.window.pieces")
}

// RowBlocks are what a row may have besides its heights and ends, from 0.
func (p measurePage) RowBlocks(row int) []formBlock {
	return p.rowBlocks(row, "stack.rows[].lengths[]", "stack.rows[].back[]", "stack.rows[].slope.heights", "stack.rows[].slope.rise",
		"stack.rows[].slope.run", "stack.rows[].slope.degrees")
}

func (p measurePage) rowBlocks(row int, paths ...string) []formBlock {
	var fields []forms.Field
	for _, path := range paths {
		f, found := p.K.Field(path)
		if found {
			fields = append(fields, f)
		}
	}
	return p.blocks(p.K.Blocks(fields, fmt.Sprintf("stack.rows[%d]", row)), map[string]bool{"slope": true}, hangs{})
}

// Typed tells whether anything was typed in some blocks, or is wrong there.
func (p measurePage) Typed(blocks []formBlock) bool { return p.typedIn(blocks) }

// tallyBlocks are fields of the tally; an order says itself which look it is, and a
// buyer's case that the buyer reads.
func (p measurePage) tallyBlocks(paths ...string) []formBlock {
	var fields []forms.Field
	shown := map[string]bool{} // no way of the stack is asked for here
	for _, path := range paths {
		f, found := p.K.Field(path)
		if found && !(p.Keeps() && path == "look") && !(p.ByBuyer() && path == "by") {
			fields = append(fields, f)
			shown[f.Either] = true
		}
	}
	return p.blocks(p.K.Blocks(fields, ""), shown, hangs{})
}

func only(fields []forms.Field, keep func(forms.Field) bool) []forms.Field {
	var kept []forms.Field
	for _, f := range fields {
		if keep(f) {
			kept = append(kept, f)
		}
	}
	return kept
}

// optionalPart tells whether a field belongs to a part that most stacks lack.
func optionalPart(path string) bool {
	return strings.HasPrefix(path, "stack.wells") || strings.HasPrefix(path, "stack.crown") || strings.HasPrefix(path, "stack.window")
}

func (p measurePage) section(id string, title measure.Text, fields []forms.Field, shown map[string]bool) section {
	all := make([]*forms.Field, len(fields))
	for i := range fields {
		all[i] = &fields[i]
	}
	when, either := form.Common(all)
	s := section{ID: id, Title: p.Print.Say(title), hangs: p.hangsOn(when, either)}
	s.Blocks = p.blocks(p.K.Blocks(fields, ""), shown, s.hangs)
	s.Open = p.typedIn(s.Blocks)
	return s
}

// typedIn tells whether anything was typed in some blocks, or is wrong there.
func (p measurePage) typedIn(blocks []formBlock) bool {
	return slices.ContainsFunc(blocks, func(b formBlock) bool {
		some := func(f field) bool { return f.Value != "" || f.Wrong != "" }
		return some(b.field) || slices.ContainsFunc(b.Cells, some) ||
			slices.ContainsFunc(b.Choices, func(c choice) bool { return c.On && c.Value != "" }) ||
			slices.ContainsFunc(b.Parts, func(part formPart) bool { return p.typedIn(part.Blocks) })
	})
}

// hangsOn words what fields depend on; a set whose ways are not chosen between hides
// nothing.
func (p measurePage) hangsOn(when forms.When, either *forms.Field) hangs {
	var h hangs
	if when.Path != "" {
		f, _ := p.K.Field(when.Path)
		var labels, values []string
		for _, is := range when.Is {
			values = append(values, string(is))
			for _, o := range f.Options {
				if o.Value == is {
					labels = append(labels, p.Print.Say(o.Label))
				}
			}
		}
		h.When, h.Is = when.Path, strings.Join(values, "|")
		h.Only = p.T("Only for: %s.", strings.Join(labels, ", "))
	}
	if either == nil || !p.K.Chosen(either.Either) {
		return h
	}
	all := p.K.Ways(either.Either)
	if len(either.Ways) == len(all) {
		return h
	}
	h.Set, h.Ways = "way."+either.Either, strings.Join(either.Ways, "|")
	others := slices.DeleteFunc(slices.Clone(all), func(way string) bool { return slices.Contains(either.Ways, way) })
	if len(others) < len(either.Ways) {
		h.Only = p.T("Not for: %s.", p.wayNames(others))
	} else {
		h.Only = p.T("Only for: %s.", p.wayNames(either.Ways))
	}
	return h
}

func (p measurePage) wayNames(ways []string) string {
	names := make([]string, len(ways))
	for i, way := range ways {
		names[i] = p.wayName(way)
	}
	return strings.Join(names, "; ")
}

// wayName words one way of saying a thing.
func (p measurePage) wayName(way string) string {
	switch way {
	case "heights":
		return p.T("heights read from the floor")
	case "grid":
		return p.T("heights read over the whole load, line by line")
	case "line":
		return p.T("filled to a line, and the volume up to it is known")
	case "line of a taped box":
		return p.T("filled to a line, and the bed up to it is taped here")
	}
	return p.T(way)
}

// blocks words the blocks of a form. What the group as a whole depends on is not said
// again.
func (p measurePage) blocks(blocks []form.Block, shown map[string]bool, group hangs) []formBlock {
	var list []formBlock
	for _, b := range blocks {
		if set := b.Either; set != "" && p.K.Chosen(set) && !shown[set] {
			shown[set] = true
			list = append(list, p.ways(set))
		}
		list = append(list, p.block(b, shown, group))
	}
	return list
}

// ways asks which way of a set is taken.
func (p measurePage) ways(set string) formBlock {
	b := formBlock{Type: "choice", field: p.Field("way."+set, "")}
	b.Label, b.Hint = p.T("How is it known how high it is filled?"), ""
	now := p.K.Way(set, "")
	for _, way := range p.K.Ways(set) {
		b.Choices = append(b.Choices, choice{way, upperFirst(p.wayName(way)), way == now})
	}
	return b
}

func (p measurePage) block(b form.Block, shown map[string]bool, group hangs) formBlock {
	var either *forms.Field
	if b.Either != "" {
		either = &forms.Field{Either: b.Either, Ways: b.Ways}
	}
	out := formBlock{hangs: p.hangsOn(b.When, either)}
	if out.hangs == group {
		out.hangs = hangs{}
	}
	out.field = p.Field(b.Path, b.Value)
	out.Back = p.Action + "#" + b.Path
	if b.List && b.Grow > 0 {
		out.More, out.MoreFor = "more "+b.Path, p.moreFor(b)
	}
	switch {
	case b.Field == nil:
		p.parts(&out, b, shown, group)
	case b.List:
		out.Type, out.Label, out.Hint = "cells", p.Print.Say(b.Field.Label), p.told(b.Field)
		for i, cell := range b.Cells {
			out.Cells = append(out.Cells, p.Reading(cell.Value, "%s", cell.Path).Cell(p.Digits(i+1)))
		}
	default:
		p.single(&out, b)
	}
	return out
}

func (p measurePage) parts(out *formBlock, b form.Block, shown map[string]bool, group hangs) {
	out.Type = "parts"
	for i, blocks := range b.Parts {
		part := formPart{Legend: p.label(fmt.Sprintf("%s[%d]", b.Path, i))}
		if len(blocks) == 1 && blocks[0].Path == fmt.Sprintf("%s[%d]", b.Path, i) { // a line of readings
			part.Blocks = []formBlock{p.block(blocks[0], shown, group)}
			part.Blocks[0].Label, part.Legend = part.Legend, ""
		} else {
			part.Blocks = p.blocks(blocks, shown, out.hangs)
		}
		for j := range part.Blocks {
			if part.Blocks[j].hangs == group {
				part.Blocks[j].hangs = hangs{}
			}
		}
		out.Parts = append(out.Parts, part)
	}
}

// moreFor names the button that makes more room in a list by what it adds.
func (p measurePage) moreFor(b form.Block) string {
	n := len(b.Cells) + len(b.Parts)
	first := lowerFirst(p.label(fmt.Sprintf("%s[%d]", b.Path, n)))
	switch b.Grow {
	case 1:
		return p.T("Add %s", first)
	case 2:
		return p.T("Add %s and %d", first, n+2)
	}
	return p.T("Add %s to %d", first, n+b.Grow)
}

func lowerFirst(text string) string {
	for i, r := range text {
		return strings.ToLower(string(r)) + text[i+len(string(r)):]
	}
	return ""
}

// single is one reading or one choice.
func (p measurePage) single(out *formBlock, b form.Block) {
	f := b.Field
	if !strings.Contains(b.Path, "[") && p.K.Single(f.Label) {
		out.Label = p.Print.Say(f.Label)
	}
	out.Type, out.Hint = "reading", p.told(f)
	switch f.Type {
	case forms.LengthField:
		out.field = p.length(out.field)
	case forms.NumberField:
		out.Mode = "decimal"
	case forms.CountField:
		out.Mode = "numeric"
		if b.Path == "gaps.count" {
			out.OneMore = p.T("+1 gap")
		}
	case forms.DateField:
		out.Kind = "date"
	case forms.ChoiceField:
		out.Type, out.Label, out.Choices = "choice", p.Print.Say(f.Label), p.options(b)
		if len(f.Options) == 1 {
			out.Type = "check"
			out.Choices[0].Label = p.T("%s: %s", out.Label, lowerFirst(out.Choices[0].Label))
		}
		out.Value = ""
	}
}

// options are the words of a choice. Where nothing has to be chosen, one more takes
// the choice back.
func (p measurePage) options(b form.Block) []choice {
	var list []choice
	optional := !b.Field.Required || strings.Count(b.Path, ".") != 1 || form.OfTally(*b.Field)
	if optional && len(b.Field.Options) > 1 && b.Path != "top" {
		open := p.T("Not said")
		if b.Path == "stowed" {
			open = p.T("Not looked at")
		}
		list = append(list, choice{"", open, b.Value == ""})
	}
	for _, o := range b.Field.Options {
		if label := p.Print.Say(o.Label); !optional || label != p.T("Not said") {
			list = append(list, choice{string(o.Value), label, b.Value == string(o.Value)})
		}
	}
	return list
}

// told is the hint of a field: what is said of it, an example, and what has to be empty for it to count.
func (p measurePage) told(f *forms.Field) string {
	var parts []string
	if f.Hint.Key != "" {
		parts = append(parts, p.Print.Say(f.Hint))
	}
	switch f.Type {
	case forms.VolumeField, forms.QuantityField, forms.NumberField, forms.TextField:
		parts = append(parts, p.T("Such as %s.", p.example(f)))
	}
	if ways := p.K.Ways(f.Either); f.Either != "" && !p.K.Chosen(f.Either) && f.Ways[0] != ways[0] {
		parts = append(parts, p.T("Counts only where nothing is typed under the one above."))
	}
	return strings.Join(parts, " ")
}

func (p measurePage) example(f *forms.Field) string {
	if f.Type == forms.VolumeField && p.K.Unit == form.Centimetres {
		return "1.8 m3"
	}
	return string(f.Example)
}

// nameFaults gives the faults of a declared form the labels that their fields have.
func (p measurePage) nameFaults() {
	for i := range p.Faults {
		fault := &p.Faults[i]
		if at := strings.TrimPrefix(fault.Link, "#"); p.declares(at) {
			fault.Label = p.labelAt(at)
		}
	}
}

// declares tells whether the page labels a field as its kind declares it.
func (p measurePage) declares(path string) bool {
	f, found := p.K.Field(path)
	return found && p.Kind != rowsKind && p.K.Single(f.Label)
}

// labelAt is the label that the field at a path has on this page.
func (p measurePage) labelAt(path string) string {
	if !p.declares(path) {
		return p.label(path)
	}
	f, _ := p.K.Field(path)
	return p.Print.Say(f.Label)
}
