//go:build !wasm

package words

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/journal"
)

// JournalLine is who did what, and when, of something's history.
func (p *Printer) JournalLine(l journal.Line, zone string) string {
	when := p.Time(l.At, zone)
	if l.Verb == journal.Tables {
		return p.Say(measure.Say("%s: the journal goes back to here.", when))
	}
	said, known := did(l.Verb, whoDid(l))
	if !known { // a newer program wrote it
		said = measure.Say("%s did “%s”", whoDid(l), l.Verb)
	}
	return p.Say(measure.Say("%s: %s.", when, said))
}

// whoDid is the person of an act; who sits at the machine before anybody signs in has no
// name, nor has a buyer who comes by a link.
func whoDid(l journal.Line) any {
	switch {
	case l.Person == "owner":
		return measure.Say("the owner")
	case l.Person != "":
		return l.Person
	case slices.Contains([]string{"change case", "measure case", "add entry"}, l.Verb):
		return measure.Say("the buyer, by the link,")
	}
	return measure.Say("the program")
}

// did says what an act did, by its verb, and whether that is known.
func did(verb string, who any) (measure.Text, bool) {
	text, known := map[string]measure.Text{
		"take order":             measure.Say("%s took the order", who),
		"change order":           measure.Say("%s changed the order", who),
		"cancel order":           measure.Say("%s cancelled the order", who),
		"set day":                measure.Say("%s set the day", who),
		"set aside":              measure.Say("%s set wood aside for the order", who),
		"deliver":                measure.Say("%s delivered, and the receipt was made", who),
		"put a delivery down":    measure.Say("%s delivered; the receipt could be taken back for a minute", who),
		"take a delivery back":   measure.Say("%s took the delivery back", who),
		"save tally":             measure.Say("%s saved a measurement", who),
		"correct receipt":        measure.Say("%s corrected a receipt", who),
		"void receipt":           measure.Say("%s made a receipt void", who),
		"add payment":            measure.Say("%s recorded a payment", who),
		"reverse payment":        measure.Say("%s took a payment back", who),
		"receive signed copy":    measure.Say("%s recorded that a voucher’s signed copy came back", who),
		"agree settlement":       measure.Say("%s agreed with the buyer how the shortage is settled", who),
		"bring wood owed":        measure.Say("%s brought wood that was owed", who),
		"give money owed":        measure.Say("%s gave money that was owed", who),
		"add moisture":           measure.Say("%s recorded moisture readings", who),
		"make link":              measure.Say("%s made a link for the buyer", who),
		"withdraw link":          measure.Say("%s withdrew the buyer’s link", who),
		"open case":              measure.Say("%s opened a record of wood bought", who),
		"change case":            measure.Say("%s changed the record of wood bought", who),
		"measure case":           measure.Say("%s measured for the record of wood bought", who),
		"add entry":              measure.Say("%s wrote into the record of wood bought", who),
		"make wish":              measure.Say("%s put it on the waiting list", who),
		"take wish":              measure.Say("%s made an order of a place on the waiting list", who),
		"drop wish":              measure.Say("%s dropped a place on the waiting list", who),
		"add customer":           measure.Say("%s added the customer", who),
		"change customer":        measure.Say("%s changed what is kept of the customer", who),
		"merge customers":        measure.Say("%s made two customers one", who),
		"drop customer":          measure.Say("%s deleted a customer", who),
		"import customers":       measure.Say("%s brought in a list of customers", who),
		"add body":               measure.Say("%s taped a truck or trailer bed", who),
		"retire body":            measure.Say("%s took a truck or trailer bed off the list", who),
		"put up batch":           measure.Say("%s put up a batch of wood", who),
		"correct batch":          measure.Say("%s corrected the details of a batch", who),
		"count batch":            measure.Say("%s counted a batch", who),
		"end batch":              measure.Say("%s ended a batch", who),
		"add vehicle":            measure.Say("%s added a vehicle", who),
		"retire vehicle":         measure.Say("%s took a vehicle off the list", who),
		"set yard":               measure.Say("%s said where the yard is", who),
		"arrange road":           measure.Say("%s put the day’s orders onto vehicles", who),
		"change road":            measure.Say("%s changed the day’s trips by hand", who),
		"load vehicle":           measure.Say("%s said what was loaded", who),
		"open audit":             measure.Say("%s opened the audit", who),
		"notify seller":          measure.Say("%s recorded what the seller was told", who),
		"note attendance":        measure.Say("%s recorded who was there", who),
		"hold wood":              measure.Say("%s recorded how the wood is kept as it is", who),
		"plan audit":             measure.Say("%s fixed or amended the plan", who),
		"add measurer":           measure.Say("%s added a measurer", who),
		"renew measurer":         measure.Say("%s renewed a measurer’s link", who),
		"answer checklist":       measure.Say("%s answered the checklist", who),
		"add photo":              measure.Say("%s added a photo", who),
		"note audit":             measure.Say("%s added a note", who),
		"close audit":            measure.Say("%s closed the audit", who),
		"save reading":           measure.Say("%s saved or handed in readings", who),
		"draw lot":               measure.Say("%s drew a sample of packages", who),
		"set price":              measure.Say("%s set a price", who),
		"end price":              measure.Say("%s ended a price", who),
		"import prices":          measure.Say("%s brought in a price list", who),
		"change shop":            measure.Say("%s changed the shop’s settings", who),
		"change charges":         measure.Say("%s changed what is charged besides the wood", who),
		"erase names":            measure.Say("%s erased old names", who),
		"make calendar link":     measure.Say("%s made a link for a calendar", who),
		"withdraw calendar link": measure.Say("%s withdrew a calendar’s link", who),
		"add person":             measure.Say("%s added a person who signs in", who),
		"change person":          measure.Say("%s changed a person who signs in", who),
		"make code for person":   measure.Say("%s made a one-time code for a person", who),
		"end sessions":           measure.Say("%s ended sessions", who),
		"set password":           measure.Say("%s set a password", who),
		"make recovery codes":    measure.Say("%s made recovery codes", who),
		"begin shop":             measure.Say("%s began the shop", who),
		"keep photo":             measure.Say("%s kept a photo with the order", who),
		"drop photo":             measure.Say("%s removed a photo of the order", who),
		"keep readings":          measure.Say("%s kept readings without an order", who),
		"drop readings":          measure.Say("%s dropped readings without an order", who),
		"make token for program": measure.Say("%s let a program in", who),
		"add passkey":            measure.Say("%s added a passkey", who),
		"remove passkey":         measure.Say("%s removed a passkey", who),
		journal.ByItself:         measure.Say("%s kept the file in order by itself", who),
		"clear file":             measure.Say("%s cleared what was erased out of the file", who),
		"note backup":            measure.Say("%s recorded a backup", who),
	}[verb]
	return text, known
}

// JournalFields names what an act changed of rows that were there, empty for none.
func (p *Printer) JournalFields(l journal.Line) string {
	var names []string
	for _, r := range l.Rows {
		for _, f := range r.Fields {
			name := p.Say(measure.Say(strings.ReplaceAll(f, "_", " ")))
			if f != "version" && f != "changed" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return p.Say(measure.Say("Changed: %s.", strings.Join(names, ", ")))
}
