package store

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

type receiptRow struct {
	Number         int64 `gorm:"primaryKey;autoIncrement:false"`
	OrderID        string
	Issued         int64
	Facts          []byte
	FactsSHA256    string `gorm:"column:facts_sha256"`
	Personal       []byte
	Salt           []byte
	PersonalSHA256 string `gorm:"column:personal_sha256"`
	Chain          string
	Seal           string
	PDF            []byte `gorm:"column:pdf"`
	PDFSHA256      string `gorm:"column:pdf_sha256"`
	Kind           string
	OfReceipt      *int64
}

func (receiptRow) TableName() string { return "receipts" }

// receiptQuery reads receipts with what order and load say of them.
const receiptQuery = `
SELECT r.*, coalesce(o.number, 0) AS order_number, coalesce(l.quantity, 0) AS quantity,
       coalesce(l.basis, '') AS basis, coalesce(l.delivered_on, '') AS delivered_on, coalesce(l.batch_id, '') AS batch,
       coalesce(e.number, 0) AS ended_by, coalesce(e.kind, '') AS ended_as, coalesce(e.issued, 0) AS ended,
       coalesce(x.at, 0) AS erased
FROM receipts r
LEFT JOIN orders o ON o.id = r.order_id
LEFT JOIN loads l ON l.receipt = r.number
LEFT JOIN receipts e ON e.of_receipt = r.number AND e.kind IN ('correction', 'void')
LEFT JOIN erased x ON x.paper = 'receipt' AND x.number = r.number`

// briefQuery reads receipts with which one ended them, and leaves papers and
// purchasers where they are.
const briefQuery = `
SELECT r.number, r.order_id, r.issued, r.facts, r.facts_sha256, r.chain, r.seal, r.kind, r.of_receipt,
       coalesce(e.number, 0) AS ended_by, coalesce(e.kind, '') AS ended_as, coalesce(e.issued, 0) AS ended,
       coalesce(x.at, 0) AS erased
FROM receipts r
LEFT JOIN receipts e ON e.of_receipt = r.number AND e.kind IN ('correction', 'void')
LEFT JOIN erased x ON x.paper = 'receipt' AND x.number = r.number`

// receiptView is a row of receiptQuery.
type receiptView struct {
	Row         receiptRow `gorm:"embedded"`
	OrderNumber int64
	Quantity    int64
	Basis       string
	DeliveredOn string
	Batch       string
	EndedBy     int64
	EndedAs     string
	Ended       int64
	Erased      int64
}

// StoredReceipt gives one receipt.
func (t tx) StoredReceipt(number int64) (orders.StoredReceipt, error) {
	var v receiptView
	if err := t.db.Raw(receiptQuery+" WHERE r.number = ?", number).Take(&v).Error; err != nil {
		return orders.StoredReceipt{}, missing(err, "receipt %d isn’t here", int(number))
	}
	return v.stored(), nil
}

// StoredReceipts gives receipts in order, by key.
func (t tx) StoredReceipts(after int64, limit int) ([]orders.StoredReceipt, error) {
	var views []receiptView
	err := t.db.Raw(receiptQuery+" WHERE r.number > ? ORDER BY r.number LIMIT ?", after, limit).Scan(&views).Error
	stored := make([]orders.StoredReceipt, len(views))
	for i, v := range views {
		stored[i] = v.stored()
	}
	return stored, err
}

// AddReceipt adds a receipt.
func (t tx) AddReceipt(r orders.StoredReceipt) error {
	row := receiptRow{
		Number: r.Number, OrderID: r.OrderID, Issued: micros(r.Issued),
		Facts: r.FactBytes, FactsSHA256: r.FactsHash,
		Personal: r.Personal, Salt: r.Salt, PersonalSHA256: r.PersonalHash,
		Chain: r.Chain, Seal: r.Seal, PDF: r.PDF, PDFSHA256: r.PDFHash, Kind: string(r.Kind),
	}
	if r.Of != 0 {
		row.OfReceipt = &r.Of
	}
	return t.db.Create(&row).Error
}

// OrderReceipts gives the receipts of an order without their papers, in order.
func (t tx) OrderReceipts(orderID string) ([]orders.StoredReceipt, error) {
	return t.briefReceipts(briefQuery+" WHERE r.order_id = ? ORDER BY r.number", orderID)
}

// ReceiptsIssued gives the receipts of a time without their papers, in order.
func (t tx) ReceiptsIssued(from, to time.Time) ([]orders.StoredReceipt, error) {
	return t.briefReceipts(briefQuery+" WHERE r.issued >= ? AND r.issued < ? ORDER BY r.number", micros(from), micros(to))
}

// briefReceipts are the receipts that a query gives.
func (t tx) briefReceipts(query string, args ...any) ([]orders.StoredReceipt, error) {
	var views []receiptView
	err := t.db.Raw(query, args...).Scan(&views).Error
	stored := make([]orders.StoredReceipt, len(views))
	for i, v := range views {
		stored[i] = v.stored()
	}
	return stored, err
}

// ReceiptRefs names the receipts of an order that count, in order.
func (t tx) ReceiptRefs(orderID string) ([]orders.ReceiptRef, error) {
	var rows []struct {
		Number int64
		On     string
		Seal   string
	}
	err := t.db.Raw(`SELECT r.number, l.delivered_on AS "on", r.seal FROM receipts r JOIN standing_loads l ON l.receipt = r.number
		WHERE r.order_id = ? ORDER BY r.number`, orderID).Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	refs := make([]orders.ReceiptRef, len(rows))
	for i, r := range rows {
		on, err := act.ParseDate(r.On)
		if err != nil {
			return nil, err
		}
		refs[i] = orders.ReceiptRef{Number: r.Number, On: on, Seal: r.Seal}
	}
	return refs, nil
}

// stored gives the row as it is; a day that cannot be read is no day, so that the
// service finds it differs.
func (v receiptView) stored() orders.StoredReceipt {
	on, err := act.ParseDate(v.DeliveredOn)
	if err != nil {
		on = act.Date{}
	}
	r := orders.StoredReceipt{
		Number: v.Row.Number, OrderID: v.Row.OrderID, Issued: instant(v.Row.Issued),
		FactBytes: v.Row.Facts, FactsHash: v.Row.FactsSHA256,
		Personal: v.Row.Personal, Salt: v.Row.Salt, PersonalHash: v.Row.PersonalSHA256,
		Chain: v.Row.Chain, Seal: v.Row.Seal, PDF: v.Row.PDF, PDFHash: v.Row.PDFSHA256,
		OrderNumber: v.OrderNumber, DeliveredOn: on, Batch: v.Batch,
		Delivered: measure.Quantity{Volume: measure.Volume(v.Quantity), Basis: measure.Basis(v.Basis)},
		Kind:      orders.ReceiptKind(v.Row.Kind),
	}
	if v.Row.OfReceipt != nil {
		r.Of = *v.Row.OfReceipt
	}
	if v.Erased != 0 {
		r.Erased = instant(v.Erased)
	}
	if v.EndedBy != 0 {
		r.Ended = &orders.Ending{Number: v.EndedBy, Kind: orders.ReceiptKind(v.EndedAs), Issued: instant(v.Ended)}
	}
	return r
}
