package store

import (
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"

	"wellstowed/orders"
	"wellstowed/orders/cases"
	"wellstowed/orders/privacy"
	"wellstowed/orders/proof"
)

// An erasing takes names out of one column, or out of a table where the rows go whole.
// What is left and the rows are SQL, in which @id is the record's id.
type erasing struct {
	table  string
	column string // empty: the rows are deleted
	left   string // what the column holds afterwards; the same if it is done again
	rows   string
	// once tells that the rows are known by names that are gone afterwards, so that it
	// cannot be told later whether they came back.
	once bool
}

func (e erasing) statement() string {
	if e.column == "" {
		return fmt.Sprintf("DELETE FROM %s WHERE %s", e.table, e.rows)
	}
	return fmt.Sprintf("UPDATE %s SET %s = %s WHERE %s", e.table, e.column, e.left, e.rows)
}

// back tells in SQL whether a record that was erased holds such names again.
func (e erasing) back() string {
	if e.column == "" {
		return fmt.Sprintf("EXISTS (SELECT 1 FROM %s WHERE %s)", e.table, e.rows)
	}
	// What is left is worked out of the rows alone: elsewhere the column may hold what it can't be worked out of.
	return fmt.Sprintf("EXISTS (SELECT 1 FROM %s WHERE (%s) AND CASE WHEN %s THEN %s IS DISTINCT FROM %s ELSE false END)", e.table, e.rows, e.rows, e.column, e.left)
}

// emptied are columns of one table that hold nothing afterwards.
func emptied(table, rows, nothing string, columns ...string) []erasing {
	all := make([]erasing, len(columns))
	for i, c := range columns {
		all[i] = erasing{table: table, column: c, left: nothing, rows: rows}
	}
	return all
}

// noText is what is left of a column of text.
const noText = "''"

// nobody is a party without a name, as JSON.
const nobody = `{"name":"","address":""}`

// erasings are what takes the names out of a record of a kind, in the order in which it
// is done: the columns and members that the doors declare (privacy.Declared), and the rows that
// go whole. A test fills every text that is stored and holds what is left against what is declared.
func (d dialect) erasings(kind orders.RecordKind) []erasing {
	switch kind {
	case orders.OrderRecord:
		return slices.Concat(d.orderErasings(),
			d.caseErasings("case_id IN (SELECT c.id FROM cases c JOIN receipts r ON r.number = c.receipt WHERE r.order_id = @id)"),
			d.placeErasings("SELECT wish_id FROM wish_ends WHERE order_id = @id"))
	case orders.PlaceRecord:
		return d.placeErasings("@id")
	case orders.CaseRecord:
		return d.caseErasings("case_id = @id")
	case orders.AuditRecord:
		return d.auditErasings()
	}
	return nil
}

// orderErasings are those of an order, its customer, its papers and its money. Who read
// is compared with the customer, so the customer goes last.
func (d dialect) orderErasings() []erasing {
	const (
		ofOrder  = "order_id = @id"
		customer = "id = (SELECT customer_id FROM orders WHERE id = @id)"
		byBuyer  = `read_by IN (SELECT c.name FROM customers c JOIN orders o ON o.customer_id = c.id WHERE o.id = @id
			UNION SELECT c.print_name FROM customers c JOIN orders o ON o.customer_id = c.id WHERE o.id = @id)`
		// what is kept of a customer goes with the last order that isn't erased
		ofNobodyElse = `id = (SELECT c.record_id FROM customers c JOIN orders o ON o.customer_id = c.id WHERE o.id = @id)
			AND NOT EXISTS (SELECT 1 FROM customers c JOIN orders o ON o.customer_id = c.id WHERE c.record_id = customer_records.id AND o.id <> @id)`
		unchained = ofOrder + " AND sheet_sha256 = ''"
	)
	return slices.Concat(
		emptied("receipts", ofOrder, d.bytes(""), "personal", "pdf"),
		emptied("receipts", ofOrder, d.bytes(strings.Repeat("\x00", saltBytes)), "salt"),
		emptied("sheets", ofOrder, d.bytes(""), "personal", "salt", "pdf"),
		[]erasing{
			{table: "sheets", column: "sheet", rows: unchained,
				left: d.bytesOf(d.with(d.with(d.textOf("sheet"), "purchaser", d.json(nobody)), "read_by", d.text("''")))},
			{table: "tallies", column: "read_by", left: "@reader", rows: ofOrder + " AND (" + d.member(d.textOf("document"), "by") + " = 'buyer' OR " + byBuyer + ")", once: true},
			{table: "moistures", column: "read_by", left: "@reader", rows: ofOrder + " AND " + byBuyer, once: true},
		},
		emptied("payments", ofOrder, noText, privacy.Columns[orders.Payment]()...),
		emptied("settlements", ofOrder, noText, privacy.Columns[orders.Settlement]()...),
		[]erasing{
			{table: "deliveries_waiting", rows: ofOrder},
			{table: "order_photos", rows: ofOrder},
			{table: "buyer_links", column: "withdrawn", left: "coalesce(withdrawn, @at)", once: true,
				rows: "receipt IN (SELECT number FROM receipts WHERE order_id = @id)"},
			{table: "customer_records", rows: ofNobodyElse},
			{table: "customers", column: "record_id", left: "NULL", rows: customer},
			{table: "customers", column: "name", left: "@name", rows: customer},
		},
		emptied("customers", customer, noText, slices.DeleteFunc(privacy.Columns[orders.Customer](), isName)...),
		emptied("orders", "id = @id", noText, privacy.Columns[orders.Order]()...),
		[]erasing{
			{table: "orders", column: "fees", rows: "id = @id", left: "(SELECT " + d.list(d.without("e.j", "words"), true) + " FROM " + d.elements("fees") + ")"},
			{table: "orders", column: "tax", rows: "id = @id AND CASE WHEN tax = '' THEN '' ELSE coalesce(" + d.member("tax", "exempt") + ", '') END <> ''", left: d.with("tax", "exempt", d.text("@name"))},
			{table: "customers", column: "version", left: "version + 1", rows: customer, once: true},
			{table: "orders", column: "version", left: "version + 1", rows: "id = @id", once: true},
		})
}

// isName tells of the column of a customer in which something is left.
func isName(column string) bool { return column == "name" }

// placeErasings are those of places on the waiting list. What was asked for stays.
func (d dialect) placeErasings(ids string) []erasing {
	rows := "id IN (" + ids + ")"
	return slices.Concat(
		emptied("wishes", rows, noText, "wanted_for"),
		[]erasing{{table: "wishes", column: "request", rows: rows, left: d.with(d.without("request", privacy.Members[orders.OrderRequest]()...), "customer_name", d.text("@name"))}},
		emptied("wish_ends", "wish_id IN ("+ids+")", noText, "reason"))
}

// caseErasings are those of buyers' cases. A name can stand anywhere in what was
// written, so it goes whole.
func (d dialect) caseErasings(rows string) []erasing {
	return slices.Concat(
		[]erasing{{table: "case_tallies", column: "read_by", left: "@reader", rows: rows}},
		emptied("case_entries", rows, noText, privacy.Columns[cases.Entry]()...),
		emptied("case_accounts", rows, noText, "words"),
		[]erasing{{table: "case_accounts", column: "account", rows: rows,
			left: d.without("account", privacy.Members[cases.Statement]()...)}})
}

// auditErasings are those of an audit. Who bought and where is blanked; what was
// recorded, read and photographed, and the report of it, go whole. Its result stays.
func (d dialect) auditErasings() []erasing {
	const ofAudit = "audit_id = @id"
	return slices.Concat(
		[]erasing{
			{table: "audits", column: "subject", rows: "id = @id", left: d.with(d.with("subject", "purchaser", d.json(nobody)), "place", d.text("''"))},
			{table: "audit_entries", rows: ofAudit},
			{table: "audit_readings", rows: "measurer_id IN (SELECT id FROM audit_measurers WHERE audit_id = @id)"},
			{table: "audit_link_openings", rows: "measurer_id IN (SELECT id FROM audit_measurers WHERE audit_id = @id)"},
			{table: "audit_measurers", rows: ofAudit},
			{table: "audit_photos", rows: ofAudit},
		},
		emptied("audit_reports", ofAudit, d.bytes(""), "report", "pdf"),
		[]erasing{{table: "audits", column: "version", left: "version + 1", rows: "id = @id", once: true}})
}

// EraseNames takes the names out of a record and what belongs to it.
func (t tx) EraseNames(r orders.Record, at time.Time) error {
	for _, e := range t.says.erasings(r.Kind) {
		if err := t.db.Exec(e.statement(), erasureArgs(r.ID, at)...).Error; err != nil {
			return fmt.Errorf("%s.%s: %w", e.table, e.column, err)
		}
	}
	return nil
}

func erasureArgs(id string, at time.Time) []any {
	return []any{sql.Named("id", id), sql.Named("at", micros(at)), sql.Named("name", orders.ErasedName), sql.Named("reader", orders.ErasedReader)}
}

// NamesBack gives the records that were erased and hold names again.
func (t tx) NamesBack() ([]proof.NamedAgain, error) {
	var erased []erasedRecord
	err := t.db.Raw(`SELECT x.kind, x.id, coalesce(o.number, a.number, 0) AS number FROM erased_records x
		LEFT JOIN orders o ON x.kind = 'order' AND o.id = x.id LEFT JOIN audits a ON x.kind = 'audit' AND a.id = x.id
		ORDER BY x.kind, number, x.id`).Scan(&erased).Error
	if err != nil {
		return nil, err
	}
	var back []proof.NamedAgain
	for _, r := range erased {
		again, err := t.holdsNames(orders.RecordKind(r.Kind), r.ID)
		if err != nil {
			return nil, err
		}
		if again {
			back = append(back, proof.NamedAgain{Kind: orders.RecordKind(r.Kind), Number: r.Number})
		}
	}
	return back, nil
}

// holdsNames tells whether a record that was erased holds names. The papers of an order
// are held against the log by themselves.
func (t tx) holdsNames(kind orders.RecordKind, id string) (bool, error) {
	for _, e := range t.says.erasings(kind) {
		if e.once || e.table == "receipts" || e.table == "sheets" {
			continue
		}
		var found bool
		if err := t.db.Raw("SELECT "+e.back(), erasureArgs(id, time.Time{})...).Scan(&found).Error; err != nil || found {
			return found, err
		}
	}
	return false, nil
}
