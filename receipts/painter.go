// Package receipts paints receipts, measurement sheets and tally forms as PDF.
package receipts

import (
	"fmt"

	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/audits"
)

// A Painter makes the papers. Many goroutines may use one.
type Painter struct {
	letters *letters
	rules   rules.Book // whose barred terms no paper under them prints
	plain   bool       // leaves the PDF uncompressed, for tests to read
}

var (
	_ orders.Printer = (*Painter)(nil)
	_ audits.Printer = (*Painter)(nil)
)

// New makes a painter. It fails only where the fonts or rule sets that the program
// carries can't be read.
func New() (*Painter, error) {
	fonts, err := theLetters()
	if err != nil {
		return nil, err
	}
	book, err := rules.BuiltIn()
	if err != nil {
		return nil, fmt.Errorf("reading the rule sets: %w", err)
	}
	return &Painter{letters: fonts, rules: book}, nil
}

// Under is a painter for a shop that may sell under other rule sets than those
// built in.
func (p *Painter) Under(book rules.Book) *Painter {
	under := *p
	under.rules = book
	return &under
}

// Layout is the number of the layout that papers are printed in. It changes
// whenever the same data would come out as other bytes.
func (p *Painter) Layout() int { return 12 }

// Printable returns the characters of text that the paper's font lacks, each
// once. A byte that is no UTF-8 counts as U+FFFD; line ends and tabs are blanks.
func (p *Painter) Printable(text string) (missing []rune) { return p.letters.missing(text) }
