//go:build !wasm

package words

import (
	"cmp"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
)

// ForCase is a printer for whoever looks at a case.
func ForCase(f cases.File) *Printer {
	return New(f.Language, f.Units).Under(f.Set).SoldIn(f.Unit)
}

// A CaseStep is what a buyer does next, in words.
type CaseStep struct {
	Lead  string
	Lines []string
}

// CaseStep words the next step of a case.
func (p *Printer) CaseStep(f cases.File) CaseStep {
	switch f.Step {
	case cases.AskAmount:
		return CaseStep{p.say("Next: ask the seller for the amount in writing. Until then this can be neither short nor full."), p.askAmount(f)}
	case cases.MeasureMore:
		return CaseStep{p.say("Next: measure more, before anything is said of a shortage."), p.Advice(stack.Buyer, f.Case.Latest().Result)}
	case cases.RankFirst:
		return CaseStep{p.say("Next: stack it in rows and measure those. What was measured so far can show neither short nor full."), p.stackSo(f)}
	case cases.NothingShown:
		return CaseStep{p.say("By these readings there is nothing to claim."), []string{
			p.say("Keep the receipt and the readings."),
			p.say("If wood is missing that these readings could not see, measure again and say what changed."),
		}}
	case cases.MeasureFirst:
		return CaseStep{p.say("Next: stack it and measure it, before any is burned."), append(p.stackSo(f), p.askAmount(f)...)}
	}
	return p.stepOfShort(f)
}

// askAmount is what to do about a sale in words that name no measure; none where a
// quantity was bought.
func (p *Printer) askAmount(f cases.File) []string {
	switch {
	case !f.Case.Account.AsWords:
		return nil
	case p.InCords():
		return []string{p.say("Ask the seller to write down the amount in cords. A cord is %s of wood, stacked in rows. Then change what was bought to that amount.", measure.Cord)}
	case f.Units == act.Metric:
		return []string{p.say("Ask the seller to write down the amount in cubic metres, stacked. Then change what was bought to that amount.")}
	}
	return []string{p.say("Ask the seller to write down the amount in cubic feet, stacked. Then change what was bought to that amount.")}
}

// Bought is what was bought: the quantity, or the words of a sale that named none,
// which stand between quotation marks: what was said, whatever the rules bar.
func (p *Printer) Bought(f cases.File) string {
	a := f.Case.Account
	switch {
	case !a.AsWords:
		return p.Quantity(a.Quantity)
	case a.Words == "": // erased
		return p.say("in words that name no lawful measure")
	}
	return p.say("“%s”", a.Words)
}

// NoMeasure says that the words of a sale name no lawful measure, in quotation marks;
// empty where a quantity was bought.
func (p *Printer) NoMeasure(f cases.File) string {
	a := f.Case.Account
	switch {
	case !a.AsWords:
		return ""
	case a.Words == "":
		return p.say("Sold in words that name no lawful measure.")
	}
	return p.say("Sold as “%s”: those words name no lawful measure.", a.Words)
}

// stackSo is how to stack wood that is to be measured, and what of it was used.
func (p *Printer) stackSo(f cases.File) []string {
	var lines []string
	if f.Case.Account.Stacked != cases.Yes {
		lines = append(lines, p.say("Stack it apart from other wood: pieces parallel and touching, none criss-cross."))
	}
	if f.Case.Account.Used == cases.Yes {
		lines = append(lines, p.say("Some of it has been used: say how much when you measure, or the question stays open."))
	}
	return append(lines, p.say("Read each row’s length and heights and a few pieces, and photograph the stack with the tape on it."))
}

// stepOfShort is the step where the readings show a shortage.
func (p *Printer) stepOfShort(f cases.File) CaseStep {
	keep := p.say("Keep this wood apart, unburned and unmoved, until it is settled.")
	switch f.Step {
	case cases.AwaitSeller:
		return CaseStep{p.say("The seller has been told and has not answered yet."), []string{
			keep, p.say("If no answer comes, the next step is the weights and measures office of your county or state."),
		}}
	case cases.WeighAnswer:
		return CaseStep{p.say("The seller has answered. Next: say whether you accept it."), []string{
			keep, p.say("Not accepted, the next step is the weights and measures office of your county or state."),
		}}
	case cases.Carried:
		return CaseStep{p.say("You accepted the seller’s answer."), []string{
			p.say("Keep this wood as it is until it is carried out."), p.say("If wood is brought, stack it with the rest and measure again."),
		}}
	case cases.WithOffice:
		return CaseStep{p.say("The office has been asked."), []string{p.say("Leave the wood stacked, unburned and unmoved until somebody from it has measured it.")}}
	case cases.AskOffice:
		lines := []string{p.say("It measures wood that is stacked: leave it unburned and unmoved until it has."),
			p.say("It asks for names and addresses of both, day of delivery, quantity and cost, how it was paid, whether a slip was left, whether any was used, and whether it is closely stacked.")}
		return CaseStep{p.say("Next: ask the weights and measures office of your county or state."), append(lines, p.Lacking(f)...)}
	}
	return CaseStep{p.say("Next: tell the seller, before any is burned."), []string{
		p.say("Speak to the seller first. The words below hold your figures and blame nobody."), keep,
	}}
}

// Lacking names what an office would ask that is not recorded, in one line; none where
// nothing is missing.
func (p *Printer) Lacking(f cases.File) []string {
	if len(f.Lacking) == 0 {
		return nil
	}
	names := make([]string, len(f.Lacking))
	for i, l := range f.Lacking {
		names[i] = p.say(lackedKey(l))
	}
	return []string{p.say("Not recorded yet: %s.", strings.Join(names, "; "))}
}

func lackedKey(l cases.Lacked) string {
	switch l {
	case cases.LackSellerName:
		return "the seller’s name"
	case cases.LackSellerAddress:
		return "the seller’s address"
	case cases.LackBuyerName:
		return "your name"
	case cases.LackBuyerAddress:
		return "your address"
	case cases.LackPrice:
		return "what was paid"
	case cases.LackPayment:
		return "how it was paid"
	case cases.LackSlip:
		return "whether a slip was left"
	case cases.LackUsed:
		return "whether any has been used"
	}
	return "whether it is closely stacked"
}

// ReadyClaim are sentences for the seller with the buyer's figures; empty unless the
// last readings show a shortage.
func (p *Printer) ReadyClaim(f cases.File) string {
	latest := f.Case.Latest()
	if latest == nil || latest.Result.Finding == nil || latest.Result.Finding.Word != stack.Short {
		return ""
	}
	r, a := latest.Result, f.Case.Account
	parts := []string{
		p.say("On %s you delivered %s.", a.DeliveredOn, a.Quantity),
		p.measuredLess(r),
	}
	if a.Used == cases.No {
		parts = append(parts, p.say("None of it has been used."))
	}
	return strings.Join(append(parts, p.askMissing()), " ")
}

// Since says how many days ago the wood was delivered.
func (p *Printer) Since(f cases.File) string {
	switch days, on := f.Days(), f.Case.Account.DeliveredOn; {
	case days < 0:
		return p.say("To be delivered on %s.", on)
	case days == 0:
		return p.say("Delivered today, %s.", on)
	case days == 1:
		return p.say("Delivered 1 day ago, on %s.", on)
	default:
		return p.say("Delivered %d days ago, on %s.", days, on)
	}
}

// WithTime says what changes as days pass, and what the rules say of it.
func (p *Printer) WithTime(f cases.File) []string {
	lines := []string{
		p.say("Measure before any is burned, and soon: an office asks how long ago it was and whether any has been used."),
		p.say("Wood sold green shrinks as it dries. Where it has dried since, say so when you measure: an allowance is made for it."),
		p.say("No date for a complaint is known to this program. Your office knows whether there is one."),
	}
	if r := f.Set.Retention; r != nil {
		lines = append(lines, p.say("By the rules of this sale a seller keeps copies of receipts for at least %d months (%s).", r.Months, p.Mark(r.Known)))
	}
	return lines
}

// CaseFacts are what was bought, of whom, when, and how it was paid.
func (p *Printer) CaseFacts(f cases.File) []Fact {
	a := f.Case.Account
	facts := []Fact{{p.say("Bought"), p.Bought(f)}}
	wood := a.Wood
	if a.PieceLength > 0 {
		wood = strings.TrimPrefix(wood+", "+p.say("%s pieces", a.PieceLength), ", ")
	}
	for _, fact := range []Fact{
		{p.say("Wood"), wood}, {p.say("Seller"), partyLines(a.Seller)}, {p.say("Buyer"), partyLines(a.Buyer)},
		{p.say("Vehicle"), a.Vehicle}, {p.say("Delivered"), p.Date(a.DeliveredOn)}, {p.say("Price"), p.paid(a)},
		{p.say("Ticket left"), p.YesNo(a.Slip)}, {p.say("Used, burned or moved"), p.YesNo(a.Used)}, {p.say("Closely stacked"), p.YesNo(a.Stacked)},
	} {
		facts = append(facts, Fact{fact.Label, p.Said(fact.Text)})
	}
	return facts
}

func partyLines(party orders.Party) string {
	lines := slices.DeleteFunc([]string{party.Name, party.Address, party.Phone}, func(s string) bool { return s == "" })
	return strings.Join(lines, "\n")
}

func (p *Printer) paid(a cases.Statement) string {
	price, how := "", p.HowPaid(a.Payment)
	if a.Price.Currency != "" {
		price = p.Money(a.Price)
	}
	return strings.Trim(price+", "+how, ", ")
}

// YesNo words an answer; empty where none was given.
func (p *Printer) YesNo(a cases.YesNo) string {
	if a == "" {
		return ""
	}
	return p.say(string(a))
}

// HowPaid words a way of paying; empty where it was not said.
func (p *Printer) HowPaid(way orders.PaymentMethod) string {
	switch way {
	case orders.Cash:
		return p.say("in cash")
	case orders.Cheque:
		return p.say("by cheque")
	case orders.Card:
		return p.say("by card")
	case orders.Transfer:
		return p.say("by transfer")
	case orders.NotYetPay:
		return p.say("not paid yet")
	}
	return ""
}

// A TicketLine is one required field of a ticket and whether it stands there.
type TicketLine struct{ Name, State string }

// TicketStates are the states a field may be in, in the order they are told.
func (p *Printer) TicketStates() []string {
	return []string{p.say("on it"), p.say("not on it"), p.say("not looked for")}
}

// Ticket are the fields that the rules ask of a ticket, each with whether it is there;
// none where no ticket was left. A receipt of this shop holds them all, or it would not
// have been made.
func (p *Printer) Ticket(f cases.File) []TicketLine {
	a := f.Case.Account
	if a.Slip == cases.No {
		return nil
	}
	lines := make([]TicketLine, len(f.Set.Required))
	for i, field := range f.Set.Required {
		lines[i] = TicketLine{p.say(field.Name), p.onTicket(f, field)}
	}
	return lines
}

func (p *Printer) onTicket(f cases.File, field rules.Field) string {
	switch {
	case f.Case.Receipt != 0, slices.Contains(f.Case.Account.Has, field.Code):
		return p.say("on it")
	case slices.Contains(f.Case.Account.Lacks, field.Code):
		return p.say("not on it")
	}
	return p.say("not looked for")
}

// EntryHead says whose words an entry is and when they were written, and by whom where
// that is somebody else.
func (p *Printer) EntryHead(f cases.File, e cases.Entry) string {
	who := p.say("The buyer")
	if e.Party == stack.Seller {
		who = p.say("The seller")
		if f.Case.Receipt == 0 {
			who = p.say("The seller, as the buyer wrote it down")
		}
	}
	return p.say("%s, %s", who, p.Time(e.At, f.Zone))
}

// EntrySays is what an entry asks for, offers or answers, before its own words; empty
// where those are all.
func (p *Printer) EntrySays(e cases.Entry) string {
	switch e.Kind {
	case cases.Answer:
		return p.offers(e.Remedy)
	case cases.Reply:
		if e.Accepts == cases.Yes {
			return p.say("Accepts the seller’s answer.")
		}
		return p.say("Does not accept the seller’s answer.")
	case cases.Office:
		return p.say("Has asked an office.")
	}
	switch e.Remedy {
	case cases.BringWood:
		return p.say("Asks for the wood that is missing.")
	case cases.GiveMoney:
		return p.say("Asks for money back.")
	case cases.Together:
		return p.say("Asks to measure it together.")
	}
	return ""
}

func (p *Printer) offers(r cases.Remedy) string {
	switch r {
	case cases.BringWood:
		return p.say("Offers to bring the wood that is missing.")
	case cases.GiveMoney:
		return p.say("Offers money back.")
	case cases.Together:
		return p.say("Offers to come and measure it together.")
	}
	return p.say("Does not agree.")
}

// BuyersOwn says what a case's readings are.
func (p *Printer) BuyersOwn() string {
	return p.say("A buyer’s own measurement, not an official one.")
}

// CaseRules names the rules a case is printed under.
func (p *Printer) CaseRules(f cases.File) string {
	return p.say("Rules of sale: %s, edition %s. %s", f.Set.Name, f.Set.Edition, p.NotAdvice(f.Set))
}

// Measuring says who took a buyer's tally and when, and as which look.
func (p *Printer) Measuring(f cases.File, t cases.Tally, tally stack.Tally) string {
	return p.say("%s, %s, check %d", p.Reader(t.By, tally.By), p.Time(t.Created, f.Zone), t.Look)
}

// CaseDays are what happened to a delivery, oldest first.
func (p *Printer) CaseDays(f cases.File) []string {
	type event struct {
		at   int64
		text string
	}
	var events []event
	for _, t := range f.Case.Tallies {
		events = append(events, event{t.Created.UnixMicro(), p.say("%s: measured by %s: %s", p.Time(t.Created, f.Zone), t.By, p.Finding(t.Result))})
	}
	for _, e := range f.Case.Entries {
		events = append(events, event{e.At.UnixMicro(), p.say("%s: %s", p.EntryHead(f, e), p.entryKind(e))})
	}
	slices.SortStableFunc(events, func(a, b event) int { return cmp.Compare(a.at, b.at) })
	lines := []string{p.say("%s: delivered", p.Date(f.Case.Account.DeliveredOn))}
	for _, e := range events {
		lines = append(lines, e.text)
	}
	return lines
}

func (p *Printer) entryKind(e cases.Entry) string {
	switch e.Kind {
	case cases.Claim:
		return p.say("says what is wrong")
	case cases.Answer:
		return p.say("answers")
	case cases.Reply:
		return p.say("replies")
	}
	return p.say("has asked an office")
}

// Capital is text with a capital first letter.
func Capital(text string) string {
	for _, r := range text {
		first := string(r)
		return strings.ToUpper(first) + text[len(first):]
	}
	return ""
}
