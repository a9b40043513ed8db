package store

import "wellstowed/orders"

type sheetRow struct {
	Number         int64 `gorm:"primaryKey;autoIncrement:false"`
	OrderID        string
	Issued         int64
	Sheet          []byte
	SheetSHA256    string `gorm:"column:sheet_sha256"`
	Personal       []byte
	Salt           []byte
	PersonalSHA256 string `gorm:"column:personal_sha256"`
	Chain          string
	PDF            []byte `gorm:"column:pdf"`
	PDFSHA256      string `gorm:"column:pdf_sha256"`
}

func (sheetRow) TableName() string { return "sheets" }

// sheetQuery reads sheets with what order and tally say of them.
const sheetQuery = `
SELECT s.*, coalesce(o.number, 0) AS order_number, coalesce(t.order_id, '') AS tally_order, coalesce(t.look, 0) AS look, t.document, t.result,
       coalesce(t.outcome, '') AS outcome, coalesce(t.read_by, '') AS read_by, coalesce(x.at, 0) AS erased
FROM sheets s
LEFT JOIN orders o ON o.id = s.order_id
LEFT JOIN tallies t ON t.sheet = s.number
LEFT JOIN erased x ON x.paper = 'sheet' AND x.number = s.number`

// sheetView is a row of sheetQuery.
type sheetView struct {
	Row         sheetRow `gorm:"embedded"`
	OrderNumber int64
	TallyOrder  string
	Look        int
	Document    []byte
	Result      []byte
	Outcome     string
	ReadBy      string
	Erased      int64
}

// StoredSheet gives one sheet.
func (t tx) StoredSheet(number int64) (orders.StoredSheet, error) {
	var v sheetView
	if err := t.db.Raw(sheetQuery+" WHERE s.number = ?", number).Take(&v).Error; err != nil {
		return orders.StoredSheet{}, missing(err, "measurement sheet %d isn’t here", int(number))
	}
	return v.stored(), nil
}

// StoredSheets gives sheets in order, by key.
func (t tx) StoredSheets(after int64, limit int) ([]orders.StoredSheet, error) {
	var views []sheetView
	err := t.db.Raw(sheetQuery+" WHERE s.number > ? ORDER BY s.number LIMIT ?", after, limit).Scan(&views).Error
	stored := make([]orders.StoredSheet, len(views))
	for i, v := range views {
		stored[i] = v.stored()
	}
	return stored, err
}

// AddSheet adds a sheet.
func (t tx) AddSheet(s orders.StoredSheet) error {
	return t.db.Create(&sheetRow{
		Number: s.Number, OrderID: s.OrderID, Issued: micros(s.Issued), Sheet: s.Bytes, SheetSHA256: s.Hash,
		Personal: s.Personal, Salt: s.Salt, PersonalSHA256: s.PersonalHash, Chain: s.Chain, PDF: s.PDF, PDFSHA256: s.PDFHash,
	}).Error
}

func (v sheetView) stored() orders.StoredSheet {
	s := orders.StoredSheet{
		Number: v.Row.Number, OrderID: v.Row.OrderID, Issued: instant(v.Row.Issued), Bytes: v.Row.Sheet, Hash: v.Row.SheetSHA256,
		Personal: v.Row.Personal, Salt: v.Row.Salt, PersonalHash: v.Row.PersonalSHA256, Chain: v.Row.Chain,
		PDF: v.Row.PDF, PDFHash: v.Row.PDFSHA256,
		OrderNumber: v.OrderNumber,
		Tally:       orders.TallyColumns{OrderID: v.TallyOrder, Look: v.Look, Document: v.Document, Result: v.Result, Outcome: v.Outcome, ReadBy: v.ReadBy},
	}
	if v.Erased != 0 {
		s.Erased = instant(v.Erased)
	}
	return s
}
