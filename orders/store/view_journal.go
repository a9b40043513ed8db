package store

import (
	"database/sql"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/journal"
)

// journaledIn is the table of each kind of thing that has a history.
var journaledIn = map[orders.Journaled]string{
	orders.OrderJournal: "orders", orders.CustomerJournal: "customer_records", orders.AuditJournal: "audits",
}

// mostRows bounds how many rows of a history are read.
const mostRows = 5000

// JournalOf gives the acts that changed something or were about it, newest first, each with
// the rows it changed that aren't the program's own.
func (t tx) JournalOf(kind orders.Journaled, id string) (lines []journal.Line, err error) {
	rows, err := t.db.Raw(`SELECT a.id, a.at, a.person, a.session, a.verb, r.of_table, r.did, r.fields
		FROM journal_acts a JOIN journal_rows r ON r.act_id = a.id
		WHERE a.id IN (SELECT act_id FROM journal_rows WHERE of_table = @table AND key = @id
				UNION SELECT id FROM journal_acts WHERE subject = @id AND subject <> ''
				UNION SELECT j.act_id FROM journal_rows j WHERE @table = 'orders' AND j.of_table = 'receipts' AND j.key IN (SELECT CAST(number AS TEXT) FROM receipts WHERE order_id = @id))
			AND r.of_table NOT IN ('requests', 'counters') AND (a.verb <> 'tables' OR (r.of_table = @table AND r.key = @id))
		ORDER BY a.id DESC, r.id LIMIT @most`, sql.Named("table", journaledIn[kind]), sql.Named("id", id), sql.Named("most", mostRows)).Rows()
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var last int64
	for rows.Next() {
		var l journal.Line
		var r journal.Row
		var act, at int64
		var fields string
		if err := rows.Scan(&act, &at, &l.Person, &l.Session, &l.Verb, &r.Table, &r.Did, &fields); err != nil {
			return nil, err
		}
		if fields != "" {
			r.Fields = strings.Split(fields, ",")
		}
		if act != last {
			l.At = instant(at)
			lines = append(lines, l)
			last = act
		}
		end := &lines[len(lines)-1]
		end.Rows = append(end.Rows, r)
	}
	return lines, rows.Err()
}

// JournaledID is the id of the thing of that kind with a number.
func (t tx) JournaledID(kind orders.Journaled, number int64) (string, error) {
	var ids []string
	if err := t.db.Raw("SELECT id FROM "+journaledIn[kind]+" WHERE number = ?", number).Scan(&ids).Error; err != nil {
		return "", err
	}
	if len(ids) == 0 {
		return "", &act.Error{Kind: act.NotFound, Message: measure.Say("%s %d isn’t here", measure.Say(string(kind)), int(number))}
	}
	return ids[0], nil
}
