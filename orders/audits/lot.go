package audits

import (
	"context"
	"math/rand/v2"
	"strconv"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/orders/act"
)

// LotDrawn is the verb of drawing a sample of a packaged lot.
const LotDrawn act.Verb = "draw lot"

// A LotDraw is one draw of a sample of a packaged lot. It is only ever added, so that
// whoever draws until the packages please leaves a trace.
type LotDraw struct {
	ID    string    `json:"id"`
	Lot   string    `json:"lot"` // whose packages, and where
	Size  int       `json:"lot_size"`
	Seed  uint64    `json:"seed"`
	Typed bool      `json:"typed,omitempty"` // the seed was typed, not drawn
	By    string    `json:"by"`
	At    time.Time `json:"at"`
}

// A LotDrawRequest draws a sample, as typed.
type LotDrawRequest struct {
	Lot  string `json:"lot"`
	Size string `json:"lot_size"`
	Seed string `json:"seed"` // empty: a new one
}

// LotDrawStore keeps draws.
type LotDrawStore interface {
	AddLotDraw(key string, d LotDraw) error
	// LotDraws gives the draws for lots of that key, oldest first.
	LotDraws(key string) ([]LotDraw, error)
}

// DrawLot draws a sample of a lot from the seed that was typed or a new one, keeps that,
// and gives every draw for the lot, this one last.
func (s *Service) DrawLot(ctx context.Context, by act.Act, r LotDrawRequest) ([]LotDraw, error) {
	write := act.Write{Verb: LotDrawn, May: act.ToTally, Content: r}
	return act.Do(ctx, s.acts, by, write, func(tx Tx) (string, error) {
		d, err := s.readDraw(r)
		if err != nil {
			return "", err
		}
		before, err := tx.LotDraws(SellerKey(d.Lot))
		if err != nil {
			return "", err
		}
		if len(before) >= lot.MaxDraws {
			return "", act.NewConflict("this lot was drawn %d times, which is all it may be", lot.MaxDraws)
		}
		d.By, d.At = by.Actor.Person, s.acts.Now()
		return d.Lot, tx.AddLotDraw(SellerKey(d.Lot), d)
	}, func(tx Tx, name string) ([]LotDraw, error) { return tx.LotDraws(SellerKey(name)) })
}

func (s *Service) readDraw(r LotDrawRequest) (d LotDraw, err error) {
	var f act.Fields
	if d.Lot = f.Printable(s.printer, "lot", f.Line("lot", r.Lot)); d.Lot == "" && len(f.Faults) == 0 {
		f.Missing("lot", measure.Say("whose packages these are, and where, such as: Corner Store, by the door"))
	}
	if d.Size, err = strconv.Atoi(r.Size); err != nil {
		f.Add("lot_size", "not-a-number", r.Size, measure.Say("this is not a whole number"), measure.Say("how many packages there are, such as 30"))
	} else if err := lot.CheckSize(d.Size); err != nil {
		f.Parsed("lot_size", err)
	}
	if d.Seed, d.Typed = rand.Uint64N(1_000_000_000), r.Seed != ""; d.Typed {
		if d.Seed, err = strconv.ParseUint(r.Seed, 10, 64); err != nil {
			f.Add("seed", "not-a-number", r.Seed, measure.Say("this is not a whole number"), measure.Say("a whole number, or nothing for a new draw"))
		}
	}
	if err := f.Err(); err != nil {
		return LotDraw{}, err
	}
	d.ID, err = act.NewID()
	return d, err
}

// LotDraws gives every draw for a lot by its name, oldest first.
func (s *Service) LotDraws(ctx context.Context, who act.Actor, name string) (draws []LotDraw, err error) {
	if err := act.Allow(who, act.ToTally); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		draws, err = tx.LotDraws(SellerKey(name))
		return err
	})
	return draws, act.Fail(err)
}
