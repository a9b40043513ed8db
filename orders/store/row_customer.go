package store

import "wellstowed/orders"

type customerRow struct {
	ID           string `gorm:"primaryKey"`
	Version      int64
	Name         string
	Address      string
	Phone        string
	PrintName    string
	PrintAddress string
	RecordID     *string
}

func (customerRow) TableName() string { return "customers" }

func customerRowOf(c orders.Customer) customerRow {
	return customerRow{
		ID: c.ID, Version: c.Version, Name: c.Name, Address: c.Address, Phone: c.Phone,
		PrintName: c.PrintName, PrintAddress: c.PrintAddress, RecordID: orNull(c.Record),
	}
}

// AddCustomer adds a customer.
func (t tx) AddCustomer(c orders.Customer) error {
	row := customerRowOf(c)
	return t.db.Create(&row).Error
}

// ChangeCustomer saves over c.Version.
func (t tx) ChangeCustomer(c orders.Customer) error {
	row := customerRowOf(c)
	row.Version++
	return changedOne(t.db.Model(&customerRow{}).Where("id = ? AND version = ?", c.ID, c.Version).
		Select("*").Omit("ID").Updates(row))
}
