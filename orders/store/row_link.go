package store

import (
	"time"

	"wellstowed/orders/cases"
)

type linkRow struct {
	ID         string `gorm:"primaryKey"`
	Receipt    int64
	CodeSHA256 string `gorm:"column:code_sha256"`
	Made       int64
	MadeBy     string
	Withdrawn  *int64
}

func (linkRow) TableName() string { return "buyer_links" }

func (r linkRow) link() cases.Link {
	l := cases.Link{ID: r.ID, Receipt: r.Receipt, CodeHash: r.CodeSHA256, Made: instant(r.Made), MadeBy: r.MadeBy}
	if r.Withdrawn != nil {
		l.Withdrawn = instant(*r.Withdrawn)
	}
	return l
}

// LinkByHash gives the link that holds by its code's hash.
func (t tx) LinkByHash(hash string) (cases.Link, error) {
	var r linkRow
	if err := t.db.Where("code_sha256 = ? AND withdrawn IS NULL", hash).Take(&r).Error; err != nil {
		return cases.Link{}, missing(err, "that link isn’t here")
	}
	return r.link(), nil
}

// LinkOf gives the link of a receipt that holds.
func (t tx) LinkOf(receipt int64) (cases.Link, error) {
	var r linkRow
	if err := t.db.Where("receipt = ? AND withdrawn IS NULL", receipt).Take(&r).Error; err != nil {
		return cases.Link{}, missing(err, "receipt %d has no link that holds", int(receipt))
	}
	return r.link(), nil
}

// AddLink adds a link.
func (t tx) AddLink(l cases.Link) error {
	return t.db.Create(&linkRow{ID: l.ID, Receipt: l.Receipt, CodeSHA256: l.CodeHash, Made: micros(l.Made), MadeBy: l.MadeBy}).Error
}

// WithdrawLinks marks those of a receipt that hold as withdrawn.
func (t tx) WithdrawLinks(receipt int64, at time.Time) error {
	when := micros(at)
	return t.db.Model(&linkRow{}).Where("receipt = ? AND withdrawn IS NULL", receipt).
		Select("Withdrawn").Updates(linkRow{Withdrawn: &when}).Error
}
