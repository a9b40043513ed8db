package receipts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// Receipt paints a receipt with its seal on one page where it fits. The same data
// come out as the same bytes. It returns an *act.Error of Kind Invalid that
// names the field where a text can't be printed.
func (p *Painter) Receipt(r orders.Receipt, seal string) ([]byte, error) {
	w, err := p.fitted(r, seal)
	if err != nil {
		return nil, err
	}
	return w.bytes()
}

// Ended paints a receipt that another has corrected or made void, with a line across each
// page that says which. It is a rendering of today beside the paper that was given, which
// stays as it was stored.
func (p *Painter) Ended(r orders.Receipt, seal string, by orders.Ending) ([]byte, error) {
	w, err := p.fitted(r, seal)
	if err != nil {
		return nil, err
	}
	w.across(w.print.EndedBy(by))
	return w.bytes()
}

// fitted is a receipt on one page where it fits.
func (p *Painter) fitted(r orders.Receipt, seal string) (*paper, error) {
	if err := p.letters.printable(receiptTexts(r, seal)); err != nil {
		return nil, err
	}
	if err := p.lawful(r.Facts.RuleSet, woodTexts(r.Facts)...); err != nil {
		return nil, err
	}
	if err := oneCurrency(r.Facts); err != nil {
		return nil, err
	}
	for _, share := range storageShares() {
		if w := p.receipt(r, seal, share); w.pdf.PageNo() == 1 {
			return w, nil
		}
	}
	return p.receipt(r, seal, overleaf), nil
}

// storageShares are how much of its column the picture of the suggested storage takes,
// from the one that reads best; a smaller one is taken where it saves a page.
func storageShares() []float64 { return []float64{1, 0.8, 0.65} }

// overleaf is the share that puts storage and cautions after the signatures, where no
// picture is small enough: what is signed stays on one page.
const overleaf = 0

// receipt paints it with the picture of the suggested storage that much of its column
// wide.
func (p *Painter) receipt(r orders.Receipt, seal string, share float64) *paper {
	w := p.paper(setup{
		title: measure.Say("%s %d", measure.Say(kindTitle(r.Facts.Kind)), int(r.Facts.Number)),
		paper: r.Facts.Paper, units: r.Facts.Units, unit: r.Facts.RuleSet.Unit, language: r.Facts.Language, made: r.Facts.Issued,
		whose: r.Facts.Vendor.Name, zone: r.Facts.Zone,
	})
	w.receiptHead(r)
	sign := w.signatures
	if !r.Erased.IsZero() { // a copy that nobody signs
		sign = func(heading, left, right string) {}
	}
	if r.Facts.Former != nil {
		w.ends(r)
	}
	if r.Facts.Kind == orders.VoidReceipt {
		w.rulesAndSeal(r.Facts, seal)
		sign("Made void and acknowledged", "Seller or driver", "Purchaser")
		return w
	}
	if r.Facts.Settles != nil {
		w.wood(r)
		w.settles(r.Facts)
		w.rulesAndSeal(r.Facts, seal)
		sign("Settled and acknowledged", "Seller or driver", "Purchaser")
		return w
	}
	w.wood(r)
	w.quantities(r.Facts)
	w.price(r.Facts)
	if share != overleaf {
		w.storage(r.Facts, share)
		w.cautions(r.Facts)
	}
	w.rulesAndSeal(r.Facts, seal)
	w.signedFor(r)
	sign("Delivered and received", "Seller or driver", "Purchaser")
	w.drawnName(r.Signature)
	if share == overleaf {
		w.turn()
		w.storage(r.Facts, 1)
		w.cautions(r.Facts)
	}
	return w
}

// receiptTexts are the texts on a receipt that people typed.
func receiptTexts(r orders.Receipt, seal string) []named {
	f := r.Facts
	texts := []named{
		{"vendor.name", f.Vendor.Name}, {"vendor.address", f.Vendor.Address}, {"vendor.phone", f.Vendor.Phone},
		{"purchaser.name", r.Purchaser.Name}, {"purchaser.address", r.Purchaser.Address}, {"purchaser.phone", r.Purchaser.Phone},
		{"seasoning", string(f.Seasoning)}, {"price.currency", f.Price.Wood.Currency},
		{"rule_set.name", f.RuleSet.Name}, {"rule_set.edition", f.RuleSet.Edition}, {"seal", seal},
	}
	if was := r.WasPurchaser; was != nil {
		texts = append(texts, named{"was_purchaser.name", was.Name}, named{"was_purchaser.address", was.Address})
	}
	for _, measurer := range []*orders.Party{&r.Measurer, r.WasMeasurer} {
		if measurer != nil {
			texts = append(texts, named{"measurer.name", measurer.Name}, named{"measurer.address", measurer.Address})
		}
	}
	if r.Signature != nil {
		texts = append(texts, named{"signature.by", r.Signature.By})
	}
	if f.Moisture != nil {
		texts = append(texts, named{"moisture.by", f.Moisture.By})
	}
	if f.Batch != nil {
		texts = append(texts, named{"batch.name", f.Batch.Name})
	}
	if f.Cord != nil {
		texts = append(texts, named{"cord.of", f.Cord.Of}, named{"cord.source", f.Cord.Source})
	}
	return append(texts, woodTexts(f)...)
}

// woodTexts are those that speak of the wood and of what is paid for.
func woodTexts(f orders.Facts) []named {
	texts := []named{{"species", f.Species}, {"origin", f.Origin}, {"certificate", f.Certificate}, {"reason", f.Reason}}
	if f.Measuring != nil {
		texts = append(texts, named{"measuring.why", f.Measuring.Why})
	}
	if f.Former != nil {
		texts = append(texts, named{"former.species", f.Former.Species}, named{"former.origin", f.Former.Origin})
	}
	if f.Batch != nil {
		texts = append(texts, named{"batch.species", f.Batch.Species})
	}
	t := f.Ticket
	texts = append(texts, named{"ticket.stack_size", t.StackSize}, named{"ticket.dried_for", t.DriedFor}, named{"ticket.dried_how", t.DriedHow},
		named{"ticket.moisture_certificate", t.MoistureCertificate}, named{"ticket.moving_says", t.MovingSays})
	for i, said := range f.Says {
		texts = append(texts, named{fmt.Sprintf("says[%d]", i), said.Words})
	}
	for i, fee := range f.Price.Fees {
		texts = append(texts, named{fmt.Sprintf("price.fees[%d].words", i), fee.Words})
	}
	if t := f.Price.Tax; t != nil {
		texts = append(texts, named{"price.tax.name", t.Name}, named{"price.tax.exempt", t.Exempt})
	}
	return texts
}

// oneCurrency refuses a receipt whose amounts can't be added up.
func oneCurrency(f orders.Facts) error {
	first := f.Price.Wood.Currency
	amounts := []money.Money{f.Deposit, f.Paid, f.Owed}
	for _, fee := range f.Price.Fees {
		amounts = append(amounts, fee.Amount)
	}
	if t := f.Price.Tax; t != nil {
		amounts = append(amounts, t.Amount)
	}
	for _, m := range amounts {
		if first == "" {
			first = m.Currency
		}
		if m.Currency != "" && m.Currency != first {
			reason := measure.Say("the amounts are in %s and in %s", first, m.Currency)
			return &act.Error{
				Kind: act.Invalid, Message: measure.Say("The price can’t be added up: %s", reason),
				Fields: []*measure.InputError{{Field: "price", Code: "mismatch", Reason: reason, Accepts: measure.Say("amounts in one currency")}},
			}
		}
	}
	return nil
}

// receiptHead is who sells, who buys, and which receipt this is.
func (w *paper) receiptHead(r orders.Receipt) {
	f := r.Facts
	facts := []string{
		w.print.Field("Order", strconv.FormatInt(f.Order, 10)),
		w.print.Field("Issued", w.print.Time(f.Issued, f.Zone)),
	}
	if f.Kind.HandsOver() {
		facts = slices.Insert(facts, 0, w.print.Field("Delivered", w.print.Date(f.DeliveredOn)))
	}
	buyer := w.erased(r.Erased, r.Purchaser)
	to := "Sold and delivered to"
	if !f.Kind.HandsOver() {
		to = "Sold to"
	}
	w.letterhead(w.print.Heading(kindTitle(f.Kind)), strconv.FormatInt(f.Number, 10), facts, side{"Sold by", f.Vendor}, side{to, buyer})
}

// kindTitle is what a paper of a kind is called.
func kindTitle(k orders.ReceiptKind) string {
	switch k {
	case orders.VoidReceipt:
		return "Void"
	case orders.CorrectionReceipt:
		return "Correction"
	case orders.SettlementReceipt:
		return "Settlement"
	}
	return "Receipt"
}

// erased says at the head of a paper painted anew that its names were erased, and what
// stands where they were.
func (w *paper) erased(on act.Date, purchaser orders.Party) orders.Party {
	if on.IsZero() {
		return purchaser
	}
	w.paragraph(boldFace(), w.print.ErasedOn(on)+" "+w.print.Heading("This isn’t the paper that was delivered."))
	w.gap(1.5)
	return orders.Party{Name: w.print.Heading("Names erased")}
}

// A side of the sale and what it is called.
type side struct {
	label string
	party orders.Party
}

// letterhead names the sides, and the paper in a box like a tally book's label.
func (w *paper) letterhead(kind, number string, facts []string, sides ...side) {
	const box = 65.0
	top, x := w.y, w.right()-box
	y := top + 1.5 + titleFace().lead()
	w.at(x+3, y-2, titleFace(), kind)
	w.rightAt(w.right()-3, y-2, w.shrink(titleFace(), number, box-8-w.measure(titleFace(), kind)), number)
	for _, fact := range facts {
		for _, line := range w.wrap(mainFace(), fact, box-6) {
			y += mainFace().lead()
			w.at(x+3, y-1.2, mainFace(), line)
		}
	}
	y += 1.5
	w.stroke(heavyLine, 0)
	w.pdf.Rect(x, top, box, y-top, "D")
	width := (w.inner() - box) / float64(len(sides))
	cols := make([]column, len(sides))
	for i, s := range sides {
		cols[i] = column{w.left() + float64(i)*width, w.side(s, width-4)}
	}
	w.columns(cols...)
	if w.pdf.PageNo() == 1 {
		w.y = max(w.y, y)
	}
	w.gap(1)
}

// side is a name, an address and a phone number as lines, under what they are of.
func (w *paper) side(s side, width float64) []written {
	lines := w.lines(noteFace(), width, w.print.Heading(s.label))
	lines = append(lines, w.lines(strongFace(), width, s.party.Name)...)
	lines = append(lines, w.lines(mainFace(), width, s.party.Address)...)
	return append(lines, w.lines(mainFace(), width, s.party.Phone)...)
}

// shrink is the face made small enough for a text to fit a width.
func (w *paper) shrink(f face, text string, width float64) face {
	for f.size > 6 && w.measure(f, text) > width {
		f.size -= 0.5
	}
	return f
}

func (w *paper) wood(r orders.Receipt) {
	f := r.Facts
	w.heading(w.print.Heading("What"), 3*mainFace().lead())
	third := w.inner() / 3
	w.columns(
		w.cell(0, third, "Wood", f.Species),
		w.cell(1, third, "Piece length", w.print.Length(f.PieceLength)),
		w.cell(2, third, "Seasoning", w.print.Dryness(f.Seasoning, f.Moisture)),
	)
	w.whence(r)
}

// whence is what stands behind the statement of seasoning, a line each, and where the
// wood is from.
func (w *paper) whence(r orders.Receipt) {
	f := r.Facts
	w.gap(0.8)
	if f.Batch != nil {
		w.paragraph(mainFace(), w.print.Field("From batch", w.print.FromBatch(f)))
	}
	if f.Moisture != nil {
		w.paragraph(mainFace(), w.print.Field("Moisture", w.print.Measured(*f.Moisture)))
	}
	for _, line := range w.print.TicketLines(r) {
		w.paragraph(mainFace(), w.print.Field(line.Label, line.Text))
	}
	for _, said := range f.Says {
		w.paragraph(noteFace(), w.print.Heading(said.Words))
	}
	half := w.inner() / 2
	var from []column
	for _, entry := range []named{{"Cut in", f.Origin}, {"Heat-treatment certificate", f.Certificate}} {
		if entry.text != "" {
			from = append(from, column{w.left() + float64(len(from))*half, w.lines(mainFace(), half-4, w.print.Field(entry.field, entry.text))})
		}
	}
	if len(from) > 0 {
		w.columns(from...)
	}
}

// cell is a small name over a text, in the n-th of equal columns.
func (w *paper) cell(n int, width float64, name, text string) column {
	lines := w.lines(noteFace(), width-4, w.print.Heading(name))
	return column{w.left() + float64(n)*width, append(lines, w.lines(strongFace(), width-4, text)...)}
}

// quantities are plain numbers: a receipt says what was delivered, never a doubt.
func (w *paper) quantities(f orders.Facts) {
	w.heading(w.print.Heading("How much"), 3*strongFace().lead())
	type entry struct {
		name string
		q    measure.Quantity
	}
	entries := []entry{{"Ordered", f.Ordered}, {"Delivered with this receipt", f.Delivered}, {"Price is for", f.Priced}}
	if f.Measured != nil {
		entries = append(entries, entry{"Measured before delivery", *f.Measured})
	}
	width := w.inner() / float64(len(entries))
	cells := make([]column, len(entries))
	for i, e := range entries {
		cells[i] = w.cell(i, width, e.name, w.print.Quantity(e.q))
	}
	w.columns(cells...)
	if said := w.print.MeasuredBefore(f); said != "" {
		w.paragraph(boldFace(), said)
	}
	if f.Cord != nil {
		w.paragraph(noteFace(), w.print.Cord(f.Cord))
	}
	if f.Body != nil {
		w.paragraph(noteFace(), w.print.Filled(f.Body))
	}
}

func (w *paper) price(f orders.Facts) {
	w.heading(w.print.Heading("Price"), 4*mainFace().lead())
	for _, line := range w.print.Bill(f) {
		if line.Sum {
			w.need(2*boldFace().lead() + 2)
			w.sumLine(0.6, ruleLine)
			w.amount(strongFace(), line.What, w.print.Money(line.Amount))
			continue
		}
		w.amount(mainFace(), line.What, w.print.Money(line.Amount))
	}
}

// sumLine rules off the column of amounts.
func (w *paper) sumLine(gap, thickness float64) {
	w.gap(gap)
	w.line(w.right()-38, w.y, w.right(), w.y, thickness)
}

// amount is what is paid for, dots, and the sum at the right edge.
func (w *paper) amount(f face, what, sum string) {
	room := w.inner() - w.measure(f, sum) - 6
	lines := w.wrap(f, what, room)
	for i, line := range lines {
		w.need(f.lead())
		w.y += f.lead()
		y := w.y - f.lead()*0.24
		w.at(w.left(), y, f, line)
		if i == len(lines)-1 {
			w.dots(w.left()+w.measure(f, line)+2, w.right()-w.measure(f, sum)-2, y)
			w.rightAt(w.right(), y, f, sum)
		}
	}
}

// dots leads the eye from a name to its figure.
func (w *paper) dots(from, to, y float64) {
	if to <= from {
		return
	}
	w.stroke(0.25, 0)
	w.pdf.SetDashPattern([]float64{0.25, 1.75}, 0)
	w.pdf.Line(from, y, to, y)
	w.pdf.SetDashPattern(nil, 0)
}

func (w *paper) storage(f orders.Facts, share float64) {
	if f.Storage == nil {
		return
	}
	picture := draw.Storage(*f.Storage, onPaper(share*w.inner()/2))
	w.heading(w.print.Heading("Suggested storage"), mm(picture.Height)/2+2*mainFace().lead())
	w.paragraph(mainFace(), strings.Join(w.print.Plan(*f.Storage), " "))
	w.inTwo(picture)
}

func (w *paper) cautions(f orders.Facts) {
	w.heading(w.print.Heading("Take care"), noteFace().lead())
	for _, line := range w.print.Cautions(f.Storage) {
		w.item(noteFace(), line)
	}
}

// rulesAndSeal are the rules a receipt was issued under, and its seal.
func (w *paper) rulesAndSeal(f orders.Facts, seal string) {
	w.heading(w.print.Heading("Rules and seal"), 3*noteFace().lead())
	const box = 66.0
	w.gap(0.8)
	top := w.y
	for _, line := range w.wrap(noteFace(), w.print.Rules(f.RuleSet), w.inner()-box-6) {
		w.need(noteFace().lead())
		top = min(top, w.y)
		w.y += noteFace().lead()
		w.at(w.left(), w.y-1, noteFace(), line)
	}
	w.seal(top, box, seal)
	w.y = max(w.y, top+9)
}

// seal stands in a box of its own.
func (w *paper) seal(top, box float64, seal string) {
	x := w.right() - box
	w.stroke(ruleLine, 0)
	w.pdf.Rect(x, top, box, 8, "D")
	w.at(x+3, top+5.4, noteFace(), w.print.Heading("Seal"))
	f := w.shrink(strongFace(), seal, box-18)
	w.rightAt(x+box-3, top+5.4, f, seal)
}

// signedFor says again what is signed for where the signatures come on another page than
// it, or one was put on a screen.
func (w *paper) signedFor(r orders.Receipt) {
	w.need(32)
	switch {
	case r.Signature != nil:
		w.paragraph(boldFace(), w.print.Signed(*r.Signature, r.Facts))
	case w.pdf.PageNo() > 1:
		w.paragraph(boldFace(), w.print.SignedFor(r.Facts))
	}
}

// signatures are lines for both sides to write on.
func (w *paper) signatures(heading, left, right string) {
	w.heading(w.print.Heading(heading), 24)
	half := w.inner()/2 - 4
	for i, who := range []string{left, right} {
		x := w.left() + float64(i)*(half+8)
		w.at(x, w.y+4, boldFace(), w.print.Heading(who))
		w.writeOn(x, w.y+11.5, half, "Printed name")
		w.writeOn(x, w.y+20.5, half*0.66, "Signature")
		w.writeOn(x+half*0.7, w.y+20.5, half*0.3, "Date")
	}
	w.y += 24
}

// writeOn is a line to write on, named below.
func (w *paper) writeOn(x, y, width float64, name string) {
	w.line(x, y, x+width, y, hairline)
	w.at(x, y+3.4, noteFace(), w.print.Heading(name))
}
