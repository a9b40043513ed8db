package orders

import (
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A TicketRequest is what only some rules of sale ask of a receipt, as typed. Whatever of
// it is filled in is printed, asked for or not.
type TicketRequest struct {
	// Witnessed is "yes" where seller and buyer both saw the wood measured; "no", or
	// empty, which is not said.
	Witnessed           string `json:"witnessed"`
	MeasurerName        string `json:"measured_by"` // who measured or weighed the wood
	MeasurerAddress     string `json:"measured_by_address"`
	PackageCount        string `json:"package_count"` // how many wrapped packages; empty: none
	StackSize           string `json:"stack_size"`    // "16 ft × 4 ft × 32 in"
	DriedFor            string `json:"dried_for"`
	DriedHow            string `json:"dried_how"`
	MoistureCertificate string `json:"moisture_certificate"`
	Moving              string `json:"moving"` // code of the way it is sold under the rules on moving wood
}

// A Ticket is what only some rules of sale ask of a receipt: each text is empty where it
// was not filled in. Since format 3.
type Ticket struct {
	Witnessed           bool   `json:"witnessed,omitempty"`
	Packages            int    `json:"packages,omitempty"`
	StackSize           string `json:"stack_size,omitempty" names:"sale"`
	DriedFor            string `json:"dried_for,omitempty" names:"sale"`
	DriedHow            string `json:"dried_how,omitempty" names:"sale"`
	MoistureCertificate string `json:"moisture_certificate,omitempty" names:"sale"`
	// Moving is the way it is sold under the rules on moving wood, and MovingSays what the
	// receipt says of it.
	Moving     string `json:"moving,omitempty" names:"program"`
	MovingSays string `json:"moving_says,omitempty" names:"program"`
}

// mostPackages is the largest count of packages that is taken.
const mostPackages = 100_000

// ticket reads it, and who measured.
func (s *Service) ticket(f *act.Fields, set rules.Set, r TicketRequest) (t Ticket, measurer Party) {
	text := func(field, typed string) string {
		text := s.printable(f, field, f.Line(field, typed))
		f.Barred(set, field, text)
		return text
	}
	if r.Witnessed != "" {
		t.Witnessed = f.Yes("witnessed", r.Witnessed)
	}
	t.StackSize, t.DriedFor, t.DriedHow = text("stack_size", r.StackSize), text("dried_for", r.DriedFor), text("dried_how", r.DriedHow)
	t.MoistureCertificate = text("moisture_certificate", r.MoistureCertificate)
	t.Packages = packages(f, r.PackageCount)
	t.Moving, t.MovingSays = moving(f, set, r.Moving)
	measurer.Name = s.printable(f, "measured_by", f.Line("measured_by", r.MeasurerName))
	measurer.Address = s.printable(f, "measured_by_address", f.Lines("measured_by_address", r.MeasurerAddress))
	f.BarredInName(set, "measured_by", measurer.Name)
	f.BarredInName(set, "measured_by_address", measurer.Address)
	return t, measurer
}

// moving reads the way that the load is sold under the rules on moving wood, and gives what
// the receipt says of it.
func moving(f *act.Fields, set rules.Set, code string) (way, says string) {
	ways := set.Ways()
	if code == "" || len(ways) == 0 {
		return "", ""
	}
	if w := set.Way(code); w != nil {
		return w.Code, w.Prints
	}
	var codes []string
	for _, w := range ways {
		codes = append(codes, w.Code)
	}
	f.Add("moving", "unknown", code, measure.Say("these rules of sale know no such way"), measure.Say("%s", strings.Join(codes, ", ")))
	return "", ""
}

// checkMoving notes what the rules on moving wood ask for and the receipt lacks.
func checkMoving(f *act.Fields, set rules.Set, r Receipt) {
	if len(set.Ways()) == 0 || !r.Facts.Kind.HandsOver() {
		return
	}
	way := set.Way(r.Facts.Ticket.Moving)
	if way == nil {
		for _, fault := range f.Faults {
			if fault.Field == "moving" {
				return
			}
		}
		f.Missing("moving", measure.Say("how this wood may be moved"))
		return
	}
	for _, code := range way.Asks {
		field, where, lacks := r.Lacks(code)
		if lacks && !has(f, field) {
			f.Missing(field, where)
		}
	}
}

// has tells whether a field has a fault already.
func has(f *act.Fields, field string) bool {
	for _, fault := range f.Faults {
		if fault.Field == field {
			return true
		}
	}
	return false
}

// checkSeasoned notes wood that is called seasoned and was not dried as long as the rules
// take that for: by its batch, else by what was typed.
func checkSeasoned(f *act.Fields, set rules.Set, facts Facts) {
	if set.Seasoned == nil || facts.Seasoning != yard.Seasoned || !facts.Kind.HandsOver() {
		return
	}
	months, known := driedMonths(facts)
	asked := set.Seasoned.Months
	accepts := measure.Say("at least %d months, such as %d months; or green", asked, asked+6)
	switch {
	case !known && !has(f, "dried_for"):
		f.Add("dried_for", "missing", facts.Ticket.DriedFor, measure.Say("seasoned is a time here: %s (%s)", set.Seasoned.Text(), set.Seasoned.Source), accepts)
	case known && months < asked:
		f.Add("dried_for", "too-short", facts.Ticket.DriedFor, measure.Say("%d months aren’t seasoned here: %s (%s)", months, set.Seasoned.Text(), set.Seasoned.Source), accepts)
	}
}

// driedMonths is how many whole months a load's wood was dried: since its batch was split,
// or cut, else as typed.
func driedMonths(facts Facts) (months int, known bool) {
	if b := facts.Batch; b != nil {
		for _, day := range []act.Date{b.Split, b.Cut} {
			if !day.IsZero() {
				return day.DaysTo(facts.DeliveredOn) * 12 / 365, true
			}
		}
	}
	parts := driedText.FindStringSubmatch(strings.ToLower(facts.Ticket.DriedFor))
	if parts == nil {
		return 0, false
	}
	n, err := strconv.Atoi(parts[1])
	if strings.HasPrefix(parts[2], "year") {
		n *= 12
	}
	return n, err == nil
}

// driedText is a time of drying in words.
var driedText = regexp.MustCompile(`^(?:about |over |at least )?(\d{1,3}) ?(months?|years?)\b`)

// packages reads a count; empty is none.
func packages(f *act.Fields, text string) int {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > mostPackages {
		f.Add("package_count", "not-a-number", text, measure.Say("it isn’t a count of packages"), measure.Say("a whole number from 1 to %d, or nothing", mostPackages))
	}
	return n
}

// asks tells whether a rule's field is asked for of this receipt. Advice is never asked
// for.
func (r Receipt) asks(field rules.Field) bool {
	over := func(whole int64) bool {
		price := r.Facts.Price.Total()
		limit, err := money.Parse(strconv.FormatInt(whole, 10), price.Currency)
		return err != nil || price.Minor > limit.Minor
	}
	return !field.Advice && field.When.Holds(rules.Sale{Over: over, Volume: r.Facts.Delivered.Volume, Witnessed: r.Facts.Ticket.Witnessed})
}

// lacksOfTicket is lacks for what only some rules ask for. A settlement sells nothing: its
// receipt names the one that did, which has all of it.
func (r Receipt) lacksOfTicket(code string) (field string, where measure.Text, lacks bool) {
	if r.Facts.Kind == SettlementReceipt {
		return "", measure.Text{}, false
	}
	t := r.Facts.Ticket
	switch code {
	case "measurer-name":
		return "measured_by", measure.Say("the name of who measured or weighed the wood"), r.Measurer.Name == ""
	case "measurer-address":
		return "measured_by_address", measure.Say("the address of who measured or weighed the wood"), r.Measurer.Address == ""
	case "stack-size":
		return "stack_size", measure.Say("length, width and height when ranked, such as 16 ft × 4 ft × 32 in"), t.StackSize == ""
	case "drying-time":
		return "dried_for", measure.Say("how long the wood was dried, such as 14 months"), r.Facts.Seasoning.Dry() && t.DriedFor == ""
	case "drying-manner":
		return "dried_how", measure.Say("in what manner, such as split and stacked in the open, top covered"), r.Facts.Seasoning.Dry() && t.DriedHow == ""
	case "moisture-certificate":
		return "moisture_certificate", measure.Say("the number of the certificate"), t.MoistureCertificate == ""
	case "heat-certificate":
		return "order.certificate", measure.Say("the number of the heat-treatment certificate, in the order or of its batch"), r.Facts.Certificate == ""
	case "unit-price":
		p := r.Facts.Price
		return "order.price_per_cord", measure.Say("a price for one unit of the quantity, in the order"), p.PerCord.Minor == 0 && p.PerUnit.Minor == 0
	}
	return "", measure.Text{}, false
}

// A SaidFact is a text that rules of sale have a receipt carry, and where it comes from.
type SaidFact struct {
	Words  string `json:"words" names:"program"`
	Source string `json:"source" names:"program"`
}

// saysWith are the texts that a load's receipt carries.
func saysWith(set rules.Set, f Facts) []SaidFact {
	var says []SaidFact
	if !f.Kind.HandsOver() {
		return nil
	}
	for _, p := range set.PrintedWith(f.Delivered.Volume) {
		says = append(says, SaidFact{p.Words, p.Source})
	}
	return says
}
