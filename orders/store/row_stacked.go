package store

import (
	"wellstowed/orders/audits"
)

type stackedRow struct {
	Delivery string
	Number   int64 // of the order
	Receipt  int64
	Look     int
	Document []byte
	Created  int64
}

// saysStacked is what a document has in it that says whether the wood was stacked again.
const saysStacked = `%"stacked":%`

// StackedTallies gives all tallies of each order and of each buyer's case of which one
// says whether its wood was stacked again, in the order of their checks.
func (t tx) StackedTallies() ([]audits.StackedTally, error) {
	var rows []stackedRow
	err := t.db.Raw(`
SELECT 'order ' || t.order_id AS delivery, o.number, 0 AS receipt, t.look, t.document, t.created
  FROM tallies t JOIN orders o ON o.id = t.order_id
 WHERE t.order_id IN (SELECT order_id FROM tallies WHERE `+t.says.textOf("document")+` LIKE @says)
UNION ALL
SELECT 'case ' || t.case_id, 0, coalesce(c.receipt, 0), t.look, t.document, t.created
  FROM case_tallies t JOIN cases c ON c.id = t.case_id
 WHERE t.case_id IN (SELECT case_id FROM case_tallies WHERE `+t.says.textOf("document")+` LIKE @says)
 ORDER BY 1, 4`, map[string]any{"says": saysStacked}).Scan(&rows).Error
	if err != nil {
		return nil, err
	}
	tallies := make([]audits.StackedTally, len(rows))
	for i, r := range rows {
		tallies[i] = audits.StackedTally{Delivery: r.Delivery, Order: r.Number, Receipt: r.Receipt, Look: r.Look, Document: r.Document, Created: instant(r.Created)}
	}
	return tallies, nil
}
