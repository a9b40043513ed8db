package store

import "time"

// LastIssued gives when the last of the receipts, of the sheets and of the reports was
// issued, whichever is latest; zero before the first.
func (t tx) LastIssued() (time.Time, error) {
	var last *int64
	err := t.db.Raw(`SELECT max(at) FROM (
		SELECT * FROM (SELECT issued AS at FROM receipts ORDER BY number DESC LIMIT 1) r
		UNION ALL SELECT * FROM (SELECT issued FROM sheets ORDER BY number DESC LIMIT 1) s
		UNION ALL SELECT * FROM (SELECT r.issued FROM audit_reports r JOIN audits a ON a.id = r.audit_id ORDER BY a.number DESC LIMIT 1) a) all_papers`).Scan(&last).Error
	if err != nil || last == nil {
		return time.Time{}, err
	}
	return instant(*last), nil
}
