package audits

import (
	"context"

	"wellstowed/measure/series"
	"wellstowed/orders/act"
)

// A SellerSeries is what the closed audits of one seller come to together. Left are
// those that were closed and stand in no series: their measurers did not agree, or the
// wood was sold in another measure than it was read in.
type SellerSeries struct {
	Series series.Series `json:"series"`
	Audits []Line        `json:"audits"` // in the series, newest first
	Left   []Line        `json:"left,omitempty"`
}

// SellerSeries puts together the closed audits of a seller, by his name as SellerKey
// has it.
func (s *Service) SellerSeries(ctx context.Context, who act.Actor, seller string) (SellerSeries, error) {
	var all SellerSeries
	for before := int64(0); ; {
		page, err := s.Audits(ctx, who, seller, before, mostAudits)
		if err != nil {
			return SellerSeries{}, err
		}
		for _, line := range page.Audits {
			switch {
			case line.State != Closed || line.Result == nil:
			case line.Result.Finding == nil || line.Result.Finding.Expectation():
				all.Left = append(all.Left, line)
			default:
				all.Audits = append(all.Audits, line)
			}
		}
		if before = page.Next; before == 0 {
			break
		}
	}
	audits := make([]series.Audited, len(all.Audits))
	for i, line := range all.Audits {
		f := line.Result.Finding
		audits[i] = series.Audited{Volume: line.Result.Quantity.Volume, Standard: line.Result.Standard, Sold: f.Due, Word: f.Word}
	}
	var err error
	all.Series, err = series.Of(audits)
	return all, act.Fail(err)
}
