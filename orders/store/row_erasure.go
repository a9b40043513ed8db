package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"wellstowed/orders"
)

type erasureRow struct {
	ID      string `gorm:"primaryKey"`
	Person  string
	At      int64
	Cleared *int64
}

func (erasureRow) TableName() string { return "erasures" }

type erasedPaperRow struct {
	Paper     string `gorm:"primaryKey"`
	Number    int64  `gorm:"primaryKey;autoIncrement:false"`
	ErasureID string
}

func (erasedPaperRow) TableName() string { return "erased_papers" }

// Named gives the orders that have receipts and their names, by their first receipt.
func (t tx) Named() ([]string, error) {
	var ids []string
	err := t.db.Raw(`SELECT r.order_id FROM receipts r
		WHERE NOT EXISTS (SELECT 1 FROM erased_papers x WHERE x.paper = 'receipt' AND x.number = r.number)
		GROUP BY r.order_id ORDER BY min(r.number)`).Scan(&ids).Error
	return ids, err
}

// Erasures gives the log of erasures, newest first.
func (t tx) Erasures() ([]orders.Erasure, error) {
	var rows []erasureRow
	if err := t.db.Order("at DESC, id DESC").Find(&rows).Error; err != nil {
		return nil, err
	}
	log := make([]orders.Erasure, len(rows))
	for i, r := range rows {
		var papers []erasedPaperRow
		if err := t.db.Where("erasure_id = ?", r.ID).Order("paper, number").Find(&papers).Error; err != nil {
			return nil, err
		}
		log[i] = orders.Erasure{ID: r.ID, By: r.Person, At: instant(r.At), Cleared: r.Cleared != nil}
		for _, p := range papers {
			if p.Paper == string(orders.SheetPaper) {
				log[i].Sheets = append(log[i].Sheets, p.Number)
			} else {
				log[i].Receipts = append(log[i].Receipts, p.Number)
			}
		}
	}
	return log, nil
}

// AddErasure writes an erasure down.
func (t tx) AddErasure(e orders.Erasure) error {
	if err := t.db.Create(&erasureRow{ID: e.ID, Person: e.By, At: micros(e.At)}).Error; err != nil {
		return err
	}
	var papers []erasedPaperRow
	for _, n := range e.Receipts {
		papers = append(papers, erasedPaperRow{Paper: string(orders.ReceiptPaper), Number: n, ErasureID: e.ID})
	}
	for _, n := range e.Sheets {
		papers = append(papers, erasedPaperRow{Paper: string(orders.SheetPaper), Number: n, ErasureID: e.ID})
	}
	return t.db.Create(&papers).Error
}

// nobody is a party without a name, as JSON.
const nobody = `json('{"name":"","address":""}')`

// casesOf picks the cases of the receipts of one order.
const casesOf = `case_id IN (SELECT c.id FROM cases c JOIN receipts r ON r.number = c.receipt WHERE r.order_id = @order)`

// EraseNames takes the names out of an order and all that hangs on it. The readers of
// tallies are compared with the customer, so the customer goes last.
func (t tx) EraseNames(orderID string, at time.Time) error {
	for _, statement := range []string{
		`UPDATE receipts SET personal = x'', salt = zeroblob(16), pdf = x'' WHERE order_id = @order`,
		`UPDATE sheets SET personal = x'', salt = x'', pdf = x'' WHERE order_id = @order`,
		`UPDATE sheets SET sheet = CAST(json_set(CAST(sheet AS TEXT), '$.purchaser', ` + nobody + `, '$.read_by', '') AS BLOB)
			WHERE order_id = @order AND sheet_sha256 = ''`,
		`UPDATE tallies SET read_by = @reader WHERE order_id = @order AND (json_extract(CAST(document AS TEXT), '$.by') = 'buyer'
			OR read_by IN (SELECT c.name FROM customers c JOIN orders o ON o.customer_id = c.id WHERE o.id = @order
			UNION SELECT c.print_name FROM customers c JOIN orders o ON o.customer_id = c.id WHERE o.id = @order))`,
		`UPDATE case_tallies SET read_by = @reader WHERE ` + casesOf,
		`UPDATE case_entries SET text = '' WHERE ` + casesOf,
		`UPDATE case_accounts SET account = json_set(account, '$.buyer', ` + nobody + `) WHERE ` + casesOf,
		`UPDATE buyer_links SET withdrawn = @at WHERE withdrawn IS NULL AND receipt IN (SELECT number FROM receipts WHERE order_id = @order)`,
		`UPDATE wishes SET wanted_for = '', request = json_set(request, '$.customer_name', @name, '$.customer_address', '', '$.customer_phone', '', '$.notes', '')
			WHERE id IN (SELECT wish_id FROM wish_ends WHERE order_id = @order)`,
		`UPDATE customers SET version = version + 1, name = @name, address = '', phone = '', print_name = '', print_address = ''
			WHERE id = (SELECT customer_id FROM orders WHERE id = @order)`,
		`UPDATE orders SET version = version + 1, notes = '' WHERE id = @order`,
	} {
		err := t.db.Exec(statement, sql.Named("order", orderID), sql.Named("at", micros(at)),
			sql.Named("name", orders.ErasedName), sql.Named("reader", orders.ErasedReader)).Error
		if err != nil {
			return err
		}
	}
	return nil
}

// NamesBack gives the numbers of orders that were erased and have names again.
func (t tx) NamesBack() ([]int64, error) {
	var numbers []int64
	err := t.db.Raw(`SELECT DISTINCT o.number FROM erased_papers x
		JOIN receipts r ON x.paper = 'receipt' AND r.number = x.number
		JOIN orders o ON o.id = r.order_id JOIN customers c ON c.id = o.customer_id
		WHERE c.name <> ? OR c.address <> '' OR c.phone <> '' OR c.print_name <> '' OR c.print_address <> '' OR o.notes <> ''
		ORDER BY o.number`, orders.ErasedName).Scan(&numbers).Error
	return numbers, err
}

// MarkCleared writes down that the file was rewritten since all erasures there are.
func (t tx) MarkCleared(at time.Time) error {
	when := micros(at)
	return t.db.Model(&erasureRow{}).Where("cleared IS NULL").Select("Cleared").Updates(erasureRow{Cleared: &when}).Error
}

// Clear rewrites the file without what was deleted, and empties the write-ahead log. It
// fails where somebody reads on for longer than the wait for the file's lock.
func (db *DB) Clear(ctx context.Context) (err error) {
	select {
	case db.writing <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-db.writing }()
	conn, err := db.pool.Conn(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, conn.Close()) }()
	if _, err := conn.ExecContext(ctx, "VACUUM"); err != nil {
		return fmt.Errorf("rewriting the file: %w", err)
	}
	var busy, pages, moved int
	if err := conn.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &pages, &moved); err != nil {
		return fmt.Errorf("emptying the write-ahead log: %w", err)
	}
	if busy != 0 {
		return errors.New("emptying the write-ahead log: somebody reads it")
	}
	return nil
}
