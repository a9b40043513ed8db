package stack

import (
	"wellstowed/measure"
	"wellstowed/measure/face"
)

// noteRows says which defaults of common practice the estimate leans on.
func (b *rowsBudget) noteRows(s Rows) {
	b.note("The top of the wood is taken as ± %s: common practice.", measure.Length(b.topHalf(b.tally.Top)*float64(measure.Inch)))
	end, scale := measure.Length(rowEndHalf*float64(measure.Inch)), b.tally.scale()
	if s.bothFaces() {
		b.note("The tape is taken as true to ± %.3g of what it shows, and where a row ends as ± %s: common practice.", scale, end)
	} else {
		b.note("The tape is taken as true to ± %.3g of what it shows, where a row ends as ± %s, and heights of one side, read by one person, as ± %.3g of the volume: common practice.",
			scale, end, oneFaceHalf)
	}
	if s.ReadFromPhoto() > 0 {
		b.notes = append(b.notes, face.Practice())
	}
	b.notes = s.addNotes(b.notes)
}

func (s Rows) addNotes(notes []measure.Text) []measure.Text {
	notes = s.appendPieceNotes(notes)
	var few, shaped, cribbed, judged, gaps bool
	for i := range s.Rows {
		r := &s.Rows[i]
		notes = r.appendSlopeNote(notes, i+1)
		few = few || len(r.Heights) < fewStations
		gaps = gaps || len(r.Voids) > 0
		for _, e := range r.Ends {
			shaped = shaped || e.Kind == Shouldered || e.Kind == Tapered
			cribbed = cribbed || e.Kind == Cribbed && !e.Judged
			judged = judged || e.Kind == Cribbed && e.Judged
		}
	}
	if few {
		notes = append(notes,
			measure.Say("Rows with fewer than four heights are taken as ± %s with one, ± %s with two or three, or half their range where that is larger: common practice.",
				measure.Length(oneStationHalf*measure.Inch), measure.Length(fewStationsHalf*measure.Inch)),
			measure.Say("What more heights would bring there is worked out on a spread of at least %s between heights: common practice.", measure.Length(usualStep*measure.Inch)))
	}
	if shaped {
		notes = append(notes, measure.Say("The face of a shoulder or taper is taken as ± %.3g of itself: common practice.", shapeHalf))
	}
	if cribbed {
		notes = append(notes, measure.Say("A crib is counted as %.3g of its box, ± %.3g of the box: common practice. It is wood, but not ranked.", cribShare, cribHalf))
	}
	if judged {
		notes = append(notes, measure.Say("A crib whose share was judged is taken as ± %.3g of its box: common practice. It is wood, but not ranked.", judgedCribHalf))
	}
	if gaps {
		notes = append(notes, measure.Say("The face of a void is taken as ± %.3g of itself: common practice.", voidHalf))
	}
	return notes
}

// appendSlopeNote says how heights on a slope were taken.
func (r *Row) appendSlopeNote(notes []measure.Text, number int) []measure.Text {
	switch r.Slope.Held {
	case Vertical:
		return append(notes, measure.Say("Row %d is on a slope of %s in %s: its heights were held vertical and are multiplied by %.4f.",
			number, r.Slope.Rise, r.Slope.Run, r.Slope.Cosine()))
	case Perpendicular:
		return append(notes, measure.Say("Row %d is on a slope: its heights were held perpendicular to it and count as read.", number))
	}
	return notes
}

// appendPieceNotes tells of piece lengths that rest on few pieces or on none.
func (s Rows) appendPieceNotes(notes []measure.Text) []measure.Text {
	var nominal, few bool
	for i := range s.Rows {
		p := s.PiecesOf(i)
		nominal = nominal || len(p.Sample) == 0
		few = few || len(p.Sample) > 0 && len(p.Sample) < fewPieces
	}
	if nominal {
		notes = append(notes, measure.Say("A nominal piece length, not measured, is taken %s short, ± %s: common practice.",
			measure.Length(nominalLess), measure.Length(nominalHalf*float64(measure.Inch))))
	}
	if few {
		notes = append(notes, measure.Say("The mean of two or three pieces is taken as ± %s, or their range where that is larger, and one piece as ± %s: common practice.",
			measure.Length(fewPiecesHalf*measure.Inch), measure.Length(onePieceHalf*float64(measure.Inch))))
	}
	if nominal || few {
		notes = append(notes, measure.Say("What more pieces would bring is worked out on a spread of at least %s between pieces: common practice.",
			measure.Length(usualSpread*float64(measure.Inch))))
	}
	return notes
}
