package words

import "wellstowed/measure/stack"

// Word is a finding in a word or phrase.
func (p *Printer) Word(w stack.Word) string { return p.say(wordKey(w)) }

func wordKey(w stack.Word) string {
	switch w {
	case stack.Unresolved:
		return "can’t tell yet"
	case stack.NoShortage:
		return "no shortage found"
	case stack.Expected:
		return "as expected"
	case stack.BelowExpected:
		return "below what is expected"
	case stack.AboveExpected:
		return "above what is expected"
	}
	return string(w)
}

// Source says in plain words where doubt comes from, with the row it is of, from
// 1; row 0 is the stack as a whole.
func (p *Printer) Source(s stack.Source, row int) string {
	text := p.say(sourceKey(s))
	if row == 0 {
		return text
	}
	return p.say("row %d: %s", row, text)
}

func sourceKey(s stack.Source) string {
	switch s {
	case stack.Stowage:
		return "how tightly the wood is stowed"
	case stack.PieceSpread:
		return "pieces of different length"
	case stack.NominalLength:
		return "piece length taken as said, not measured"
	case stack.TopOfWood:
		return "judging where the top of the wood is"
	case stack.StationSpread:
		return "heights that differ along the row"
	case stack.FewStations:
		return "few heights in a row"
	case stack.ShoulderShape:
		return "shape of a shouldered end"
	case stack.TaperShape:
		return "shape of a tapered end"
	case stack.CribShare:
		return "how much of a cribbed end is wood"
	case stack.VoidSize:
		return "size of a gap"
	case stack.RowEnds:
		return "judging where the row ends"
	case stack.LengthReading:
		return "smallest mark of the tape, on the row length"
	case stack.RoundingNotSaid:
		return "how readings between two marks were rounded"
	case stack.RoundingOfHeights:
		return "smallest mark of the tape, on heights"
	case stack.RoundingOfPieces:
		return "smallest mark of the tape, on pieces"
	case stack.OneFace:
		return "one face, and one person reading"
	case stack.TapeScale:
		return "how true the tape is"
	case stack.TapeOnHeights:
		return "the tape’s hook and zero, on heights"
	case stack.TapeOnLengths:
		return "the tape’s hook and zero, on row lengths"
	case stack.TapeOnPieces:
		return "the tape’s hook and zero, on pieces"
	case stack.PhotoTaps:
		return "tapping points on the photo"
	case stack.PhotoFeet:
		return "where the sticks in the photo stand"
	case stack.PhotoLean:
		return "sticks in the photo out of plumb"
	case stack.PhotoDepth:
		return "how far the face lies from the sticks"
	case stack.PhotoLens:
		return "how the camera’s lens bends lines"
	case stack.PhotoLengths:
		return "smallest mark of the tape, on the sticks and between them"
	}
	return boxedSourceKey(s)
}

// boxedSourceKey words what is read of wood that does not stand in rows.
func boxedSourceKey(s stack.Source) string {
	switch s {
	case stack.InsideEnds:
		return "judging where the inside ends"
	case stack.SizeReading:
		return "smallest mark of the tape, on length and width"
	case stack.WellSize:
		return "size of the wheel wells"
	case stack.CrownShapes:
		return "what shape the crown has"
	case stack.CrestHeight:
		return "how high the crown is"
	case stack.HeightGrid:
		return "heights that differ over the load"
	case stack.TapedVolume:
		return "volume of the bed up to its line"
	case stack.LevelToLine:
		return "judging the wood level with the line"
	case stack.HeapShape:
		return "what shape the heap has"
	case stack.HeapLength:
		return "where the heap ends, along it"
	case stack.HeapWidth:
		return "where the heap ends, across it"
	case stack.HeapHeight:
		return "how high the heap is"
	case stack.RowsThatFit:
		return "the side that the pieces lie along"
	case stack.DiameterMean:
		return "diameters that differ"
	case stack.TapeOnSides:
		return "the tape’s hook and zero, on length and width"
	case stack.FewHeights:
		return "few heights read"
	case stack.HeightSpread:
		return "heights that differ"
	case stack.HeightMean:
		return "heights that differ around the stack"
	case stack.ConeShape:
		return "what shape the cone has"
	case stack.HeadspaceMean:
		return "headspaces that differ"
	case stack.WidthMean:
		return "widths that differ"
	case stack.StackLength:
		return "lengths of the stack that differ"
	case stack.EndArea:
		return "tracing the ends and counting squares"
	}
	return string(s)
}

// Party names who took readings.
func (p *Printer) Party(party stack.Party) string {
	if party == "" {
		return p.say("not said")
	}
	return p.say(string(party))
}

// Apart words what is not in the stack.
func (p *Printer) Apart(a stack.Apart) string {
	switch {
	case !a.Answered:
		return p.say("not said")
	case a.Quantity.Volume == 0:
		return p.say("none")
	}
	return p.Quantity(a.Quantity)
}

// Page numbers a page: "page 1 of 2".
func (p *Printer) Page(n, of int) string { return p.say("page %d of %d", n, of) }
