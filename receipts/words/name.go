package words

import (
	"wellstowed/measure"
	"wellstowed/orders"
)

// Word is a finding in a word or phrase.
func (p *Printer) Word(w measure.Word) string { return p.say(wordKey(w)) }

func wordKey(w measure.Word) string {
	switch w {
	case measure.Unresolved:
		return "can’t tell yet"
	case measure.NoShortage:
		return "no shortage found"
	case measure.Expected:
		return "as expected"
	case measure.BelowExpected:
		return "below what is expected"
	case measure.AboveExpected:
		return "above what is expected"
	}
	return string(w)
}

// Source says in plain words where doubt comes from, with the row it is of, from
// 1; row 0 is the stack as a whole.
func (p *Printer) Source(s measure.Source, row int) string {
	text := p.say(sourceKey(s))
	if row == 0 {
		return text
	}
	return p.say("row %d: %s", row, text)
}

func sourceKey(s measure.Source) string {
	switch s {
	case measure.Stowage:
		return "how tightly the wood is stowed"
	case measure.PieceSpread:
		return "pieces of different length"
	case measure.NominalLength:
		return "piece length taken as said, not measured"
	case measure.TopOfWood:
		return "judging where the top of the wood is"
	case measure.StationSpread:
		return "heights that differ along the row"
	case measure.FewStations:
		return "few heights in a row"
	case measure.ShoulderShape:
		return "shape of a shouldered end"
	case measure.TaperShape:
		return "shape of a tapered end"
	case measure.CribShare:
		return "how much of a cribbed end is wood"
	case measure.VoidSize:
		return "size of a gap"
	case measure.RowEnds:
		return "judging where the row ends"
	case measure.LengthReading:
		return "smallest mark of the tape, on the row length"
	case measure.RoundingNotSaid:
		return "how readings between two marks were rounded"
	case measure.RoundingOfHeights:
		return "smallest mark of the tape, on heights"
	case measure.RoundingOfPieces:
		return "smallest mark of the tape, on pieces"
	case measure.OneFace:
		return "one face, and one person reading"
	case measure.TapeScale:
		return "how true the tape is"
	case measure.TapeOnHeights:
		return "the tape’s hook and zero, on heights"
	case measure.TapeOnLengths:
		return "the tape’s hook and zero, on row lengths"
	case measure.TapeOnPieces:
		return "the tape’s hook and zero, on pieces"
	}
	return boxedSourceKey(s)
}

// boxedSourceKey words what is read of wood that does not stand in rows.
func boxedSourceKey(s measure.Source) string {
	switch s {
	case measure.InsideEnds:
		return "judging where the inside ends"
	case measure.SizeReading:
		return "smallest mark of the tape, on length and width"
	case measure.WellSize:
		return "size of the wheel wells"
	case measure.CrownShapes:
		return "what shape the crown has"
	case measure.CrestHeight:
		return "how high the crown is"
	case measure.HeightGrid:
		return "heights that differ over the load"
	case measure.TapedVolume:
		return "volume of the bed up to its line"
	case measure.LevelToLine:
		return "judging the wood level with the line"
	case measure.HeapShape:
		return "what shape the heap has"
	case measure.HeapLength:
		return "where the heap ends, along it"
	case measure.HeapWidth:
		return "where the heap ends, across it"
	case measure.HeapHeight:
		return "how high the heap is"
	case measure.RowsThatFit:
		return "the side that the pieces lie along"
	case measure.DiameterMean:
		return "diameters that differ"
	case measure.TapeOnSides:
		return "the tape’s hook and zero, on length and width"
	case measure.FewHeights:
		return "few heights read"
	case measure.HeightSpread:
		return "heights that differ"
	case measure.HeightMean:
		return "heights that differ around the stack"
	case measure.ConeShape:
		return "what shape the cone has"
	case measure.HeadspaceMean:
		return "headspaces that differ"
	case measure.WidthMean:
		return "widths that differ"
	case measure.StackLength:
		return "lengths of the stack that differ"
	case measure.EndArea:
		return "tracing the ends and counting squares"
	}
	return string(s)
}

// Seasoning names a statement of dryness.
func (p *Printer) Seasoning(s orders.Seasoning) string {
	if s == "" {
		return p.say("not stated")
	}
	return p.say(string(s))
}

// State names where an order stands. To a customer what was taken was picked up.
func (p *Printer) State(s orders.State) string {
	if s == orders.Taken {
		return p.say("ordered")
	}
	return p.say(string(s))
}

// Party names who took readings.
func (p *Printer) Party(party measure.Party) string {
	if party == "" {
		return p.say("not said")
	}
	return p.say(string(party))
}

// Fee says what a price line pays for.
func (p *Printer) Fee(line orders.PriceLine) string {
	switch line.Kind {
	case orders.WoodLine:
		return p.say("Wood")
	case orders.DeliveryLine:
		return p.say("Delivery")
	case orders.StackingLine:
		return p.say("Stacking")
	case orders.DistanceLine:
		return p.distanceFee(line.Basis)
	case orders.HalfLoadLine:
		if b := line.Basis; b != nil {
			return p.say("Less than a full load of %s", b.FullLoad)
		}
		return p.say("Less than a full load")
	}
	if line.Words == "" {
		return p.say("Other")
	}
	return line.Words
}

// Apart words what is not in the stack.
func (p *Printer) Apart(a measure.Apart) string {
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
