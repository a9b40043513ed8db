package receipts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/receipts/words"
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
	return p.receipt(r, seal), nil
}

// receipt paints it: whose it is, the one number, what was sold, the price, what that looks
// like, how to check it, who signs, and in the foot what to take care of, the rules and the
// seal.
func (p *Painter) receipt(r orders.Receipt, seal string) *paper {
	f := r.Facts
	w := p.paper(setup{
		title: measure.Say("%s %d", measure.Say(kindTitle(f.Kind)), int(f.Number)),
		paper: f.Paper, units: f.Units, unit: f.RuleSet.Unit, language: f.Language, made: f.Issued,
		whose: f.Vendor.Name, zone: f.Zone,
	})
	w.receiptHead(r)
	sign := func(heading string) block { return w.signatures(heading, "Seller or driver", "Purchaser") }
	if !r.Erased.IsZero() { // a copy that nobody signs
		sign = func(string) block { return func() {} }
	}
	switch {
	case f.Kind == orders.VoidReceipt:
		w.void(r, sign("Made void and acknowledged"), w.foot(nil, f, seal))
	case f.Settles != nil:
		w.lay(w.settles(f), w.wood(r), sign("Settled and acknowledged"))
		w.atFoot(w.foot(nil, f, seal))
	default:
		w.delivered(r, seal, w.received(r, sign("Delivered and received")))
	}
	return w
}

// delivered paints what was handed over, with the picture of the wood as large as the page
// has room for; where it has none, picture and check come overleaf, so that what is signed
// stays on one page.
func (w *paper) delivered(r orders.Receipt, seal string, sign block) {
	f := r.Facts
	above := []block{w.wood(r), w.quantities(f), w.price(f)}
	if f.Former != nil {
		above = append([]block{w.ends(r)}, above...)
	} else {
		above = append([]block{w.hero(f)}, above...)
	}
	foot := w.foot(w.print.Cautions(f.Storage), f, seal)
	check := w.check(f)
	room := w.bottom() - w.y - w.high(above...) - w.high(sign, foot)
	for _, picture := range w.grounds(f, check) {
		if free := room - w.high(picture...); free >= 0 {
			w.air, w.whole = min(free/receiptSections, mostAir), true
			w.lay(above...)
			w.lay(picture...)
			w.lay(sign)
			w.atFoot(foot)
			return
		}
	}
	w.lay(above...)
	if r.Signature == nil {
		sign = w.together(w.signedFor(f), sign)
	}
	w.lay(sign)
	w.atFoot(w.foot(nil, f, seal))
	w.turn()
	w.lay(w.ground(f, 1), check, w.cautions(f))
}

// grounds are the ways to show what the wood looks like and how to check it, the best first.
// A correction, whose first receipt said how, leaves the check out where that saves a page.
func (w *paper) grounds(f orders.Facts, check block) (ways [][]block) {
	for _, share := range pictureShares() {
		ways = append(ways, []block{w.ground(f, share), check})
	}
	if f.Former != nil {
		for _, share := range pictureShares() {
			ways = append(ways, []block{w.ground(f, share)})
		}
	}
	return ways
}

// Room that is left over on a receipt goes above its sections, so much of it at most.
const (
	receiptSections = 4
	mostAir         = 4.0
)

// pictureShares are how much of its room the picture of the wood takes, from the one that
// reads best; a smaller one is taken where it saves a page.
func pictureShares() []float64 { return []float64{1, 0.85, 0.7, 0.55} }

// receiptTexts are the texts on a receipt that people typed.
func receiptTexts(r orders.Receipt, seal string) []named {
	f := r.Facts
	texts := []named{
		{"vendor.name", f.Vendor.Name}, {"vendor.address", f.Vendor.Address}, {"vendor.phone", f.Vendor.Phone}, {"vendor_tax", f.VendorTax},
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
	to := "Sold and delivered to"
	if !f.Kind.HandsOver() {
		to = "Sold to"
	}
	kind := kindTitle(f.Kind)
	if f.Kind == orders.DeliveryReceipt {
		kind = "Delivery receipt"
	}
	w.letterhead(head{
		from: &side{"Sold by", f.Vendor}, tax: w.print.TaxNumber(f.VendorTax), kind: w.print.Heading(kind), number: strconv.FormatInt(f.Number, 10), facts: facts,
		sides: []side{{to, w.erased(r.Erased, r.Purchaser)}},
	})
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

// side is a name, and an address with a phone number in a line, under what they are of.
func (w *paper) side(s side, width float64) []written {
	lines := w.lines(noteFace(), width, w.print.Heading(s.label))
	lines = append(lines, w.lines(strongFace(), width, s.party.Name)...)
	return append(lines, w.lines(mainFace(), width, w.inOneLine(mainFace(), width, s.party))...)
}

// shrink is the face, a size of the scale smaller as often as it takes for a text to fit a
// width, and no smaller than labels are.
func (w *paper) shrink(f face, text string, width float64) face {
	for _, size := range sizes() {
		if w.measure(f, text) <= width {
			break
		}
		f.size = min(f.size, size)
	}
	return f
}

// hero is how much was delivered and what is to pay.
func (w *paper) hero(f orders.Facts) block {
	return func() {
		const apart, pay = 3.0, 62.0
		much, rest := w.print.QuantityParts(f.Delivered)
		big := w.shrink(numberFace(), much, w.inner()-pay-30)
		sum := w.print.Money(f.Balance())
		w.gap(1)
		w.y += big.lead() * 0.9
		base := w.y
		w.at(w.left(), base, big, much)
		x := w.left() + w.measure(big, much) + apart
		w.at(x, base-boldFace().lead(), w.shrink(headFace(), rest, w.right()-pay-x), rest)
		w.at(x, base, noteFace(), w.print.BasisNote(f.Delivered))
		w.rightAt(w.right(), base-payFace().lead()*0.95, noteFace(), w.print.Heading("To pay"))
		w.rightAt(w.right(), base, w.shrink(payFace(), sum, pay), sum)
		w.gap(2)
	}
}

// wood is what it is, how long and how dry, and what stands behind that.
func (w *paper) wood(r orders.Receipt) block {
	return func() {
		f := r.Facts
		w.gap(1)
		w.paragraph(leadFace(), w.print.Identity(f))
		w.behind(r)
	}
}

// behind is what stands behind the statement of seasoning, a line each, and where the wood
// is from.
func (w *paper) behind(r orders.Receipt) {
	f := r.Facts
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
	var from []string
	for _, entry := range []named{{"Cut in", f.Origin}, {"Heat-treatment certificate", f.Certificate}} {
		if entry.text != "" {
			from = append(from, w.print.Field(entry.field, entry.text))
		}
	}
	w.paragraph(mainFace(), strings.Join(from, " · "))
}

// under is a small name over a text, for the n-th of equal columns.
func (w *paper) under(n int, width float64, name, text string) column {
	lines := w.lines(noteFace(), width-gutter, w.print.Heading(name))
	return column{x: w.left() + float64(n)*width, lines: append(lines, w.lines(strongFace(), width-gutter, text)...)}
}

// quantities are plain numbers: a receipt says what was delivered, never a doubt. What was
// ordered, delivered and priced is one line where it is the same.
func (w *paper) quantities(f orders.Facts) block {
	return func() {
		w.gap(1)
		if f.Ordered == f.Delivered && f.Priced == f.Delivered {
			w.paragraph(mainFace(), w.print.AllTheSame(f.Delivered))
		} else {
			w.sizes([]amountOf{{"Ordered", f.Ordered}, {"Delivered with this receipt", f.Delivered}, {"Price is for", f.Priced}})
		}
		if f.Measured != nil {
			w.paragraph(mainFace(), w.print.Field("Measured before delivery", w.print.Quantity(*f.Measured)))
		}
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
}

// An amountOf is a quantity and what it is of.
type amountOf struct {
	name string
	q    measure.Quantity
}

// sizes are quantities side by side, each under its name.
func (w *paper) sizes(entries []amountOf) {
	width := w.inner() / float64(len(entries))
	cells := make([]column, len(entries))
	for i, e := range entries {
		cells[i] = w.under(i, width, e.name, w.print.Quantity(e.q))
	}
	w.columns(cells...)
}

// price is a table of what is charged and paid, its sums under a stronger rule.
func (w *paper) price(f orders.Facts) block {
	lines := w.print.Bill(f)
	of := func(from, to int) block {
		return func() {
			for _, line := range lines[from:to] {
				w.amount(line.What, w.print.Money(line.Amount), line.Sum)
			}
		}
	}
	return func() {
		last := min(2, len(lines))
		w.lay(w.section(w.print.Heading("Price"), of(0, 1), of(1, max(1, len(lines)-last))))
		w.lay(w.together(of(max(1, len(lines)-last), len(lines))))
	}
}

// amount is what is paid for and the sum at the right edge, over a hairline.
func (w *paper) amount(what, sum string, sums bool) {
	f := mainFace()
	if sums {
		f = boldFace()
	}
	share := 1 - max(0.18, (w.measure(f, sum)+2)/w.inner())
	w.row(f, []float64{share, 1 - share}, cell{text: what}, cell{text: sum, right: true})
}

// ground is what the wood looks like: the stack to scale with a person, large, and from
// above beside it.
func (w *paper) ground(f orders.Facts, share float64) block {
	if f.Storage == nil {
		return func() {}
	}
	plan := *f.Storage
	drawn := sync.OnceValues(func() (front, above draw.Drawing) {
		_, eight := w.spread(1, 8)
		_, four := w.spread(9, gridColumns)
		return draw.Storage(plan, onPaper(share*eight)), draw.Storage(plan, onPaper(share*four))
	})
	return w.section(w.print.LooksLike(f.Delivered), func() {
		front, above := drawn()
		w.beside(
			span{1, 8, w.view(front, 1)}, span{9, gridColumns, w.view(above, 0)},
		)()
		said := w.print.Plan(plan)
		for _, l := range front.Labels {
			if l.Role == "person" {
				said = append(said, words.Capital(w.print.Say(l.Text))+".")
			}
		}
		w.paragraph(noteFace(), strings.Join(said, " "))
	})
}

// saidBelow are the labels of a stack's drawing that a receipt says in words below it.
func saidBelow() []string { return []string{"gap", "off ground", "person"} }

// view is the n-th view of a drawing of a stack, from 0, without what is said in words
// below it.
func (w *paper) view(d draw.Drawing, n int) block {
	d.Labels = slices.DeleteFunc(slices.Clone(d.Labels), func(l draw.Label) bool { return slices.Contains(saidBelow(), l.Role) })
	return func() {
		from := append(heads(d), inkFoot(d))
		if n+1 >= len(from) {
			return
		}
		w.slice(d, w.left(), from[n], from[n+1])
		w.y += from[n+1] - from[n]
	}
}

// check is how a buyer checks the quantity without this program.
func (w *paper) check(f orders.Facts) block {
	if f.Delivered.Basis != measure.Ranked || f.Delivered.Volume <= 0 {
		return func() {}
	}
	return w.section(w.print.Heading("Check it yourself, before any is burned"), func() {
		w.paragraph(mainFace(), w.print.CheckHow())
		w.gap(0.8)
		w.checkBoxes(w.print.CheckBoxes())
		w.paragraph(mainFace(), w.print.CheckNear(f))
	})
}

// checkBoxes are boxes to write into, with what is done to them between.
func (w *paper) checkBoxes(boxes []string, divided, unit string) {
	const high, between = 8.0, 5.0
	divide := w.measure(boldFace(), divided) + 4
	wide := (w.inner() - float64(len(boxes)-1)*between - divide) / float64(len(boxes)+1)
	x, middle := w.left(), w.y+high/2+1.3
	put := func(name string) {
		w.frame(x, w.y, wide, high, hairline)
		w.at(x+1, w.y+3.2, noteFace(), name)
		x += wide
	}
	for i, name := range boxes {
		if i > 0 {
			w.middleAt(x+between/2, middle, boldFace(), "×")
			x += between
		}
		put(name)
	}
	w.middleAt(x+divide/2, middle, boldFace(), divided)
	x += divide
	put(unit)
	w.y += high + 0.4
}

// cautions are a section of their own where the picture is overleaf.
func (w *paper) cautions(f orders.Facts) block {
	return func() { w.list("Take care", w.print.Cautions(f.Storage)) }
}

// foot is what to take care of, the rules a receipt was issued under, and its seal.
func (w *paper) foot(cautions []string, f orders.Facts, seal string) block {
	return func() {
		w.gap(1.6)
		w.rule(hairline)
		w.gap(0.4)
		for _, line := range cautions {
			w.paragraph(noteFace(), line)
		}
		w.beside(
			span{1, 8, w.said(noteFace(), w.print.Rules(f.RuleSet))},
			span{9, gridColumns, func() {
				w.columns(column{x: w.right(), lines: w.lines(boldFace(), w.inner(), w.print.Heading("Seal")+" "+seal), right: true})
			}},
		)()
	}
}

// received is the lines to sign on; where somebody signed on a screen, with what for above
// them and what was drawn on its line.
func (w *paper) received(r orders.Receipt, sign block) block {
	if r.Signature == nil {
		return sign
	}
	return w.together(w.said(boldFace(), w.print.Signed(*r.Signature, r.Facts)), sign, func() { w.drawnName(r.Signature) })
}

// signedFor says again what is signed for.
func (w *paper) signedFor(f orders.Facts) block {
	return w.said(boldFace(), w.print.SignedFor(f))
}

// signatures are lines for both sides to write on, each with who writes there.
func (w *paper) signatures(heading, left, right string) block {
	return w.section(w.print.Heading(heading), func() {
		half := w.inner()/2 - gutter/2
		for i, who := range []string{left, right} {
			x := w.left() + float64(i)*(half+gutter)
			w.writeOn(x, w.y+7.5, half, "Printed name")
			w.rightAt(x+half, w.y+7.5+belowLine, labelFace(), w.print.Heading(who))
			w.writeOn(x, w.y+17, half*0.66, "Signature")
			w.writeOn(x+half*0.7, w.y+17, half*0.3, "Date")
		}
		w.y += 20.5
	})
}

// belowLine is how far under a line to write on its name is.
const belowLine = 3.4

// writeOn is a line to write on, named below.
func (w *paper) writeOn(x, y, width float64, name string) {
	w.line(x, y, x+width, y, hairline)
	w.at(x, y+belowLine, noteFace(), w.print.Heading(name))
}
