package audits

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A MeasurerRequest adds a measurer to an audit.
type MeasurerRequest struct {
	Name string `json:"measurer_name"`
}

// A MeasurerLink is a measurer and the secret code of its link, which is shown once and
// not kept.
type MeasurerLink struct {
	AuditID  string   `json:"audit_id"`
	Measurer Measurer `json:"measurer"`
	Code     string   `json:"code"`
}

// AddMeasurer adds somebody who measures and gives the code of the link, once. The same
// request again is a Conflict, since the code cannot be shown twice.
func (s *Service) AddMeasurer(ctx context.Context, by act.Act, id string, r MeasurerRequest) (MeasurerLink, error) {
	code, hash, err := act.NewCode()
	if err != nil {
		return MeasurerLink{}, act.Fail(err)
	}
	var h Measurer
	wrote := false
	a, err := s.enterAudit(ctx, by, MeasurerAdded, id, r, func(tx Tx, in *reader) error {
		plan := in.d.audit.Plan()
		if plan == nil {
			return act.NewConflict("audit %d has no plan yet: fix it first, for it says how many measure", int(in.d.audit.Number))
		}
		if n := len(in.d.audit.Measurers); n >= plan.Measurers {
			return act.NewConflict("the plan has %d measurers and all have their link; amend the plan to add another", plan.Measurers)
		}
		h = Measurer{Name: in.needed("measurer_name", r.Name, measure.Say("the name of who measures")), Added: in.d.now}
		for _, other := range in.d.audit.Measurers {
			if SellerKey(other.Name) == SellerKey(h.Name) {
				in.Add("measurer_name", "twice", h.Name, measure.Say("somebody of that name measures already"), measure.Say("a name that tells the two apart"))
			}
		}
		if err := in.done(); err != nil {
			return err
		}
		var err error
		if h.ID, err = act.NewID(); err != nil {
			return err
		}
		wrote = true
		return tx.AddAuditMeasurer(id, h, hash)
	})
	return linkShown(a, h, code, wrote, err)
}

// RenewMeasurer gives a measurer another link; the one before opens nothing any more.
func (s *Service) RenewMeasurer(ctx context.Context, by act.Act, id, measurerID string) (MeasurerLink, error) {
	code, hash, err := act.NewCode()
	if err != nil {
		return MeasurerLink{}, act.Fail(err)
	}
	var h Measurer
	wrote := false
	a, err := s.enterAudit(ctx, by, MeasurerRenewed, id, measurerID, func(tx Tx, in *reader) error {
		for _, known := range in.d.audit.Measurers {
			if known.ID == measurerID {
				h = known
			}
		}
		if h.ID == "" {
			return &act.Error{Kind: act.NotFound, Message: measure.Say("that measurer isn’t in this audit")}
		}
		wrote = true
		return tx.RenewAuditMeasurer(measurerID, hash, in.d.now)
	})
	return linkShown(a, h, code, wrote, err)
}

func linkShown(a Audit, h Measurer, code string, wrote bool, err error) (MeasurerLink, error) {
	switch {
	case err != nil:
		return MeasurerLink{}, err
	case !wrote:
		return MeasurerLink{}, act.NewConflict("this link was made and its code shown once; it is not kept. Renew the link for another")
	}
	return MeasurerLink{AuditID: a.ID, Measurer: h, Code: code}, nil
}
