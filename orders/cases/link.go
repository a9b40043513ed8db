package cases

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Link lets a buyer without an account come to the case of one receipt by a secret
// code in its address. The code is shown once and not kept: only its hash is.
type Link struct {
	ID        string    `json:"id"`
	Receipt   int64     `json:"receipt"`
	CodeHash  string    `json:"-"` // SHA-256 of the code, hex
	Made      time.Time `json:"made"`
	MadeBy    string    `json:"made_by" names:"staff"`
	Withdrawn time.Time `json:"withdrawn,omitzero"` // zero while it holds
}

// noLink is the one answer to a code that is not known, not whole or withdrawn.
func noLink() error {
	return &act.Error{Kind: act.NotFound, Message: measure.Say("That page isn’t here. The link may have been renewed or withdrawn: ask the seller for the one that holds.")}
}

// MakeLink makes the buyer's link of a receipt, which opens its case where there was
// none, and gives its code, which is not kept. A link made before holds no longer. The
// same request again is a Conflict, since the code cannot be shown twice.
func (s *Service) MakeLink(ctx context.Context, by act.Act, receipt int64) (code string, err error) {
	code, hash, err := act.NewCode()
	if err != nil {
		return "", act.Fail(err)
	}
	made := false
	w := act.Write{Verb: LinkMade, Subject: act.FormatNumber(receipt), May: act.ToDeliver}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		made = true
		return s.makeLink(tx, by, receipt, hash)
	}, func(Tx, string) (string, error) {
		if !made {
			return "", act.NewConflict("this link was made and its code shown once; it is not kept. Make a new link for another")
		}
		return code, nil
	})
}

func (s *Service) makeLink(tx Tx, by act.Act, receipt int64, hash string) (id string, err error) {
	if receipt, err = firstReceipt(tx, receipt); err != nil {
		return "", err
	}
	if err := notErased(tx, receipt); err != nil {
		return "", err
	}
	if err := s.openReceiptCase(tx, receipt); err != nil {
		return "", err
	}
	if err := tx.WithdrawLinks(receipt, s.now()); err != nil {
		return "", err
	}
	l := Link{Receipt: receipt, CodeHash: hash, Made: s.now(), MadeBy: by.Actor.Person}
	if l.ID, err = act.NewID(); err != nil {
		return "", err
	}
	return l.ID, tx.AddLink(l)
}

// WithdrawLink makes the buyer's link of a receipt hold no longer; the case stays.
func (s *Service) WithdrawLink(ctx context.Context, by act.Act, receipt int64) error {
	w := act.Write{Verb: LinkWithdrawn, Subject: act.FormatNumber(receipt), May: act.ToDeliver}
	_, err := act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		first, err := firstReceipt(tx, receipt)
		if err != nil {
			return "", err
		}
		return "", tx.WithdrawLinks(first, s.now())
	}, act.Nothing)
	return err
}

// notErased refuses a link to a receipt whose names were erased.
func notErased(tx Tx, number int64) error {
	r, err := tx.StoredReceipt(number)
	if err == nil && !r.Erased.IsZero() {
		return act.NewConflict("the names on receipt %d were erased; there is no buyer’s link to it any more", int(number))
	}
	return err
}
