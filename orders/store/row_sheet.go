package store

import "wellstowed/orders"

type sheetRow struct {
	Number    int64 `gorm:"primaryKey;autoIncrement:false"`
	OrderID   string
	Issued    int64
	Sheet     []byte
	PDF       []byte `gorm:"column:pdf"`
	PDFSHA256 string `gorm:"column:pdf_sha256"`
}

func (sheetRow) TableName() string { return "sheets" }

// StoredSheet gives one sheet.
func (t tx) StoredSheet(number int64) (orders.StoredSheet, error) {
	var r sheetRow
	if err := t.db.Where("number = ?", number).Take(&r).Error; err != nil {
		return orders.StoredSheet{}, missing(err, "there is no measurement sheet %d", int(number))
	}
	return orders.StoredSheet{
		Number: r.Number, OrderID: r.OrderID, Issued: instant(r.Issued), Bytes: r.Sheet, PDF: r.PDF, PDFHash: r.PDFSHA256,
	}, nil
}

// AddSheet adds a sheet.
func (t tx) AddSheet(s orders.StoredSheet) error {
	return t.db.Create(&sheetRow{
		Number: s.Number, OrderID: s.OrderID, Issued: micros(s.Issued), Sheet: s.Bytes, PDF: s.PDF, PDFSHA256: s.PDFHash,
	}).Error
}
