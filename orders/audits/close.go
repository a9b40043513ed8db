package audits

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// A CloseRequest closes an audit, as typed.
type CloseRequest struct {
	ClosedBy  string `json:"closed_by"` // empty: who opened it
	Statement string `json:"statement"` // the finding in the auditor's own words, if any
	// Counted are pieces counted by species, "oak 14, maple 6", where the wood was sold
	// by shares of species; empty where none were counted.
	Counted string `json:"counted"`
}

// An Issued is the report of a closed audit as stored.
type Issued struct {
	Report Report
	Bytes  []byte // canonical JSON of Report
	Hash   string // SHA-256 of Bytes, hex
	PDF    []byte
}

// CloseAudit puts the measurers together, issues the report and closes the audit. It is
// Conflict with all that is missing.
func (s *Service) CloseAudit(ctx context.Context, by act.Act, id string, r CloseRequest) (Issued, error) {
	w := act.Write{Verb: Closing, Subject: id, May: act.ToAudit, Content: r}
	closing := act.Slow[Tx, file]{
		Read: func(tx Tx) (file, error) {
			if err := orders.SureOfClock(tx, s.acts.Now(), by); err != nil {
				return file{}, err
			}
			return s.auditFile(tx, id)
		},
		Prepare: func(f file) (func(Tx) (string, error), error) { return s.closeAudit(f, r) },
	}
	return act.DoSlow(ctx, s.acts, by, w, closing, issuedAudit)
}

// closeAudit paints the report and gives what writes it.
func (s *Service) closeAudit(f file, r CloseRequest) (func(Tx) (string, error), error) {
	report, err := s.reportOf(f, r)
	if err != nil {
		return nil, err
	}
	stored, err := s.paintAudit(f, report)
	if err != nil {
		return nil, err
	}
	return func(tx Tx) (string, error) {
		id := f.audit.ID
		now, err := tx.StoredAudit(id)
		if err != nil {
			return "", err
		}
		if now.Audit.Version != f.audit.Version {
			return "", act.ErrMoved
		}
		return id, tx.CloseAudit(id, f.audit.Version, stored, report.Result)
	}, nil
}

// A file is an audit with what its measurers read and its pictures: what a report is
// made of.
type file struct {
	desk
	readings [][]SavedReading // by hand
	pictures []Picture
}

func (s *Service) auditFile(tx Tx, id string) (f file, err error) {
	if f.desk, err = s.auditDesk(tx, id); err != nil {
		return f, err
	}
	for _, h := range f.audit.Measurers {
		readings, err := tx.AuditReadings(h.ID)
		if err != nil {
			return f, err
		}
		f.readings = append(f.readings, readings)
	}
	for _, p := range f.audit.Photos {
		shown, err := tx.AuditPhotoBytes(id, p.ID, false)
		if err != nil {
			return f, err
		}
		f.pictures = append(f.pictures, Picture{Photo: p, JPEG: shown})
	}
	return f, nil
}

// reportOf makes the report.
func (s *Service) reportOf(f file, r CloseRequest) (Report, error) {
	a := f.audit
	if a.State == Closed {
		return Report{}, act.NewConflict("audit %d is closed already", int(a.Number))
	}
	if err := a.missing(); err != nil {
		return Report{}, err
	}
	in := reader{service: s, d: f.desk}
	if r.ClosedBy == "" {
		r.ClosedBy = a.OpenedBy
	}
	report := Report{
		Format: ReportFormat, Number: a.Number, Issued: f.now, Language: f.shop.Language, Paper: f.shop.Paper,
		Units: f.shop.Units, Zone: f.shop.Zone, Model: stack.ModelNumber, Layout: s.printer.Layout(),
		Opened: a.Opened, OpenedBy: a.OpenedBy, ClosedBy: in.needed("closed_by", r.ClosedBy, measure.Say("the name of who closes it")),
		Capacity: a.Capacity, Subject: a.Subject, Days: a.Subject.DeliveredOn.DaysTo(act.DateOf(f.now.In(f.zone))),
		Notices: a.Notices, Attendances: a.Attendances, Holds: a.Holds, Plans: a.Plans, Checklist: a.Checklist,
		Photos: a.Photos, Notes: a.Notes, Statement: in.longText("statement", r.Statement),
		// An office's own database has no firm's name: then the office, or who opened it.
		Keeper: Keeper{Name: cmp.Or(f.shop.Name, a.Capacity.Office, a.OpenedBy), Seller: SellerKey(f.shop.Name) == SellerKey(a.Subject.Vendor.Name)},
		Shares: in.shares(a.Subject.Species, r.Counted),
	}
	printed := f.set.Unbarred()
	report.Rules = &printed
	if err := in.done(); err != nil {
		return Report{}, err
	}
	tallies, err := f.talliesInto(&report)
	if err != nil {
		return Report{}, err
	}
	report.Limits = limitsOf(a, report, tallies)
	weigh(report.Result.Finding, report.Limits)
	a.ClosedAt = report.Issued
	report.Dates = a.OutOfOrder(f.zone)
	report.Departures = append(belowProcedure(*a.Plan(), f.reckoning().Least()), departures(*a.Plan(), report.Measurers, tallies)...)
	report.Favour = favour(report, tallies)
	return report, nil
}

// talliesInto puts what the measurers read into the report, and puts it together.
func (f file) talliesInto(report *Report) ([]stack.Tally, error) {
	var tallies []stack.Tally
	for i, h := range f.audit.Measurers {
		measurer := Tally{Name: h.Name, Openings: h.Openings}
		for _, r := range f.readings[i] {
			if !r.Handed {
				continue
			}
			m, err := f.measure(r.Document)
			if err != nil {
				return nil, fmt.Errorf("readings of %s: %w", h.Name, err)
			}
			if !r.Struck.IsZero() {
				measurer.Struck = append(measurer.Struck, StruckTally{HandedIn: r.Created, Seal: r.Seal, Circumstances: r.Circumstances, Tally: m.Document, Volume: m.Result.Quantity, Struck: r.Struck, Reason: r.Reason})
				continue
			}
			measurer.HandedIn, measurer.Tally, measurer.Result = r.Created, m.Document, m.Result
			measurer.Seal, measurer.Circumstances = r.Seal, r.Circumstances
			measurer.Procedure = procedure.Of(m.Tally, f.reckoning())
			tallies = append(tallies, m.Tally)
		}
		report.Measurers = append(report.Measurers, measurer)
	}
	if len(tallies) == 1 {
		report.Result = report.Measurers[0].Result
		return tallies, nil
	}
	together, err := stack.Combine(tallies)
	if err != nil {
		return nil, err
	}
	report.Together, report.Result = &together, together.Result
	return tallies, nil
}

// reckoning is the procedure that readings are held to.
func (d desk) reckoning() procedure.Reckoning {
	return d.set.Reckoning(d.set.SoldIn(d.shop.Units == act.Metric))
}

// belowProcedure says where a plan asks for fewer readings than the procedure does.
func belowProcedure(plan Plan, least procedure.LeastCounts) []measure.Text {
	var all []measure.Text
	if plan.Kind != "rows" {
		return nil
	}
	fewer := func(planned, asked int, what string) {
		if planned < asked {
			all = append(all, measure.Say("The plan has %s: %d; the inspection procedure asks for %d.", measure.Say(what), planned, asked))
		}
	}
	fewer(plan.Stations, least.Heights, "heights in each row")
	if plan.Faces != BothFaces {
		fewer(0, least.Back, "heights of the back")
	}
	fewer(max(plan.Lengths, 1), least.Lengths, "lengths of each row at different heights")
	fewer(plan.Pieces, least.Pieces, "pieces")
	return all
}

// departures say where what was read is not as planned.
func departures(plan Plan, measurers []Tally, tallies []stack.Tally) []measure.Text {
	var all []measure.Text
	for i, t := range tallies {
		name := measurers[i].Name
		say := func(differs bool, key string, args ...any) {
			if differs {
				all = append(all, measure.Say(key, append([]any{name}, args...)...))
			}
		}
		say(t.Tape > plan.Tape, "%s read a tape to %s; %s was planned.", t.Tape, plan.Tape)
		say(t.Top != plan.Top, "%s judged the top of the wood otherwise than planned.")
		rows, ok := t.Stack.(stack.Rows)
		if !ok {
			continue
		}
		taped := len(rows.Pieces.Sample)
		for n, row := range rows.Rows {
			taped += len(row.Pieces.Sample)
			if row.Photo != nil {
				say(true, "%s read the face of row %d from a photo; heights with a tape were planned.", n+1)
				continue
			}
			say(len(row.Heights) < plan.Stations, "%s read row %d at %d places; %d were planned.", n+1, len(row.Heights), plan.Stations)
			say(max(len(row.Lengths), 1) < plan.Lengths, "%s read the length of row %d at %d heights; %d were planned.", n+1, max(len(row.Lengths), 1), plan.Lengths)
			say(plan.Faces == BothFaces && len(row.Back) == 0, "%s did not read the back of row %d; both faces were planned.", n+1)
		}
		say(taped < plan.Pieces, "%s taped %d pieces; %d were planned.", taped, plan.Pieces)
	}
	return all
}

// favour lists what was reckoned in the seller's favour.
func favour(r Report, tallies []stack.Tally) []measure.Text {
	var all []measure.Text
	if f := r.Result.Finding; f != nil && f.Alpha > 0 {
		all = append(all, measure.Say("What the readings leave open counts for the seller: it is called short only where readings this low would be rarer than one in %d if all of it were here.", int(1/f.Alpha+0.5)))
	}
	if slices.ContainsFunc(tallies, cribbed) {
		all = append(all, measure.Say("Cribbed ends were counted as whole wood before it may be called short."))
	}
	if f := r.Result.Finding; f != nil && f.Drying != nil {
		all = append(all, measure.Say("The wood was sold green and measured dry: it is called short only against %s, which is what is due less its shrinkage.", f.Drying.DueDry))
	}
	if apart := r.Holds[len(r.Holds)-1].Apart; apart.Quantity.Volume > 0 {
		all = append(all, measure.Say("%s that is not in the stack was counted as delivered.", apart.Quantity))
	}
	for _, measurer := range r.Measurers {
		if added := measurer.Procedure.InSellersFavour(); added > 0 {
			all = append(all, measure.Say("By the procedure, what %s read was rounded in the seller’s favour, by %s in all.", measurer.Name, added))
		}
	}
	return all
}

func cribbed(t stack.Tally) bool {
	rows, ok := t.Stack.(stack.Rows)
	return ok && slices.ContainsFunc(rows.Rows, func(r stack.Row) bool {
		return r.Ends[0].Kind == stack.Cribbed || r.Ends[1].Kind == stack.Cribbed
	})
}

func (s *Service) paintAudit(f file, report Report) (StoredReport, error) {
	stored := StoredReport{Issued: report.Issued}
	var err error
	if stored.Bytes, err = ledger.Lasting(report); err != nil {
		return stored, err
	}
	stored.Hash = ledger.Hash(stored.Bytes)
	if stored.PDF, err = s.printer.Audit(report, stored.Hash, f.pictures); err != nil {
		return stored, err
	}
	stored.PDFHash = ledger.Hash(stored.PDF)
	return stored, nil
}

// AuditReport gives the report of a closed audit with the bytes as they were written.
func (s *Service) AuditReport(ctx context.Context, who act.Actor, id string) (issued Issued, err error) {
	if err := act.Allow(who, act.ToAudit); err != nil {
		return Issued{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		issued, err = issuedAudit(tx, id)
		return err
	})
	return issued, act.Fail(err)
}

func issuedAudit(tx Tx, id string) (Issued, error) {
	a, err := tx.StoredAudit(id)
	if err != nil {
		return Issued{}, err
	}
	if !a.Audit.Erased.IsZero() {
		return Issued{}, act.NewConflict("the report of audit %d was erased with the names in it; its result stays", int(a.Audit.Number))
	}
	stored, err := tx.StoredAuditReport(id)
	if err != nil {
		return Issued{}, err
	}
	issued := Issued{Bytes: stored.Bytes, Hash: stored.Hash, PDF: stored.PDF}
	if err := json.Unmarshal(stored.Bytes, &issued.Report); err != nil {
		return Issued{}, fmt.Errorf("report of audit %s: %w", id, err)
	}
	return issued, nil
}
