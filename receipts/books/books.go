// Package books writes a shop's books as CSV (RFC 4180, UTF-8, English headings, days as
// 2006-01-02, decimal points), for spreadsheets and accountants.
package books

import (
	"archive/zip"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A Sheet is one file of the books.
type Sheet struct {
	Name  string // "orders.csv"
	Lines [][]string
}

// Sheets are the files of the books: orders, loads, receipts, payments and customers.
func Sheets(b accounts.Books) ([]Sheet, error) {
	receipts, err := receiptLines(b)
	if err != nil {
		return nil, err
	}
	return []Sheet{
		{"orders.csv", orderLines(b)}, {"loads.csv", loadLines(b)}, {"receipts.csv", receipts},
		{"payments.csv", paymentLines(b)}, {"customers.csv", customerLines(b)},
	}, nil
}

// Zip writes all files of the books into one; the same books give the same bytes.
func Zip(w io.Writer, b accounts.Books) error {
	sheets, err := Sheets(b)
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, s := range sheets {
		f, err := z.CreateHeader(&zip.FileHeader{Name: s.Name, Method: zip.Deflate})
		if err != nil {
			return err
		}
		if err := s.Write(f); err != nil {
			return err
		}
	}
	return z.Close()
}

// Write writes the file as CSV. A cell that a spreadsheet would take for a formula has an
// apostrophe before it.
func (s Sheet) Write(w io.Writer) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	for _, line := range s.Lines {
		safe := make([]string, len(line))
		for i, cell := range line {
			safe[i] = plain(cell)
		}
		if err := out.Write(safe); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// plain keeps a cell from being taken for a formula; numbers stay numbers.
func plain(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil && cell[0] == '-' {
		return cell
	}
	return "'" + cell
}

func orderLines(b accounts.Books) [][]string {
	lines := [][]string{{"order", "taken", "state", "customer", "address", "phone", "as said", "cubic feet", "cubic metres", "basis", "species", "piece length in", "seasoning",
		"currency", "wood", "fees", "tax", "total", "deposit", "owes", "day", "result"}}
	for _, o := range b.Orders {
		tax := money.Money{Currency: o.Price.Wood.Currency}
		if o.Price.Tax != nil {
			tax = o.Price.Tax.Amount
		}
		fees := money.Money{Minor: o.Price.Net().Minor - o.Price.Wood.Minor, Currency: tax.Currency}
		lines = append(lines, append(append([]string{number(o.Number), day(act.DayIn(o.Created, b.Zone)), string(o.State), o.Customer.Name, o.Customer.Address, o.Customer.Phone, o.Words},
			wood(o.Quantity)...), o.Species, decimal(o.PieceLength.In(measure.Inch)), string(o.Seasoning),
			tax.Currency, o.Price.Wood.Amount(), fees.Amount(), tax.Amount(), o.Price.Total().Amount(), o.Deposit.Amount(), b.Balances[o.ID].Due.Amount(), o.Day.String(), string(o.Outcome)))
	}
	return lines
}

func loadLines(b accounts.Books) [][]string {
	lines := [][]string{{"receipt", "order", "delivered", "customer", "cubic feet", "cubic metres", "basis", "species", "result"}}
	for _, l := range b.Loads {
		lines = append(lines, append(append([]string{number(l.Receipt), number(l.OrderNumber), day(l.On), l.Customer}, wood(l.Delivered)...), l.Species, string(l.Outcome)))
	}
	return lines
}

func receiptLines(b accounts.Books) ([][]string, error) {
	lines := [][]string{{"receipt", "kind", "of receipt", "order", "issued", "delivered", "currency", "net", "taxed", "tax name", "tax rate", "tax", "total", "given for missing wood", "ended by receipt"}}
	for _, r := range b.Receipts {
		var f orders.Facts
		if err := json.Unmarshal(r.FactBytes, &f); err != nil {
			return nil, fmt.Errorf("facts of receipt %d: %w", r.Number, err)
		}
		zero := money.Money{Currency: f.Price.Wood.Currency}
		kind, of, ended, given := "delivery", "", "", zero
		if f.Kind != orders.DeliveryReceipt {
			kind, of = string(f.Kind), number(f.Of)
		}
		if r.Ended != nil {
			ended = number(r.Ended.Number)
		}
		if f.Settles != nil {
			given = f.Settles.Given
		}
		name, rate, taxed, tax := "", "", zero, zero
		if t := f.Price.Tax; t != nil && t.Exempt == "" {
			name, rate, taxed, tax = t.Name, t.Rate.String(), t.Taxable, t.Amount
		}
		lines = append(lines, []string{number(f.Number), kind, of, number(f.Order), day(act.DayIn(r.Issued, b.Zone)), day(f.DeliveredOn), f.Price.Wood.Currency,
			f.Price.Net().Amount(), taxed.Amount(), name, rate, tax.Amount(), f.Price.Total().Amount(), given.Amount(), ended})
	}
	return lines, nil
}

func paymentLines(b accounts.Books) [][]string {
	lines := [][]string{{"day", "order", "customer", "currency", "amount", "how", "reference", "takes back", "why", "written down by"}}
	for _, p := range b.Payments {
		back := ""
		if p.Reverses != "" {
			back = "yes"
		}
		o := b.Of[p.OrderID]
		lines = append(lines, []string{day(p.On), number(o.Number), o.Customer.Name, p.Amount.Currency, p.Amount.Amount(), string(p.Method), p.Reference, back, p.Reason, p.By})
	}
	return lines
}

// customerLines have the headings that a list brought in has.
func customerLines(b accounts.Books) [][]string {
	lines := [][]string{{"name", "address", "phone", "how to get in", "stacking", "place", "orders", "last order"}}
	for _, r := range b.Customers {
		last := ""
		if !r.Last.IsZero() {
			last = day(act.DayIn(r.Last, b.Zone))
		}
		lines = append(lines, []string{r.Name, r.Address, r.Phone, r.Access, r.Stacking, r.Place, strconv.Itoa(r.Orders), last})
	}
	return lines
}

// wood is a quantity in both units, with its basis.
func wood(q measure.Quantity) []string {
	return []string{decimal(q.Volume.In(measure.CubicFoot)), decimal(q.Volume.In(measure.CubicMetre)), string(q.Basis)}
}

func number(n int64) string { return strconv.FormatInt(n, 10) }

// decimal writes a figure to three decimals, without zeros at its end.
func decimal(n float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(n, 'f', 3, 64), "0"), ".")
}

func day(d act.Date) string {
	if d == (act.Date{}) {
		return ""
	}
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
}
