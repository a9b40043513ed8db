package forms

import (
	"wellstowed/measure"
	"wellstowed/measure/face"
	"wellstowed/measure/stack"
)

func rowsForm() Form {
	row := Repeat{1, stack.MaxRows}
	heights, ends, voids := Repeat{1, stack.MaxStations}, Repeat{0, 2}, Repeat{0, stack.MaxVoids}
	const end, slope = "stack.rows[].ends[]", "stack.rows[].slope"
	fields := []Field{
		lengthOf("stack.rows[].length", "8 ft", "Row length").must().times(row),
		lengthOf("stack.rows[].lengths[]", "8 ft", "The same length at other heights, from the ground up").times(row, Repeat{0, stack.MaxLengths}),
		lengthOf("stack.rows[].heights[]", "48 in", "Heights, from one end to the other").must().times(row, heights),
		lengthOf("stack.rows[].back[]", "47 in", "Heights of the back face, at the same places").times(row, Repeat{0, stack.MaxStations}),
		lengthOf("stack.rows[].positions[]", "4 ft", "Where they were read").times(row, Repeat{0, stack.MaxStations}),
		chosenFrom(end+".kind", "End", string(stack.Upright), "Upright", string(stack.Shouldered), "Shouldered", string(stack.Tapered), "Tapered", string(stack.Cribbed), "Cribbed",
			string(stack.EndNotSaid), "Not said").must().times(row, ends),
		lengthOf(end+".over", "10 in", "Runs over").must().times(row, ends).when(end+".kind", stack.Reading(stack.Shouldered), stack.Reading(stack.Tapered), stack.Reading(stack.Cribbed)),
		lengthOf(end+".drop", "8 in", "Drops").must().times(row, ends).when(end+".kind", stack.Reading(stack.Shouldered)),
		Field{Path: end + ".share", Label: measure.Say("Share of the crib that is wood"), Type: NumberField, Example: "0.75"}.
			times(row, ends).when(end+".kind", stack.Reading(stack.Cribbed)),
		lengthOf("stack.rows[].voids[].width", "12 in", "Gap that takes a piece: width").must().times(row, voids),
		lengthOf("stack.rows[].voids[].height", "6 in", "Its height").must().times(row, voids),
		chosenFrom(slope+".heights", "On a slope, heights were held", string(stack.Vertical), "Vertical", string(stack.Perpendicular), "Perpendicular to the slope").must().times(row),
		lengthOf(slope+".rise", "1 ft", "The ground rises").times(row).when(slope+".heights", stack.Reading(stack.Vertical)).either("slope", "rise"),
		lengthOf(slope+".run", "8 ft", "In a level length of").times(row).when(slope+".heights", stack.Reading(stack.Vertical)).either("slope", "rise"),
		Field{Path: slope + ".degrees", Label: measure.Say("Slope in degrees"), Type: NumberField, Example: "7"}.
			times(row).when(slope+".heights", stack.Reading(stack.Vertical)).either("slope", "degrees"),
	}
	return Form{Title: measure.Say("Ranked rows"), Groups: []Group{
		{Title: measure.Say("The rows"), Fields: fields},
		{Title: measure.Say("The pieces"), Fields: append(pieceFields("stack", "pieces"), pieceFields("stack.rows[]", "pieces of the row", row)...)},
		{Title: measure.Say("Pieces counted"), Fields: windowFields(When{})},
	}}
}

// photoFields are the face of a row read from one photo, in place of its length, heights
// and all else that a tape reads of it. No form asks for them: they are tapped in a picture.
func photoFields() []Field {
	row := Repeat{1, stack.MaxRows}
	const photo, refs = "stack.rows[].photo", "stack.rows[].photo.references[]"
	refTimes, two := Repeat{face.MinReferences, face.MaxReferences}, Repeat{2, 2}
	outline, voids, gap := Repeat{face.MinOutline, face.MaxOutline}, Repeat{0, face.MaxVoids}, Repeat{face.MinOutline, face.MaxVoidPoints}
	pixels := func(path, label string) Field {
		return Field{Path: path, Label: measure.Say(label), Type: NumberField, Example: "412"}
	}
	count := func(path, label string, example stack.Reading) Field {
		return Field{Path: path, Label: measure.Say(label), Type: CountField, Example: example}
	}
	return []Field{
		count(photo+".width", "Width of the picture in pixels", "4000").must().times(row),
		count(photo+".height", "Its height in pixels", "3000").must().times(row),
		pixels(refs+".pixel[]", "A reference in the picture: pixels from the left and from the top").must().times(row, refTimes, two),
		lengthOf(refs+".at[]", "60 in", "Where it is: along the row from its left end, and up").must().times(row, refTimes, two),
		pixels(photo+".outline[][]", "The outline of the wood, point by point").must().times(row, outline, two),
		pixels(photo+".voids[][][]", "Outlines of gaps that take a piece").times(row, voids, gap, two),
		lengthOf(photo+".proud", "1 in", "How much nearer the references stand than the face").times(row),
		lengthOf(photo+".distance", "12 ft", "How far away the photo was taken").must().times(row),
		Field{Path: photo + ".zoom", Label: measure.Say("How many times it was enlarged to be tapped"), Type: NumberField, Example: "4"}.times(row),
		textOf(photo+".sha256", TextField, "c0ffee…", "SHA-256 of the picture’s bytes, in hexadecimal").times(row),
		chosenFrom(photo+".plumb", "How the sticks were set", string(face.PlumbByEye), "By eye", string(face.PlumbLevel), "With a level").times(row),
	}
}

// boxFields are the inside of a box at path and the heights it is filled to.
func boxFields(path string) []Field {
	return []Field{
		lengthOf(path+".length", "8 ft", "Inside length").must(),
		lengthOf(path+".width", "5 ft", "Inside width").must(),
		lengthOf(path+".heights[]", "20 in", "Heights of the fill, from one end to the other").must().times(Repeat{1, stack.MaxStations}),
		lengthOf(path+".positions[]", "4 ft", "Where they were read").times(Repeat{0, stack.MaxStations}),
	}
}

func wellFields(path string) []Field {
	wells := Repeat{0, stack.MaxWells}
	return []Field{
		lengthOf(path+".wells[].length", "30 in", "Wheel well: length").must().times(wells),
		lengthOf(path+".wells[].width", "8 in", "Its width").must().times(wells),
		lengthOf(path+".wells[].height", "10 in", "Its height").must().times(wells),
		Field{Path: path + ".wells[].count", Label: measure.Say("How many of them"), Type: CountField, Example: "2"}.times(wells),
	}
}

// inWays puts fields into the named ways of one set.
func inWays(fields []Field, set string, ways ...string) []Field {
	for i := range fields {
		fields[i] = fields[i].either(set, ways...)
	}
	return fields
}

// The set of ways to say how high a body is filled, and those with heights.
const (
	fillSet     = "fill"
	fillHeights = "heights"
	fillGrid    = "grid"
)

func loadForm() Form {
	const fill, heights, grid, line, box = fillSet, fillHeights, fillGrid, "line", "line of a taped box"
	body := boxFields("stack")
	body[0], body[1] = body[0].either(fill, heights, grid, line), body[1].either(fill, heights, grid, line)
	body[2], body[3] = body[2].either(fill, heights), body[3].either(fill, heights)
	body = append(body, lengthOf("stack.grid[][]", "24 in", "Heights from the floor over the whole load, line by line").
		times(Repeat{stack.MinGridLines, stack.MaxGridLines}, Repeat{stack.MinGridHeights, stack.MaxStations}).either(fill, grid))
	taped := append(boxFields("stack.calibrated.box"), wellFields("stack.calibrated.box")...)
	calibrated := append([]Field{
		textOf("stack.calibrated.volume", VolumeField, "64 cu ft", "Volume up to the line").must().either(fill, line),
		textOf("stack.calibrated.on", DateField, "2026-05-01", "Taped on").must().either(fill, line, box),
		textOf("stack.calibrated.by", TextField, "the owner", "Taped by").must().either(fill, line, box),
		textOf("stack.calibrated.line", TextField, "lower board", "Which line").either(fill, line, box),
	}, inWays(taped, fill, box)...)
	crown := []Field{
		chosenFrom("stack.crown.shape", "Shape above that", string(stack.ShapeNotSaid), "Not said", string(stack.Peak), "A peak", string(stack.Ridge), "A ridge",
			string(stack.Rounded), "Rounded", string(stack.FlatTopped), "Flat on top"),
		lengthOf("stack.crown.crest[]", "10 in", "How high its crest is above the fill").times(Repeat{1, stack.MaxStations}),
	}
	return Form{Title: measure.Say("A load in a bed"), Groups: []Group{
		{Title: measure.Say("The bed"), Fields: append([]Field{chosenFrom("stack.arrangement", "The wood was", stack.Thrown, "Thrown in", string(measure.Ranked), "Ranked").must()}, body...)},
		{Title: measure.Say("Filled to a line"), Fields: calibrated},
		{Title: measure.Say("Wheel wells"), Fields: inWays(wellFields("stack"), fill, heights, grid)},
		{Title: measure.Say("Crown"), Fields: inWays(crown, fill, heights, line, box)},
		{Title: measure.Say("The pieces"), Fields: append([]Field{lieField()}, pieceFields("stack", "pieces")...)},
		{Title: measure.Say("Pieces counted"), Fields: windowFields(When{"stack.arrangement", []stack.Reading{stack.Reading(measure.Ranked)}})},
	}}
}

func binForm() Form {
	fields := append([]Field{chosenFrom("stack.arrangement", "The wood was", string(measure.Ranked), "Ranked", string(measure.Container), "Put in as it fills").must()},
		boxFields("stack")...)
	return Form{Title: measure.Say("A bin or crate"), Groups: []Group{
		{Title: measure.Say("The inside"), Fields: fields},
		{Title: measure.Say("The pieces"), Fields: append([]Field{lieField()}, pieceFields("stack", "pieces")...)},
		{Title: measure.Say("Pieces counted"), Fields: windowFields(When{"stack.arrangement", []stack.Reading{stack.Reading(measure.Ranked)}})},
	}}
}

// lieField asks how ranked pieces lie in a bin or on a truck bed.
func lieField() Field {
	return chosenFrom("stack.lie", "The pieces lie", string(stack.Across), "Across the width", string(stack.Along), "Along the length").
		when("stack.arrangement", stack.Reading(measure.Ranked))
}

func heapForm() Form {
	return Form{Title: measure.Say("Thrown on the ground"), Groups: []Group{
		{Title: measure.Say("Its size"), Fields: []Field{
			chosenFrom("stack.shape", "Shape", string(stack.RoundedHeap), "Rounded", string(stack.RidgeHeap), "A ridge", string(stack.HeapFormNotSaid), "Not said"),
			lengthOf("stack.length", "12 ft", "Length on the ground").must(),
			lengthOf("stack.width", "8 ft", "Width on the ground").must(),
			lengthOf("stack.height", "4 ft", "Height at the top").must(),
		}},
		{Title: measure.Say("The pieces"), Fields: pieceFields("stack", "pieces")},
	}}
}

func roundForm() Form {
	readings := Repeat{1, stack.MaxStations}
	return Form{Title: measure.Say("A round stack"), Groups: []Group{
		{Title: measure.Say("Its size"), Fields: []Field{
			lengthOf("stack.diameters[]", "7 ft", "Diameters, evenly spread").times(readings).either("across", "diameters"),
			lengthOf("stack.circumference", "22 ft", "All the way round").either("across", "round"),
			lengthOf("stack.heights[]", "5 ft", "Heights of the wall").must().times(readings),
			lengthOf("stack.cone", "18 in", "Height of the cone above it"),
		}},
		{Title: measure.Say("The pieces"), Fields: pieceFields("stack", "pieces")},
	}}
}

func packagedForm() Form {
	const method, section, end = "stack.method", "stack.sections[]", "stack.ends[]"
	sections, ends := Repeat{1, stack.MaxSections}, Repeat{2, 2}
	atLeast := func(n int) Repeat { return Repeat{n, stack.MaxPieces} }
	boxed := []Field{
		lengthOf(section+".inside", "24 in", "Height of the box inside").times(sections),
		lengthOf(section+".headspace[]", "1 1/8 in", "From a straightedge on the box down to the wood").times(sections, atLeast(stack.PackHeadspaces)),
		lengthOf(section+".widths[]", "16 in", "Width inside").times(sections, atLeast(stack.PackWidths)),
		lengthOf(section+".pieces[]", "15 3/4 in", "Lengths of the thickest pieces").times(sections, atLeast(stack.PackPieces)),
	}
	for i := range boxed {
		boxed[i] = boxed[i].must().when(method, stack.Reading(stack.Boxed))
	}
	return Form{Title: measure.Say("A package"), Groups: []Group{
		{Title: measure.Say("How it is measured"), Fields: []Field{
			chosenFrom(method, "Method", string(stack.Boxed), "Boxed", string(stack.Crosshatched), "Restacked, for crosshatched wood", string(stack.Bundled), "Bundle or bag").must(),
		}},
		{Title: measure.Say("Boxed"), Fields: boxed},
		{Title: measure.Say("Restacked"), Fields: []Field{
			lengthOf("stack.heights[]", "18 in", "Heights, at equal intervals on both sides").must().times(atLeast(stack.PackHeights)).when(method, stack.Reading(stack.Crosshatched)),
			lengthOf("stack.lengths[]", "24 in", "Lengths of the stack, from its base up").must().times(atLeast(stack.PackLengths)).when(method, stack.Reading(stack.Crosshatched)),
		}},
		{Title: measure.Say("Bundle"), Fields: []Field{
			Field{Path: end + ".squares", Label: measure.Say("Squares counted in the traced end"), Type: NumberField, Example: "118.25"}.must().times(ends).when(method, stack.Reading(stack.Bundled)),
			lengthOf(end+".edge", "1 in", "Edge of a square").must().times(ends).when(method, stack.Reading(stack.Bundled)),
		}},
		{Title: measure.Say("The pieces"), Fields: []Field{
			lengthOf("stack.pieces[]", "16 in", "Lengths of the thickest pieces").must().times(atLeast(stack.PackPieces)).when(method, stack.Reading(stack.Crosshatched), stack.Reading(stack.Bundled)),
		}},
	}}
}
