package cases

import (
	"context"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// An EntryRequest is something said in an exchange, as typed.
type EntryRequest struct {
	Kind    string `json:"kind"` // "claim", "answer", "reply" or "office"
	Text    string `json:"text"`
	Remedy  string `json:"remedy"`  // "wood", "money", "together"; of an answer also "disagree"
	Accepts string `json:"accepts"` // of a reply: "yes" or "no"
}

// AddEntry adds what buyer or seller says to the exchange; nothing said is ever
// changed. In a buyer's own record the buyer also writes down what the seller
// answered. It is Invalid with all faults, Forbidden for words of the other side, and
// Conflict for an answer or reply to nothing.
func (s *Service) AddEntry(ctx context.Context, by act.Act, key Key, r EntryRequest) (File, error) {
	return s.onCase(ctx, by, key, EntryMade, r, func(tx Tx, f File) error {
		e, err := s.readEntry(f, r)
		if err != nil {
			return err
		}
		if err := f.mayAdd(e, by.Actor); err != nil {
			return err
		}
		if e.At = s.now(); f.Party == stack.Seller {
			e.By = by.Actor.Person
		}
		if e.ID, err = act.NewID(); err != nil {
			return err
		}
		return tx.AddEntry(f.Case.ID, e)
	})
}

func (s *Service) readEntry(file File, r EntryRequest) (Entry, error) {
	var f act.Fields
	e := Entry{Kind: EntryKind(r.Kind), Party: stack.Buyer, Remedy: Remedy(r.Remedy), Text: s.printed(&f, file, "text", r.Text, true)}
	remedies := []Remedy{"", BringWood, GiveMoney, Together}
	switch e.Kind {
	case Claim:
		if e.Text == "" && len(f.Faults) == 0 {
			f.Missing("text", measure.Say("what is wrong, in your own words"))
		}
	case Answer:
		e.Party = stack.Seller
		remedies = []Remedy{BringWood, GiveMoney, Together, Disagree}
		if e.Remedy == Disagree && e.Text == "" && len(f.Faults) == 0 {
			f.Missing("text", measure.Say("why the seller does not agree"))
		}
	case Reply:
		remedies = []Remedy{""}
		if e.Accepts = YesNo(r.Accepts); e.Accepts != Yes && e.Accepts != No {
			f.Add("accepts", "unknown", r.Accepts, measure.Say("it is not said whether the answer is accepted"), measure.Say("yes or no"))
		}
	case Office:
		remedies = []Remedy{""}
		if e.Text == "" && len(f.Faults) == 0 {
			f.Missing("text", measure.Say("which office was asked"))
		}
	default:
		f.Add("kind", "unknown", r.Kind, measure.Say("nothing of that kind is said here"), measure.Say("claim, answer, reply or office"))
	}
	if !slices.Contains(remedies, e.Remedy) {
		remedy(&f, e.Kind, r.Remedy)
	}
	f.Hush(file.Set)
	return e, f.Err()
}

// remedy notes what is asked for or offered as a fault.
func remedy(f *act.Fields, kind EntryKind, text string) {
	switch {
	case kind == Answer && text == "":
		f.Missing("remedy", measure.Say("to bring the wood, money back, to measure together, or that you do not agree"))
	case kind == Reply || kind == Office:
		f.Add("remedy", "unknown", text, measure.Say("nothing is asked for or offered here"), measure.Say("nothing"))
	default:
		f.Add("remedy", "unknown", text, measure.Say("no such remedy is known"), measure.Say("wood, money or together"))
	}
}

// mayAdd tells whether the entry is for whoever comes, and answers something.
func (f File) mayAdd(e Entry, who act.Actor) error {
	if f.Case.Receipt != 0 && e.Party != f.Party {
		return &act.Error{Kind: act.Forbidden, Message: measure.Say("each side writes only its own words")}
	}
	if f.Party == stack.Seller {
		if err := act.Allow(who, act.ToManage); err != nil {
			return err
		}
	}
	switch {
	case e.Kind == Answer && f.Case.Last(Claim) == nil:
		return act.NewConflict("the buyer has not written yet; there is nothing to answer")
	case e.Kind == Reply && !f.Case.Open(Answer, Reply):
		return act.NewConflict("there is no answer to accept, or it was replied to already")
	}
	return nil
}

// Open tells whether the last entry of one kind has none of another after it.
func (c Case) Open(kind, closing EntryKind) bool {
	for i := len(c.Entries) - 1; i >= 0; i-- {
		switch c.Entries[i].Kind {
		case kind:
			return true
		case closing:
			return false
		}
	}
	return false
}

// Waits tells whether the buyer has claimed something, or not accepted an answer, and
// the seller has said nothing since.
func (c Case) Waits() bool {
	for i := len(c.Entries) - 1; i >= 0; i-- {
		switch e := c.Entries[i]; e.Kind {
		case Claim:
			return true
		case Reply:
			return e.Accepts == No
		case Answer:
			return false
		}
	}
	return false
}
