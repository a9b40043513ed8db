package orders

import (
	"encoding/json"
	"slices"
)

// audits holds the reports of closed audits, and the photos they name, against their
// hashes, what is kept beside a report against it, and the numbers of the cases against
// their counter.
func (v *verifier) audits(tx Tx) error {
	last, err := tx.LastNumber(AuditNumbers)
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
		v.fault("audit %d: the counter of audits stands at %d", int(next-1), int(last))
	}
	return nil
}

// An auditPapers is what is kept of a closed audit.
type auditPapers struct {
	line   AuditLine
	stored StoredAudit
	report AuditReport
}

func (v *verifier) audit(tx Tx, a AuditID) error {
	n := int(a.Number)
	var p auditPapers
	var err error
	if p.stored, err = tx.StoredAudit(a.ID); err == nil {
		p.line, err = tx.AuditLine(a.ID)
	}
	switch {
	case KindOf(err) == NotFound:
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
	if err := v.sealedReadings(tx, p.stored.Audit); err != nil {
		return err
	}
	kept, err := tx.StoredAuditReport(a.ID)
	if KindOf(err) == NotFound { // it is open
		return nil
	}
	if err != nil {
		return err
	}
	whole := hashOf(kept.Bytes) == kept.Hash && json.Unmarshal(kept.Bytes, &p.report) == nil
	if !whole {
		v.fault("audit %d: its report is not the one it was closed with", n)
	}
	if hashOf(kept.PDF) != kept.PDFHash {
		v.fault("audit %d: its PDF is not the one it was closed with", n)
	}
	if whole && (!p.agree() || !kept.Issued.Equal(p.report.Issued)) {
		v.fault("audit %d: what is kept beside its report differs from it", n)
	}
	if whole && !slices.Equal(p.stored.Audit.Photos, p.report.Photos) {
		v.fault("audit %d: its photos are not those of its report", n)
	}
	return v.photos(tx, a, p.stored.Audit.Photos)
}

// agree tells whether the columns that lists and series are read from say what the
// report says.
func (p auditPapers) agree() bool {
	l, r := p.line, p.report
	same := l.State == AuditClosed && l.Number == r.Number && l.Receipt == r.Subject.Receipt.Number && l.Seller == r.Subject.Vendor.Name &&
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
func (v *verifier) photos(tx Tx, a AuditID, photos []AuditPhoto) error {
	for _, photo := range photos {
		original, err := tx.AuditPhotoBytes(a.ID, photo.ID, true)
		if err != nil && KindOf(err) != NotFound {
			return err
		}
		if hashOf(original) != photo.SHA256 {
			v.fault("audit %d: the photo “%s” is not the one that was kept", int(a.Number), photo.Of)
		}
	}
	return nil
}

// sealedReadings holds readings that were handed in against the code they were sealed
// with; those from before readings were sealed have none.
func (v *verifier) sealedReadings(tx Tx, a Audit) error {
	for _, m := range a.Measurers {
		readings, err := tx.AuditReadings(m.ID)
		if err != nil {
			return err
		}
		for _, r := range readings {
			if !r.Handed || r.Seal == "" && len(r.Salt) == 0 {
				continue
			}
			if seal, err := r.sealed(m.ID); err != nil || seal != r.Seal {
				v.fault("audit %d: readings of %s are not the ones that were sealed", int(a.Number), m.Name)
			}
		}
	}
	return nil
}
