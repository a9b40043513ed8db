package store

import (
	"fmt"

	"wellstowed/orders/ledger"
)

// witnessQueries read what a witness is told of each kind of paper.
func witnessQueries() map[ledger.Paper]string {
	return map[ledger.Paper]string{
		ledger.Receipt: `SELECT number, issued, chain, seal, pdf_sha256 FROM receipts WHERE number > ? ORDER BY number`,
		ledger.Sheet:   `SELECT number, issued, chain, '' AS seal, pdf_sha256 FROM sheets WHERE number > ? ORDER BY number`,
	}
}

// WitnessLines gives what a witness is told of papers, in order.
func (t tx) WitnessLines(paper ledger.Paper, after int64) ([]ledger.Line, error) {
	query, known := witnessQueries()[paper]
	if !known {
		return nil, fmt.Errorf("papers of kind %q are not witnessed", paper)
	}
	var rows []struct {
		Number, Issued int64
		Chain, Seal    string
		PDFSHA256      string `gorm:"column:pdf_sha256"`
	}
	if err := t.db.Raw(query, after).Scan(&rows).Error; err != nil {
		return nil, err
	}
	lines := make([]ledger.Line, len(rows))
	for i, r := range rows {
		lines[i] = ledger.Line{Paper: paper, Number: r.Number, Issued: instant(r.Issued), Chain: r.Chain, Seal: r.Seal, PDFHash: r.PDFSHA256}
	}
	return lines, nil
}

// JournalLine gives what a witness is told of the journal up to a write, 0 the newest.
func (t tx) JournalLine(write int64) (ledger.Line, error) {
	var rows []actRow
	query := t.db.Limit(1).Order("id DESC")
	if write != 0 {
		query = query.Where("id = ?", write)
	}
	if err := query.Find(&rows).Error; err != nil || len(rows) == 0 {
		return ledger.Line{}, err
	}
	a := rows[0].act()
	return ledger.Line{Paper: ledger.Journal, Number: a.ID, Issued: a.At, Chain: a.Chain, PDFHash: a.Rows}, nil
}
