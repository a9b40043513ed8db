package proof

import (
	"encoding/json"
	"slices"

	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
)

// audits holds the reports of closed audits, and the photos they name, against their
// hashes, what is kept beside a report against it, and the numbers of the cases against
// their counter.
func (v *verifier) audits(tx audits.Tx) error {
	last, err := tx.LastNumber(audits.Numbers)
	if err != nil {
		return err
	}
	all, err := tx.AuditIDs()
	if err != nil {
		return err
	}
	next := int64(1)
	for _, a := range all {
		if a.Number > next {
			v.faultRange("audit", next, a.Number-1, "is missing", "are missing")
		}
		next = a.Number + 1
		if err := v.audit(tx, a); err != nil {
			return err
		}
	}
	switch {
	case last >= next:
		v.faultRange("audit", next, last, "is missing", "are missing")
	case last < next-1:
		v.fault("audit %d: the counter of audits is at %d", int(next-1), int(last))
	}
	return nil
}

// An auditPapers is what is kept of a closed audit.
type auditPapers struct {
	line   audits.Line
	stored audits.StoredAudit
	report audits.Report
}

func (v *verifier) audit(tx audits.Tx, a audits.ID) error {
	n := int(a.Number)
	var p auditPapers
	var err error
	if p.stored, err = tx.StoredAudit(a.ID); err == nil {
		p.line, err = tx.AuditLine(a.ID)
	}
	switch {
	case act.KindOf(err) == act.NotFound:
		v.fault("audit %d: its report is missing", n)
		return nil
	case err != nil:
		v.fault("audit %d: its stored data cannot be read", n)
		return nil
	}
	if !p.stored.Audit.Erased.IsZero() {
		v.found.BlankAudits++
		return nil
	}
	kept, err := tx.StoredAuditReport(a.ID)
	if act.KindOf(err) == act.NotFound { // it is open
		v.readings(tx, p.stored.Audit, nil)
		return nil
	}
	if err != nil {
		return err
	}
	if ledger.Hash(kept.PDF) != kept.PDFHash {
		v.fault("audit %d: its PDF is not the one it was closed with", n)
	}
	if ledger.Hash(kept.Bytes) == kept.Hash && json.Unmarshal(kept.Bytes, &p.report) == nil {
		v.besideReport(tx, p, kept)
	} else {
		v.fault("audit %d: its report is not the one it was closed with", n)
	}
	return v.photos(tx, a, p.stored.Audit.Photos)
}

// besideReport holds what is kept beside a report against it.
func (v *verifier) besideReport(tx audits.Tx, p auditPapers, kept audits.StoredReport) {
	n := int(p.line.Number)
	v.readings(tx, p.stored.Audit, &p.report)
	if !p.agree() || !kept.Issued.Equal(p.report.Issued) {
		v.fault("audit %d: what is kept beside its report differs from it", n)
	}
	if !slices.Equal(p.stored.Audit.Photos, p.report.Photos) {
		v.fault("audit %d: its photos are not those of its report", n)
	}
}

// agree tells whether the columns that lists and series are read from say what the
// report says.
func (p auditPapers) agree() bool {
	l, r := p.line, p.report
	same := l.State == audits.Closed && l.Number == r.Number && l.Receipt == r.Subject.Receipt.Number && l.Seller == r.Subject.Vendor.Name &&
		l.Sold == r.Subject.Sold && l.DeliveredOn == r.Subject.DeliveredOn && l.Opened.Equal(r.Opened) && l.ClosedAt.Equal(r.Issued)
	if !same || l.Result == nil || (r.Result.Finding == nil) != (l.Word == "") || l.Word != "" && l.Word != r.Result.Finding.Word {
		return false
	}
	result, err := json.Marshal(l.Result)
	if err != nil || !sameJSON(result, r.Result) {
		return false
	}
	subject, err := json.Marshal(p.stored.Audit.Subject)
	return err == nil && sameJSON(subject, r.Subject)
}

// photos holds the photos of an audit against their hashes.
func (v *verifier) photos(tx audits.Tx, a audits.ID, all []photos.Photo) error {
	for _, photo := range all {
		original, err := tx.AuditPhotoBytes(a.ID, photo.ID, true)
		if err != nil && act.KindOf(err) != act.NotFound {
			return err
		}
		if ledger.Hash(original) != photo.SHA256 {
			v.fault("audit %d: the photo “%s” is not the one that was kept", int(a.Number), photo.Of)
		}
	}
	return nil
}

// readings holds what was handed in against the code it was sealed with, and against the
// report of a closed audit; readings from before they were sealed have no code.
func (v *verifier) readings(tx audits.Tx, a audits.Audit, report *audits.Report) {
	for i, m := range a.Measurers {
		all, err := tx.AuditReadings(m.ID)
		if err != nil {
			v.fault("audit %d: its stored data cannot be read", int(a.Number))
			continue
		}
		handed := slices.DeleteFunc(all, func(r audits.SavedReading) bool { return !r.Handed })
		for _, r := range handed {
			if seal, err := r.Sealed(m.ID); (r.Seal != "" || len(r.Salt) > 0) && (err != nil || seal != r.Seal) {
				v.fault("audit %d: readings of %s are not the ones that were sealed", int(a.Number), m.Name)
			}
		}
		if report != nil && (i >= len(report.Measurers) || !madeOf(report.Measurers[i], handed)) {
			v.fault("audit %d: readings of %s are not those of its report", int(a.Number), m.Name)
		}
	}
}

// madeOf tells whether a measurer's part of a report was made of these readings.
func madeOf(t audits.Tally, handed []audits.SavedReading) bool {
	if len(handed) != len(t.Struck)+1 {
		return false
	}
	for i, s := range t.Struck {
		if r := handed[i]; r.Seal != s.Seal || r.Reason != s.Reason || !r.Struck.Equal(s.Struck) || !r.Created.Equal(s.HandedIn) {
			return false
		}
	}
	last := handed[len(t.Struck)]
	return last.Seal == t.Seal && last.Reason == "" && last.Struck.IsZero() && last.Created.Equal(t.HandedIn)
}
