package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/measure/storage"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/photos"
	"wellstowed/orders/signed"
	"wellstowed/orders/yard"
)

// ReceiptFormat is the number of the receipt's data format.
const ReceiptFormat = 6

// ReceiptKind is what a receipt is for. The format knows kinds since 3.
type ReceiptKind string

// The kinds of receipt.
const (
	DeliveryReceipt   ReceiptKind = ""           // that comes with a load
	CorrectionReceipt ReceiptKind = "correction" // stands in place of the one it names
	VoidReceipt       ReceiptKind = "void"       // ends the one it names; nothing was delivered with it
	SettlementReceipt ReceiptKind = "settlement" // settles what the one it names left open
)

// A Receipt is the delivery ticket that comes with a load: a snapshot in plain
// data, stored as canonical JSON bytes and never recomputed. Names and address of
// the purchaser stand apart in Purchaser, so that they can be erased later while
// the chain of hashes still verifies.
type Receipt struct {
	Facts     Facts `json:"facts"`
	Purchaser Party `json:"purchaser"`
	// Measurer is who measured or weighed the wood, where it was said.
	Measurer Party `json:"measurer,omitzero"`
	// WasPurchaser is how a correction's former receipt named the purchaser, nil
	// where it named him the same.
	WasPurchaser *Party `json:"was_purchaser,omitempty"`
	// WasMeasurer is who a correction's former receipt named as having measured, nil where
	// it named the same.
	WasMeasurer *Party `json:"was_measurer,omitempty"`
	// Signature is who received the wood, as put under it on a screen; nil where nobody did.
	Signature *signed.Signature `json:"signature,omitempty"`
	// Erased is the day its names were erased, no day while it has them. A paper
	// painted of it is not the one that was given.
	Erased act.Date `json:"names_erased_on,omitzero"`
}

// personalOfSheet is the part of a sheet that can be erased, as written.
type personalOfSheet struct {
	Purchaser Party  `json:"purchaser"`
	ReadBy    string `json:"read_by"`
}

// personal is the part of a receipt that can be erased, as written.
type personal struct {
	Party
	Was      *Party `json:"was,omitempty"`
	Measurer Party  `json:"measurer,omitzero"`
	// WasMeasurer is who a correction's former receipt named, nil where it named the same.
	WasMeasurer *Party            `json:"was_measurer,omitempty"`
	Signature   *signed.Signature `json:"signature,omitempty"`
}

// HandsOver tells whether a receipt of this kind speaks of a load that counts while
// the receipt does.
func (k ReceiptKind) HandsOver() bool { return k == DeliveryReceipt || k == CorrectionReceipt }

// Ends tells whether a receipt of this kind ends the one it names.
func (k ReceiptKind) Ends() bool { return k == CorrectionReceipt || k == VoidReceipt }

// A Former is what the receipt that a correction or a void ends said, where this
// may differ now.
type Former struct {
	Issued      time.Time        `json:"issued"` // UTC
	Seal        string           `json:"seal"`
	DeliveredOn act.Date         `json:"delivered_on"`
	Delivered   measure.Quantity `json:"delivered"`
	Priced      measure.Quantity `json:"priced"`
	Species     string           `json:"species" names:"sale"`
	Origin      string           `json:"origin,omitempty" names:"sale"`
	PieceLength measure.Length   `json:"piece_length"`
	Seasoning   yard.Seasoning   `json:"seasoning"`
	Total       money.Money      `json:"total"`
	Deposit     money.Money      `json:"deposit"`
	Ticket      Ticket           `json:"ticket,omitzero"`
	Certificate string           `json:"certificate,omitempty" names:"sale"`
}

// An Ending is the receipt that corrects another or makes it void.
type Ending struct {
	Number int64       `json:"number"`
	Kind   ReceiptKind `json:"kind"`
	Issued time.Time   `json:"issued"`
}

// Facts are the part of a receipt that stays.
type Facts struct {
	Format int         `json:"format"`
	Number int64       `json:"number"`
	Kind   ReceiptKind `json:"kind,omitempty"`
	// Of is the number of the receipt that this one corrects, voids or settles; 0
	// on a delivery's own.
	Of int64 `json:"of,omitempty"`
	// Reason is why, in the words of who issued it.
	Reason string `json:"reason,omitempty" names:"sealed"`
	// Former is what the receipt that this one ends said; nil where it ends none.
	Former   *Former   `json:"former,omitempty"`
	Issued   time.Time `json:"issued"` // UTC
	Language string    `json:"language" names:"program"`
	Paper    Paper     `json:"paper"`
	Units    act.Units `json:"units"`
	Zone     string    `json:"zone" names:"program"`
	RuleSet  RuleSet   `json:"rule_set"`
	Model    int       `json:"model"`
	Layout   int       `json:"layout"`
	Vendor   Party     `json:"vendor" names:"shop"`
	// VendorTax is what the tax office knows the vendor by, empty where none is printed;
	// since format 6.
	VendorTax   string           `json:"vendor_tax,omitempty" names:"shop"`
	Order       int64            `json:"order"` // the order's number
	DeliveredOn act.Date         `json:"delivered_on"`
	Ordered     measure.Quantity `json:"ordered"`
	Delivered   measure.Quantity `json:"delivered"`
	Priced      measure.Quantity `json:"priced"` // what the price is based on
	// Cord is what a cord was taken for, where it was sold in cords whose size hangs
	// on the wood.
	Cord *CordFact `json:"cord,omitempty"`
	// Body is what the load came in, filled to its line; nil where it was not
	// delivered so.
	Body *yard.BodyFact `json:"body,omitempty"`
	// Measured is the volume measured before handing over, nil when it was not.
	Measured *measure.Quantity `json:"measured,omitempty"`
	// Measuring is what that found; nil where it was not measured, and on receipts from
	// before format 4.
	Measuring *MeasuringFact `json:"measuring,omitempty"`
	Species   string         `json:"species" names:"sale"`
	Origin    string         `json:"origin,omitempty" names:"sale"`
	// Certificate is the number of a heat-treatment certificate, empty without one;
	// since format 3.
	Certificate string `json:"certificate,omitempty" names:"sale"`
	// Batch is what the load was drawn from, nil where none was named; since format 3.
	Batch       *yard.BatchFact `json:"batch,omitempty"`
	PieceLength measure.Length  `json:"piece_length"`
	Seasoning   yard.Seasoning  `json:"seasoning"` // stated by the seller, not measured
	// Moisture is what was read of the wood, nil when nothing was; added in
	// format 2.
	Moisture *yard.MoistureFact `json:"moisture,omitempty"`
	Price    Price              `json:"price" names:"sealed"`
	Ticket   Ticket             `json:"ticket,omitzero"`
	// Says are texts that the rules of sale have a receipt carry.
	Says    []SaidFact  `json:"says,omitempty"`
	Deposit money.Money `json:"deposit"`
	// Paid is what is taken off this receipt of the payments made by then, the
	// deposit aside; Owed is what the whole order then owes, where that is not this
	// receipt's balance. Both are zero where there is none; added in format 3.
	Paid money.Money `json:"paid,omitzero"`
	Owed money.Money `json:"owed,omitzero"`
	// Handed is what of Paid came as it was delivered, nil where none did; since format 5.
	Handed *HandedFact `json:"handed,omitempty"`
	// Settles is what a receipt of that kind says; nil on any other.
	Settles *SettlesFact `json:"settles,omitempty"`
	// Answered are the questions that were asked before it was issued and answered with
	// yes; since format 4.
	Answered []measure.Text `json:"answered,omitempty"`
	Storage  *storage.Plan  `json:"storage,omitempty"`
	Previous string         `json:"previous"` // chain of the receipt before, hex; empty for the first
}

// Balance is what a receipt asks for less what was paid of it by then.
func (f Facts) Balance() money.Money {
	return money.Money{Minor: f.Price.Total().Minor - f.Deposit.Minor - f.Paid.Minor, Currency: f.Price.Wood.Currency}
}

// RuleSet names the reading of the law a receipt was issued under.
type RuleSet struct {
	Code    string `json:"code" names:"program"`
	Name    string `json:"name" names:"program"`
	Edition string `json:"edition" names:"program"`
	// Unit is what quantities are given in; empty on papers from before rule sets
	// said so: cords, or cubic metres where the units are metric.
	Unit rules.UnitCode `json:"unit,omitempty"`
}

// A Party is a side of the sale as printed.
type Party struct {
	Name    string `json:"name" names:"erased"`
	Address string `json:"address" names:"erased"` // lines separated by \n
	Phone   string `json:"phone,omitempty" names:"erased"`
}

// An Issued receipt is what is stored: the bytes that were hashed, the chain, the
// printed seal and the PDF.
type Issued struct {
	Receipt   Receipt
	OrderID   string
	FactBytes []byte // canonical JSON of Facts, as hashed
	Personal  []byte // canonical JSON of Purchaser, as hashed with Salt
	Salt      []byte
	Chain     string // hex: SHA-256 over the previous chain and both hashes
	Seal      string // 12 characters of the chain, as printed
	PDF       []byte
	// Ended is the receipt that corrects this one or makes it void, nil while it
	// counts.
	Ended *Ending
}

// SheetFormat is the number of the measurement sheet's data format.
const SheetFormat = 3

// A Sheet is the measurement sheet of one tally, a snapshot in plain data.
type Sheet struct {
	Format    int            `json:"format"`
	Number    int64          `json:"number"`
	Issued    time.Time      `json:"issued"` // UTC
	Language  string         `json:"language" names:"program"`
	Paper     Paper          `json:"paper"`
	Units     act.Units      `json:"units"`
	Zone      string         `json:"zone" names:"program"`
	RuleSet   RuleSet        `json:"rule_set,omitzero"`
	Model     int            `json:"model"`
	Layout    int            `json:"layout"`
	Vendor    Party          `json:"vendor" names:"shop"`
	Purchaser Party          `json:"purchaser"`
	Order     int64          `json:"order"`
	Receipts  []ReceiptRef   `json:"receipts"` // the receipts it speaks of
	ReadBy    string         `json:"read_by"`
	Tally     stack.Document `json:"tally" names:"sale"` // the readings
	Result    stack.Result   `json:"result" names:"program"`
	// Procedure is the procedure's own result by the rule set of the day; nil on
	// sheets of format 1.
	Procedure *procedure.Result `json:"procedure,omitempty" names:"program"`
	// Photos are those of the order that no sheet before named; since format 3.
	Photos   []photos.Fact `json:"photos,omitempty"`
	Previous string        `json:"previous,omitempty"` // chain of the sheet before, hex; since format 2
	// Pictures are the shown copies of Photos, in their order; nil once the names were
	// erased. They are printed, and never among the bytes that are hashed.
	Pictures [][]byte `json:"-" names:"erased"`
	// Erased is as in Receipt; it is never among the bytes that are hashed.
	Erased act.Date `json:"names_erased_on,omitzero"`
}

// A ReceiptRef names a receipt.
type ReceiptRef struct {
	Number int64    `json:"number"`
	On     act.Date `json:"on"`
	Seal   string   `json:"seal"`
}

// An IssuedSheet is a sheet as stored.
type IssuedSheet struct {
	Sheet   Sheet
	OrderID string
	Bytes   []byte // canonical JSON, without what can be erased
	Chain   string // hex; empty with sheets of format 1
	PDF     []byte
}

// A Printer makes the papers. It returns an *Error of Kind Invalid naming the
// field when a text cannot be printed.
type Printer interface {
	// Layout is the number of the layout it prints.
	Layout() int
	// Printable returns the characters of text that the paper's font lacks.
	Printable(text string) (missing []rune)
	// Receipt paints a receipt with its seal; the same bytes for the same data.
	Receipt(r Receipt, seal string) ([]byte, error)
	// Sheet paints a measurement sheet; the same bytes for the same data.
	Sheet(s Sheet) ([]byte, error)
}
