package store

import (
	"gorm.io/gorm"

	"wellstowed/orders/act"
	"wellstowed/orders/customers"
)

type customerRecordRow struct {
	ID       string `gorm:"primaryKey"`
	Version  int64
	Name     string
	NameKey  string
	Address  string
	Phone    string
	Access   string
	Stacking string
	Place    string
	Created  int64
}

func (customerRecordRow) TableName() string { return "customer_records" }

func customerRecordRowOf(r customers.Record) customerRecordRow {
	return customerRecordRow{
		ID: r.ID, Version: r.Version, Name: r.Name, NameKey: customers.Key(r.Name), Address: r.Address, Phone: r.Phone,
		Access: r.Access, Stacking: r.Stacking, Place: r.Place, Created: micros(r.Created),
	}
}

// customerRecordView is a record with what its orders tell.
type customerRecordView struct {
	Row    customerRecordRow `gorm:"embedded"`
	Orders int
	Last   *int64
}

func (v customerRecordView) record() customers.Record {
	return customers.Record{
		ID: v.Row.ID, Version: v.Row.Version, Name: v.Row.Name, Address: v.Row.Address, Phone: v.Row.Phone,
		Access: v.Row.Access, Stacking: v.Row.Stacking, Place: v.Row.Place, Created: instant(v.Row.Created),
		Orders: v.Orders, Last: instantOrZero(v.Last),
	}
}

// customerRecords reads records with how many orders are theirs.
func (t tx) customerRecords() *gorm.DB {
	return t.db.Table("customer_records AS r").Select("r.*, count(o.id) AS orders, max(o.created) AS last").
		Joins("LEFT JOIN customers c ON c.record_id = r.id LEFT JOIN orders o ON o.customer_id = c.id").
		Group("r.id").Order("r.name_key, r.id")
}

// CustomerRecord gives one record.
func (t tx) CustomerRecord(id string) (customers.Record, error) {
	found, err := readRecords(t.customerRecords().Where("r.id = ?", id))
	if err == nil && len(found) == 0 {
		err = act.NewNotFound("that customer isn’t kept here")
	}
	if err != nil {
		return customers.Record{}, err
	}
	return found[0], nil
}

// CustomerRecords gives all records, by name.
func (t tx) CustomerRecords() ([]customers.Record, error) { return readRecords(t.customerRecords()) }

// CustomersNamed gives the records of a name, compared by its key.
func (t tx) CustomersNamed(key string) ([]customers.Record, error) {
	return readRecords(t.customerRecords().Where("r.name_key = ?", key))
}

func readRecords(query *gorm.DB) ([]customers.Record, error) {
	var views []customerRecordView
	if err := query.Scan(&views).Error; err != nil {
		return nil, err
	}
	all := make([]customers.Record, len(views))
	for i, v := range views {
		all[i] = v.record()
	}
	return all, nil
}

// AddCustomerRecord adds a record.
func (t tx) AddCustomerRecord(r customers.Record) error {
	row := customerRecordRowOf(r)
	return t.db.Create(&row).Error
}

// ChangeCustomerRecord saves over r.Version.
func (t tx) ChangeCustomerRecord(r customers.Record) error {
	row := customerRecordRowOf(r)
	row.Version++
	return changedOne(t.db.Model(&customerRecordRow{}).Where("id = ? AND version = ?", r.ID, r.Version).
		Select("*").Omit("ID").Updates(row))
}

// DropCustomerRecord takes away a record without orders.
func (t tx) DropCustomerRecord(id string) error {
	return changedOne(t.db.Where("id = ?", id).Delete(&customerRecordRow{}))
}

// MoveOrders makes the orders of one record those of another.
func (t tx) MoveOrders(from, to string) error {
	return t.db.Model(&customerRow{}).Where("record_id = ?", from).Update("record_id", to).Error
}
