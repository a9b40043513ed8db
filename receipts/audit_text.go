package receipts

import (
	"fmt"

	"wellstowed/orders/audits"
)

// auditTexts are the texts of a report that people typed.
func auditTexts(r audits.Report, hash string) []named {
	s := r.Subject
	texts := []named{
		{"vendor.name", s.Vendor.Name}, {"vendor.address", s.Vendor.Address}, {"vendor.phone", s.Vendor.Phone},
		{"purchaser.name", s.Purchaser.Name}, {"purchaser.address", s.Purchaser.Address}, {"purchaser.phone", s.Purchaser.Phone},
		{"place", s.Place}, {"office", r.Capacity.Office}, {"badge", r.Capacity.Badge}, {"opened_by", r.OpenedBy},
		{"closed_by", r.ClosedBy}, {"hash", hash},
	}
	add := func(list string, i int, field, text string) {
		texts = append(texts, named{fmt.Sprintf("%s[%d].%s", list, i, field), text})
	}
	for i, n := range r.Notices {
		add("notices", i, "by", n.By)
		add("notices", i, "note", n.Note)
	}
	for i, t := range r.Attendances {
		add("attendances", i, "who", t.Who)
		add("attendances", i, "note", t.Note)
	}
	for i, h := range r.Holds {
		add("holds", i, "by", h.By)
		add("holds", i, "note", h.Note)
	}
	for i, p := range r.Plans {
		add("plans", i, "stop", p.Stop)
		add("plans", i, "reason", p.Reason)
		add("plans", i, "by", p.By)
	}
	for i, c := range r.Checklist {
		add("checklist", i, "note", c.Note)
		add("checklist", i, "by", c.By)
	}
	for i, p := range r.Photos {
		add("photos", i, "of", p.Of)
		add("photos", i, "by", p.By)
	}
	for i, n := range r.Notes {
		add("notes", i, "who", n.Who)
		add("notes", i, "text", n.Text)
		add("notes", i, "by", n.By)
	}
	for i, h := range r.Measurers {
		add("measurers", i, "name", h.Name)
		add("measurers", i, "role", h.Circumstances.Role)
		add("measurers", i, "tape_maker", h.Circumstances.TapeMaker)
		add("measurers", i, "tape_number", h.Circumstances.TapeNumber)
		add("measurers", i, "checked_by", h.Circumstances.CheckedBy)
		for j, struck := range h.Struck {
			texts = append(texts, named{fmt.Sprintf("measurers[%d].struck[%d].reason", i, j), struck.Reason})
		}
	}
	return append(texts, auditWood(r)...)
}

// auditWood are those that speak of the wood.
func auditWood(r audits.Report) []named {
	texts := []named{{"species", r.Subject.Species}, {"statement", r.Statement}}
	for i, h := range r.Measurers {
		texts = append(texts, named{fmt.Sprintf("measurers[%d].tally.condition", i), string(h.Tally.Condition)})
	}
	return texts
}
