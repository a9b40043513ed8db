package orders

import "wellstowed/orders/act"

// Paper is the size a shop prints on.
type Paper string

// The paper sizes.
const (
	Letter Paper = "letter"
	A4     Paper = "a4"
)

// English and Spanish are the languages of papers and pages, as BCP 47 names them.
// Spanish is that of the Americas, which writes a point for decimals.
const (
	English = "en"
	Spanish = "es-US"
)

// Languages are all of them, the program's own first.
func Languages() []string { return []string{English, Spanish} }

// A Shop is the firm a database belongs to. Name and address must be there
// before a receipt can be issued.
type Shop struct {
	Version int64  `json:"version"`
	Name    string `json:"name" names:"shop"`
	Address string `json:"address" names:"shop"` // lines separated by \n
	Phone   string `json:"phone" names:"shop"`
	// TaxNumber is what the tax office knows the seller by, as receipts print it where a
	// country asks for it; empty where none is printed.
	TaxNumber string `json:"tax_number" names:"shop"`
	Currency  string `json:"currency"` // ISO 4217
	// Located tells that a person said the zone and the currency. Until then nothing is
	// sold and no paper issued, since both stand on what cannot be changed afterwards.
	Located  bool      `json:"located"`
	Zone     string    `json:"zone" names:"shop"` // IANA time zone
	Paper    Paper     `json:"paper"`
	Units    act.Units `json:"units"`
	Language string    `json:"language" names:"shop"` // BCP 47
	RuleSet  string    `json:"rule_set" names:"shop"` // code of a set in measure/rules
	// Charges are what it charges besides the wood.
	Charges Charges `json:"charges" names:"shop"`
}
