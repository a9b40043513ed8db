package orders

import (
	"context"
	"time"

	"wellstowed/measure"
)

// A Link lets a buyer without an account come to the case of one receipt by a secret
// code in its address. The code is shown once and not kept: only its hash is.
type Link struct {
	ID        string    `json:"id"`
	Receipt   int64     `json:"receipt"`
	CodeHash  string    `json:"-"` // SHA-256 of the code, hex
	Made      time.Time `json:"made"`
	MadeBy    string    `json:"made_by"`
	Withdrawn time.Time `json:"withdrawn,omitzero"` // zero while it holds
}

// noLink is the one answer to a code that is not known, not whole or withdrawn.
func noLink() error {
	return &Error{Kind: NotFound, Message: measure.Say("There is no such page. The link may have been renewed or withdrawn: ask the seller for the one that holds.")}
}

// MakeLink makes the buyer's link of a receipt, which opens its case where there was
// none, and gives its code, which is not kept. A link made before holds no longer. The
// same request again is a Conflict, since the code cannot be shown twice.
func (s *Service) MakeLink(ctx context.Context, act Act, receipt int64) (code string, err error) {
	if err := allow(act.Actor, toDeliver); err != nil {
		return "", err
	}
	e, err := begin(act, LinkMade, formatNumber(receipt))
	if err != nil {
		return "", err
	}
	code, hash, err := newCode()
	if err != nil {
		return "", fail(err)
	}
	err = s.store.Write(ctx, func(tx Tx) error {
		before, err := e.done(tx)
		switch {
		case err != nil:
			return err
		case before != nil:
			return conflict("this link was made and its code shown once; it is not kept. Make a new link for another")
		}
		receipt, err := firstReceipt(tx, receipt)
		if err != nil {
			return err
		}
		if err := notErased(tx, receipt); err != nil {
			return err
		}
		if err := s.openReceiptCase(tx, receipt); err != nil {
			return err
		}
		if err := tx.WithdrawLinks(receipt, s.now()); err != nil {
			return err
		}
		l := Link{Receipt: receipt, CodeHash: hash, Made: s.now(), MadeBy: act.Actor.Person}
		if l.ID, err = newID(); err != nil {
			return err
		}
		if err := tx.AddLink(l); err != nil {
			return err
		}
		return s.keep(tx, e, l.ID)
	})
	if err != nil {
		return "", fail(err)
	}
	return code, nil
}

// WithdrawLink makes the buyer's link of a receipt hold no longer; the case stays.
func (s *Service) WithdrawLink(ctx context.Context, act Act, receipt int64) error {
	if err := allow(act.Actor, toDeliver); err != nil {
		return err
	}
	e, err := begin(act, LinkWithdrawn, formatNumber(receipt))
	if err != nil {
		return err
	}
	return fail(s.store.Write(ctx, func(tx Tx) error {
		if before, err := e.done(tx); err != nil || before != nil {
			return err
		}
		receipt, err := firstReceipt(tx, receipt)
		if err != nil {
			return err
		}
		if err := tx.WithdrawLinks(receipt, s.now()); err != nil {
			return err
		}
		return s.keep(tx, e, "")
	}))
}
