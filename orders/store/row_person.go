package store

import (
	"cmp"
	"strings"
	"time"

	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

type personRow struct {
	ID       string `gorm:"primaryKey"`
	Name     string
	Role     string
	State    string
	Password string
	Version  int64
	Created  int64
}

func (personRow) TableName() string { return "people" }

func (r personRow) person() people.Person {
	return people.Person{
		ID: r.ID, Name: r.Name, Role: act.Role(r.Role), State: people.State(r.State),
		Password: r.Password, Version: r.Version, Created: instant(r.Created),
	}
}

// AnyPerson tells whether there is a person.
func (t tx) AnyPerson() (bool, error) {
	var n int64
	err := t.db.Model(&personRow{}).Limit(1).Count(&n).Error
	return n > 0, err
}

// People are all, those let in first, by name.
func (t tx) People() ([]people.Person, error) {
	var rows []personRow
	err := t.db.Order("state, lower(name)").Find(&rows).Error
	all := make([]people.Person, len(rows))
	for i, r := range rows {
		all[i] = r.person()
	}
	return all, err
}

// Person gives a person.
func (t tx) Person(id string) (people.Person, error) {
	return t.onePerson("id = ?", id)
}

// PersonNamed finds a person by name, capitals or not.
func (t tx) PersonNamed(name string) (people.Person, error) {
	return t.onePerson("lower(name) = ?", strings.Map(asciiLower, name))
}

// asciiLower is what lower does to a column in both databases; to a value, a server's would
// do more.
func asciiLower(r rune) rune {
	if 'A' <= r && r <= 'Z' {
		return r + 'a' - 'A'
	}
	return r
}

func (t tx) onePerson(where, value string) (people.Person, error) {
	var r personRow
	if err := t.db.Where(where, value).Take(&r).Error; err != nil {
		return people.Person{}, missing(err, "nobody by that name works here")
	}
	return r.person(), nil
}

// AddPerson adds a person.
func (t tx) AddPerson(p people.Person) error {
	return t.db.Create(&personRow{
		ID: p.ID, Name: p.Name, Role: string(p.Role), State: string(p.State), Password: p.Password, Version: p.Version, Created: micros(p.Created),
	}).Error
}

// ChangePerson saves role, state and password over the person at its version.
func (t tx) ChangePerson(p people.Person) error {
	return changedOne(t.db.Model(&personRow{}).Where("id = ? AND version = ?", p.ID, p.Version).
		Select("Role", "State", "Password", "Version").
		Updates(personRow{Role: string(p.Role), State: string(p.State), Password: p.Password, Version: p.Version + 1}))
}

type codeRow struct {
	CodeSHA256 string `gorm:"column:code_sha256;primaryKey"`
	Purpose    string
	PersonID   *string
	Made       int64
	Until      int64
	Used       *int64
}

func (codeRow) TableName() string { return "entry_codes" }

// Code gives a one-time code by its hash.
func (t tx) Code(hash string) (people.Code, error) {
	var r codeRow
	if err := t.db.Where("code_sha256 = ?", hash).Take(&r).Error; err != nil {
		return people.Code{}, missing(err, "that code isn’t here")
	}
	return people.Code{
		Hash: r.CodeSHA256, Purpose: people.Purpose(r.Purpose), PersonID: textOf(r.PersonID),
		Made: instant(r.Made), Until: instant(r.Until), Used: instantOf(r.Used),
	}, nil
}

// AddCode adds a one-time code.
func (t tx) AddCode(c people.Code) error {
	return t.db.Create(&codeRow{
		CodeSHA256: c.Hash, Purpose: string(c.Purpose), PersonID: orNull(c.PersonID), Made: micros(c.Made), Until: micros(c.Until), Used: microsOf(c.Used),
	}).Error
}

// UseCodes marks a person's codes as used, or, for "", those that make an owner.
func (t tx) UseCodes(personID string, at time.Time) error {
	return t.db.Model(&codeRow{}).Where("person_id IS NOT DISTINCT FROM ? AND used IS NULL", orNull(personID)).
		Select("Used").Updates(codeRow{Used: microsOf(at)}).Error
}

type recoveryRow struct {
	CodeSHA256 string `gorm:"column:code_sha256;primaryKey"`
	PersonID   string
	Used       int64
}

func (recoveryRow) TableName() string { return "recovery_codes" }

// RecoveryCodes are a person's that were not used.
func (t tx) RecoveryCodes(personID string) (hashes []string, err error) {
	err = t.db.Model(&recoveryRow{}).Where("person_id = ? AND used = ?", personID, 0).Order("code_sha256").Pluck("code_sha256", &hashes).Error
	return hashes, err
}

// RenewRecoveryCodes puts others in the place of all a person has.
func (t tx) RenewRecoveryCodes(personID string, hashes []string) error {
	if err := t.db.Where("person_id = ?", personID).Delete(&recoveryRow{}).Error; err != nil {
		return err
	}
	for _, hash := range hashes {
		if err := t.db.Create(&recoveryRow{CodeSHA256: hash, PersonID: personID}).Error; err != nil {
			return err
		}
	}
	return nil
}

// UseRecoveryCode uses a code up.
func (t tx) UseRecoveryCode(hash string) error {
	return changedOne(t.db.Model(&recoveryRow{}).Where("code_sha256 = ? AND used = ?", hash, 0).Select("Used").Updates(recoveryRow{Used: 1}))
}

type peopleLogRow struct {
	ID       int64 `gorm:"primaryKey;autoIncrement:false"`
	At       int64
	What     string
	Name     string
	By       string
	CameFrom string
}

func (peopleLogRow) TableName() string { return "people_log" }

// AddLine adds a line to the log of who was let in and out.
func (t tx) AddLine(l people.Line) error {
	t.pending.unasked(l.At, cmp.Or(l.By, l.Name), string(l.What))
	id, err := t.nextID("people_log")
	if err != nil {
		return err
	}
	return t.db.Create(&peopleLogRow{ID: id, At: micros(l.At), What: string(l.What), Name: l.Name, By: l.By, CameFrom: l.From}).Error
}

// Lines are the last of the log, newest first.
func (t tx) Lines(limit int) ([]people.Line, error) {
	var rows []peopleLogRow
	err := t.db.Order("id DESC").Limit(limit).Find(&rows).Error
	lines := make([]people.Line, len(rows))
	for i, r := range rows {
		lines[i] = people.Line{At: instant(r.At), What: people.What(r.What), Name: r.Name, By: r.By, From: r.CameFrom}
	}
	return lines, err
}
