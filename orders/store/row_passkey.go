package store

import "wellstowed/orders/people"

type passkeyRow struct {
	ID         string `gorm:"primaryKey"`
	PersonID   string
	Device     string
	Credential string
	Added      int64
}

func (passkeyRow) TableName() string { return "passkeys" }

// Passkeys are a person's, oldest first.
func (t tx) Passkeys(personID string) ([]people.Passkey, error) {
	var rows []passkeyRow
	err := t.db.Where("person_id = ?", personID).Order("added, id").Find(&rows).Error
	all := make([]people.Passkey, len(rows))
	for i, r := range rows {
		all[i] = people.Passkey{ID: r.ID, PersonID: r.PersonID, Device: r.Device, Credential: []byte(r.Credential), Added: instant(r.Added)}
	}
	return all, err
}

// AddPasskey adds a passkey.
func (t tx) AddPasskey(k people.Passkey) error {
	return t.db.Create(&passkeyRow{ID: k.ID, PersonID: k.PersonID, Device: k.Device, Credential: string(k.Credential), Added: micros(k.Added)}).Error
}

// ChangePasskey saves what a use of it changed.
func (t tx) ChangePasskey(k people.Passkey) error {
	return changedOne(t.db.Model(&passkeyRow{}).Where("id = ?", k.ID).Select("Credential").Updates(passkeyRow{Credential: string(k.Credential)}))
}

// RemovePasskey takes a passkey of a person away.
func (t tx) RemovePasskey(personID, id string) error {
	return changedOne(t.db.Where("id = ? AND person_id = ?", id, personID).Delete(&passkeyRow{}))
}

// RemovePasskeys takes all of a person's away.
func (t tx) RemovePasskeys(personID string) error {
	return t.db.Where("person_id = ?", personID).Delete(&passkeyRow{}).Error
}
