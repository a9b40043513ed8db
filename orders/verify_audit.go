package orders

import "math"

// audits holds the reports of closed audits, and the photos they name, against their
// hashes, and the numbers of the cases against their counter.
func (v *verifier) audits(tx Tx) error {
	last, err := tx.LastNumber(AuditNumbers)
	if err != nil {
		return err
	}
	next := last // the number that should come, from the last down
	for before := int64(math.MaxInt64); ; {
		page, err := tx.AuditList("", before, verifyPage)
		if err != nil {
			return err
		}
		for _, line := range page {
			if line.Number != next {
				v.fault("audit %d stands where audit %d should", int(line.Number), int(next))
			}
			next = line.Number - 1
			if err := v.audit(tx, line); err != nil {
				return err
			}
		}
		if len(page) < verifyPage {
			break
		}
		before = page[len(page)-1].Number
	}
	if next > 0 {
		v.fault("audit %d is missing", int(next))
	}
	return nil
}

func (v *verifier) audit(tx Tx, line AuditLine) error {
	audit, err := tx.StoredAudit(line.ID)
	if err != nil {
		return err
	}
	if err := v.sealedReadings(tx, audit.Audit); err != nil || line.State != AuditClosed {
		return err
	}
	if !audit.Audit.Erased.IsZero() {
		v.found.BlankAudits++
		return nil
	}
	n := int(line.Number)
	stored, err := tx.StoredAuditReport(line.ID)
	switch {
	case KindOf(err) == NotFound:
		v.fault("audit %d: its report is missing", n)
		return nil
	case err != nil:
		return err
	}
	if hashOf(stored.Bytes) != stored.Hash {
		v.fault("audit %d: its report is not the one it was closed with", n)
	}
	if hashOf(stored.PDF) != stored.PDFHash {
		v.fault("audit %d: its PDF is not the one it was closed with", n)
	}
	for _, p := range audit.Audit.Photos {
		original, err := tx.AuditPhotoBytes(line.ID, p.ID, true)
		if err != nil {
			return err
		}
		if hashOf(original) != p.SHA256 {
			v.fault("audit %d: the photo “%s” is not the one that was kept", n, p.Of)
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
