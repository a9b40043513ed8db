package orders

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
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
}

// A Ticket is what only some rules of sale ask of a receipt: each text is empty where it
// was not filled in. Since format 3.
type Ticket struct {
	Witnessed           bool   `json:"witnessed,omitempty"`
	Packages            int    `json:"packages,omitempty"`
	StackSize           string `json:"stack_size,omitempty"`
	DriedFor            string `json:"dried_for,omitempty"`
	DriedHow            string `json:"dried_how,omitempty"`
	MoistureCertificate string `json:"moisture_certificate,omitempty"`
}

// mostPackages is the largest count of packages that is taken.
const mostPackages = 100_000

// ticket reads it, and who measured.
func (s *Service) ticket(f *fields, set rules.Set, r TicketRequest) (t Ticket, measurer Party) {
	text := func(field, typed string) string {
		text := s.printable(f, field, f.line(field, typed))
		f.barred(set, field, text)
		return text
	}
	if r.Witnessed != "" {
		t.Witnessed = f.yes("witnessed", r.Witnessed)
	}
	t.StackSize, t.DriedFor, t.DriedHow = text("stack_size", r.StackSize), text("dried_for", r.DriedFor), text("dried_how", r.DriedHow)
	t.MoistureCertificate = text("moisture_certificate", r.MoistureCertificate)
	t.Packages = f.packages(r.PackageCount)
	measurer.Name = s.printable(f, "measured_by", f.line("measured_by", r.MeasurerName))
	measurer.Address = s.printable(f, "measured_by_address", f.lines("measured_by_address", r.MeasurerAddress))
	f.barredInName(set, "measured_by", measurer.Name)
	f.barredInName(set, "measured_by_address", measurer.Address)
	return t, measurer
}

// packages reads a count; empty is none.
func (f *fields) packages(text string) int {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > mostPackages {
		f.add("package_count", "not-a-number", text, measure.Say("it isn’t a count of packages"), measure.Say("a whole number from 1 to %d, or nothing", mostPackages))
	}
	return n
}

// asks tells whether a rule's field is asked for of this receipt. Advice is never asked
// for.
func (r Receipt) asks(field rules.Field) bool {
	over := func(whole int64) bool {
		price := r.Facts.Price.Total()
		limit, err := ParseMoney(strconv.FormatInt(whole, 10), price.Currency)
		return err != nil || price.Minor > limit.Minor
	}
	return !field.Advice && field.When.Holds(over, r.Facts.Ticket.Witnessed)
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
		return "dried_for", measure.Say("how long the wood was dried, such as 14 months"), r.Facts.Seasoning.dry() && t.DriedFor == ""
	case "drying-manner":
		return "dried_how", measure.Say("in what manner, such as split and stacked in the open, top covered"), r.Facts.Seasoning.dry() && t.DriedHow == ""
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
