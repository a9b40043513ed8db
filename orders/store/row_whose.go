package store

import (
	"encoding/json"

	"wellstowed/orders"
)

// whoseQuery reads what orders are found by.
func (d dialect) whoseQuery() string {
	return `
SELECT o.id, c.name, c.address, c.phone,
       (SELECT ` + d.list("r.number", false) + ` FROM receipts r WHERE r.order_id = o.id) AS receipts
FROM orders o JOIN customers c ON c.id = o.customer_id
WHERE NOT EXISTS (SELECT 1 FROM erased_records x WHERE x.kind = 'order' AND x.id = o.id)
ORDER BY o.number DESC`
}

// Whose gives what all orders are found by.
func (t tx) Whose() ([]orders.Whose, error) {
	var views []struct{ ID, Name, Address, Phone, Receipts string }
	if err := t.db.Raw(t.says.whoseQuery()).Scan(&views).Error; err != nil {
		return nil, err
	}
	all := make([]orders.Whose, len(views))
	for i, v := range views {
		all[i] = orders.Whose{OrderID: v.ID, Name: v.Name, Address: v.Address, Phone: v.Phone}
		if err := json.Unmarshal([]byte(v.Receipts), &all[i].Receipts); err != nil {
			return nil, err
		}
	}
	return all, nil
}
