package procedure

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// rowsResult takes each row as average height × average length × average piece
// length, every reading rounded by itself. Gaps and shoulders are taken off; cribs
// and tapered runs are left out.
func rowsResult(s stack.Rows, t *stack.Tally, k Reckoning) Result {
	b := rowsProcedure{tally: t, step: k.Increment, way: k.Rounding, from: k.From, named: k.Named, least: k.Least()}
	if k.Increment <= 0 {
		b.step, b.way = stack.HandbookIncrement(t.Tape), stack.RoundUp
		b.from = measure.Say("The rules of sale state none; so NIST Handbook 133, section 3.14: from memory.")
	}
	b.counts(s)
	if row := s.ReadFromPhoto(); row > 0 {
		why := measure.Say("The procedure takes heights and lengths read with a tape, and the face of row %d was read from a photo.", row)
		b.out.NoResult = &why
		return b.out
	}
	for i := range s.Rows {
		if len(s.PiecesOf(i).Sample) == 0 {
			why := measure.Say("The procedure takes the average of measured pieces, and no piece of row %d was measured.", i+1)
			b.out.NoResult = &why
			b.out.Rows, b.out.Exact = nil, 0
			return b.out
		}
		b.addRow(&s.Rows[i], s.PiecesOf(i).Sample)
		if !s.Rows[i].Pieces.Given() {
			b.served = true
		}
	}
	b.finish()
	return b.out
}

// A rowsProcedure gathers what the procedure makes of rows, in cubic inches.
type rowsProcedure struct {
	tally *stack.Tally
	step  measure.Length
	way   stack.Rounding
	from  measure.Text
	named *measure.Text
	least LeastCounts
	out   Result

	exact   float64
	heights gathered // as rounded, each on top of the one before
	raised  gathered
	lengths gathered
	pieces  gathered
	served  bool // the stack's pieces have served a row

	voids, voidsExact         float64
	shoulders, shouldersExact float64
	tapers, cribs             float64
}

// A gathered is what a rounding adds, and how many readings it changed.
type gathered struct {
	adds         float64
	changed, all int
}

// mean rounds each of ls and gives the mean in inches.
func (g *gathered) mean(ls []measure.Length, step measure.Length, way stack.Rounding) float64 {
	var sum measure.Length
	for _, l := range ls {
		r := way.Round(l, step)
		g.all++
		if r != l {
			g.changed++
		}
		sum += r
	}
	return inInches(sum) / float64(len(ls))
}

func (b *rowsProcedure) addRow(r *stack.Row, sample []measure.Length) {
	heights := append(append([]measure.Length{}, r.Heights...), r.Back...)
	slope := r.Slope.Cosine()
	under := b.tally.Raised
	high, long, piece := (stack.MeanInches(heights)-inInches(under))*slope, stack.MeanInches(lengths(r)), stack.MeanInches(sample)
	b.exact += high * long * piece

	rounded := (b.heights.mean(heights, b.step, b.way) - inInches(under)) * slope
	b.heights.adds += (rounded - high) * long * piece
	high = rounded
	if under > 0 {
		rounded = high + (inInches(under)-b.raised.mean([]measure.Length{under}, b.step, b.way.Other()))*slope
		b.raised.adds += (rounded - high) * long * piece
		high = rounded
	}
	rounded = b.lengths.mean(lengths(r), b.step, b.way)
	b.lengths.adds += high * (rounded - long) * piece
	long = rounded
	before := b.pieces
	rounded = b.pieces.mean(sample, b.step, b.way)
	if b.served && !r.Pieces.Given() { // the stack's pieces are told of once
		b.pieces.changed, b.pieces.all = before.changed, before.all
	}
	b.pieces.adds += high * long * (rounded - piece)
	piece = rounded

	off := b.takeOff(r, piece)
	b.leaveOut(r, piece)
	b.out.Rows = append(b.out.Rows, Row{
		Height: stack.OfInches(high), Length: stack.OfInches(long), Piece: stack.OfInches(piece),
		Volume: ofCubicInches(high*long*piece - off),
	})
}

// lengths are all readings of a row's length.
func lengths(r *stack.Row) []measure.Length {
	if len(r.Lengths) == 0 {
		return []measure.Length{r.Length}
	}
	return r.Lengths
}

// takeOff gives what the gaps and shoulders of a row take off.
func (b *rowsProcedure) takeOff(r *stack.Row, piece float64) float64 {
	small := func(l measure.Length) float64 { return inInches(b.way.Other().Round(l, b.step)) }
	var off float64
	for _, v := range r.Voids {
		gap := small(v.Width) * small(v.Height) * piece
		b.voids += gap
		b.voidsExact += inInches(v.Width) * inInches(v.Height) * piece
		off += gap
	}
	for _, e := range r.Ends {
		if e.Kind != stack.Shouldered {
			continue
		}
		gap := small(e.Drop) * small(e.Over) / 2 * piece
		b.shoulders += gap
		b.shouldersExact += inInches(e.Drop) * inInches(e.Over) / 2 * piece
		off += gap
	}
	return off
}

// leaveOut gathers the wood past the row's ends that the procedure does not count.
func (b *rowsProcedure) leaveOut(r *stack.Row, piece float64) {
	for i, e := range r.Ends {
		run := r.WoodAt(i*(len(r.Heights)-1), b.tally.Raised, 0) * inInches(e.Over) * piece
		switch e.Kind {
		case stack.Tapered:
			b.tapers += run / 2
		case stack.Cribbed:
			b.cribs += run
		}
	}
}

// counts holds the readings against those that are asked for.
func (b *rowsProcedure) counts(s stack.Rows) {
	count := func(what string, row, seen, wanted int) {
		b.out.Counts = append(b.out.Counts, Count{what, row, seen, wanted})
	}
	if s.Pieces.Given() {
		count("pieces", 0, len(s.Pieces.Sample), b.least.Pieces)
	}
	for i, r := range s.Rows {
		if r.Photo != nil {
			r.Heights, r.Length = nil, 0
		}
		count("heights", i+1, len(r.Heights), b.least.Heights)
		if b.least.Back > 0 {
			count("heights of the back", i+1, len(r.Back), b.least.Back)
		}
		count("lengths", i+1, len(lengths(&r)), b.least.Lengths)
		if r.Pieces.Given() {
			count("pieces", i+1, len(r.Pieces.Sample), b.least.Pieces)
		}
	}
}

// finish sums up and says what was done.
func (b *rowsProcedure) finish() {
	b.rounding("heights", b.heights, "Heights of the wood")
	b.rounding("raised", b.raised, "What the heights include below the wood")
	b.rounding("lengths", b.lengths, "Row lengths")
	b.rounding("pieces", b.pieces, "Piece lengths")
	b.off("voids", b.voidsExact, b.voids, "Gaps that would take an average piece")
	b.off("shoulders", b.shouldersExact, b.shoulders, "Shoulders")
	b.left("tapers", b.tapers, "Tapered runs past the ends of rows", "until they are restacked upright")
	b.left("cribs", b.cribs, "Cribbed ends", "because criss-cross wood is not ranked")
	b.out.Exact = ofCubicInches(b.exact)
	for _, r := range b.out.Rows {
		b.out.Volume += r.Volume
	}
	b.out.Notes = append(b.out.Notes, b.notes()...)
}

// notes say whose procedure it is and what is done with the readings.
func (b *rowsProcedure) notes() []measure.Text {
	rounding := measure.Say("Lengths are rounded %s to %s, what is taken off the other way. %s", measure.Say(string(b.way)), b.step.String(), b.from)
	if b.named != nil {
		return []measure.Text{measure.Say("By %s.", *b.named), rounding, measure.Say("Each row is its average height × its average length × its average piece length.")}
	}
	return []measure.Text{
		measure.Say("After NIST Handbook 133, section 3.14: from memory, to be checked against its text. It is written for restacked packages of %s or less; for a larger stack the same steps are taken.", measure.Volume(stack.PackLimit)),
		rounding,
		measure.Say("Each row is its average height × its average length × its average piece length: from memory."),
		measure.Say("The procedure takes the pieces of greatest girth; a tally has pieces from all over, and all of them count here."),
	}
}

// rounding lists what one kind of reading's rounding adds, where it adds anything.
func (b *rowsProcedure) rounding(code string, g gathered, what string) {
	if g.changed == 0 {
		return
	}
	b.change(code, g.adds, measure.Say("%s rounded to %s, %d of %d readings", measure.Text{Key: what}, b.step.String(), g.changed, g.all))
}

// off lists what is taken off, and what its rounding leaves on.
func (b *rowsProcedure) off(code string, exact, rounded float64, what string) {
	if exact == 0 {
		return
	}
	size := ofCubicInches(exact)
	b.out.Changes = append(b.out.Changes, Change{Code: code, Size: -size,
		Text: measure.Say("%s: %s is taken off.", measure.Text{Key: what}, size)})
	if rounded != exact {
		b.change(code, exact-rounded, measure.Say("%s rounded to %s before they are taken off", measure.Text{Key: what}, b.step.String()))
	}
}

// change lists a rounding with its size and whom it favours.
func (b *rowsProcedure) change(code string, adds float64, what measure.Text) {
	c := Change{Code: code, Size: ofCubicInches(adds)}
	switch {
	case c.Size > 0:
		c.Favours, c.Text = stack.Seller, measure.Say("%s: this adds %s, in the seller’s favour.", what, c.Size)
	case c.Size < 0:
		c.Favours, c.Text = stack.Buyer, measure.Say("%s: this takes off %s, in the buyer’s favour.", what, -c.Size)
	default:
		return
	}
	b.out.Changes = append(b.out.Changes, c)
}

func (b *rowsProcedure) left(code string, inches float64, what, why string) {
	if inches <= 0 {
		return
	}
	size := ofCubicInches(inches)
	b.out.LeftOut = append(b.out.LeftOut, Change{Code: code, Size: -size, Favours: stack.Buyer,
		Text: measure.Say("%s are not counted, %s: up to %s.", measure.Text{Key: what}, measure.Text{Key: why}, size)})
}

func inInches(l measure.Length) float64 { return l.In(measure.Inch) }

// ofCubicInches rounds to a Volume, halves to even.
func ofCubicInches(v float64) measure.Volume {
	return measure.Volume(math.RoundToEven(v * float64(measure.CubicInch)))
}
