package rules

import (
	"slices"

	"wellstowed/measure"
)

// A Field is one thing that a receipt must hold, or had better hold.
type Field struct {
	Code string `json:"code"` // "vendor-name", "price", …: see FieldCodes
	Name string `json:"name"`
	// When is when it is asked for; nil: of every receipt.
	When *Condition `json:"when,omitempty"`
	// Advice tells that an office advises it and no law asks for it: nobody is refused a
	// receipt that lacks it.
	Advice bool `json:"advice,omitempty"`
	Known
}

// A Condition is when a field is asked for. What Over and Unwitnessed do not tell is for
// people to read: the field is asked for as if the condition held.
type Condition struct {
	Words string `json:"words"`
	// Over is the price, in whole units of the shop's currency, that a sale has to be
	// above; 0: any.
	Over int64 `json:"over,omitempty"`
	// Under is the quantity that a sale has to be less than; nil: any.
	Under *Amount `json:"under,omitempty"`
	// Unwitnessed tells that it is asked for only where seller and buyer did not both see
	// the wood measured.
	Unwitnessed bool `json:"unwitnessed,omitempty"`
}

// A Sale is what a condition is held against.
type Sale struct {
	Over      func(whole int64) bool // whether its price is above so many whole units of its currency
	Volume    measure.Volume
	Witnessed bool // seller and buyer both saw the wood measured
}

// Holds tells whether a sale meets the condition.
func (c *Condition) Holds(sale Sale) bool {
	return c == nil || (c.Over == 0 || sale.Over(c.Over)) && (c.Under == nil || sale.Volume < c.Under.Volume) && !(c.Unwitnessed && sale.Witnessed)
}

// when words the condition; empty without one.
func (f Field) when() string {
	if f.When == nil {
		return ""
	}
	return f.When.Words
}

// FieldCodes are the codes that a required field may have.
func FieldCodes() []string {
	return []string{
		"vendor-name", "vendor-address", "purchaser-name", "purchaser-address",
		"delivered-date", "quantity", "price-quantity", "price", "identity",
		"piece-length", "seasoning", "origin", "number",
		"measurer-name", "measurer-address", "package-count", "unit-price", "stack-size",
		"drying-time", "drying-manner", "moisture-certificate", "heat-certificate",
	}
}

// Requires tells whether a receipt must hold a field, or had better hold it.
func (s Set) Requires(code string) bool {
	return slices.ContainsFunc(s.Required, func(f Field) bool { return f.Code == code })
}

// fields checks those of a receipt.
func (c *checker) fields(s Set) {
	if len(s.Required) == 0 && s.Extends == "" {
		c.fail("required", "the field for a receipt is missing")
	}
	seen := map[string]bool{}
	for i, field := range s.Required {
		path := item("required", i)
		if !slices.Contains(FieldCodes(), field.Code) {
			c.fail(path+".code", "%q is none of %q", field.Code, FieldCodes())
		}
		if seen[field.Code] {
			c.fail(path+".code", "%q is there twice", field.Code)
		}
		seen[field.Code] = true
		c.words(path+".name", field.Name)
		if when := field.When; when != nil {
			c.words(path+".when.words", when.Words)
			if when.Over < 0 {
				c.fail(path+".when.over", "is below 0")
			}
		}
		c.known(path, field.Known)
	}
}
