package yard

import (
	"context"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A BatchRequest is a batch as typed, or a correction of what is said of one.
type BatchRequest struct {
	Name        string `json:"name"`
	Species     string `json:"species"`  // "red oak", or "red oak 60 %; sugar maple 40 %"
	Quantity    string `json:"quantity"` // put up, in the units of the shop's rules; not of a correction
	PieceLength string `json:"piece_length"`
	Cut         string `json:"cut"`   // "2006-01-02"; empty or "not known": not known
	Split       string `json:"split"` // likewise
	Origin      string `json:"origin"`
	Certificate string `json:"certificate"`
	Notes       string `json:"notes"`
	// Reason and Version are of a correction: why, and the version that was seen.
	Reason  string `json:"reason"`
	Version int64  `json:"version"`
}

// A BatchCount is what lies of a batch now, as typed.
type BatchCount struct {
	Left      string `json:"left"`       // "2 1/2 cords", on the batch's own basis
	On        string `json:"on"`         // "2006-01-02"; empty: today in the shop's zone
	Reason    string `json:"reason"`     // why it was counted
	CountedBy string `json:"counted_by"` // empty: the person who saves it
}

// A BatchEnd says that a batch is used up, as typed.
type BatchEnd struct {
	Rest string `json:"rest"` // what became of the rest
}

// notKnown is what a person may type for a day that is not known.
const notKnown = "not known"

// A reader turns what was typed of a batch into facts and gathers the faults.
type reader struct {
	act.Fields
	plot
	font act.Font
}

func (s *Service) reader(tx Tx) (*reader, error) {
	p, err := s.plot(tx)
	return &reader{plot: p, font: s.font}, err
}

// facts reads what is said of a batch.
func (in *reader) facts(r BatchRequest) BatchFacts {
	var f BatchFacts
	if f.Name = in.name("name", r.Name); f.Name == "" && len(in.Faults) == 0 {
		in.Missing("name", measure.Say("what the batch is called, such as north bay"))
	}
	f.Species = in.printed("species", r.Species)
	if strings.TrimSpace(r.Species) == "" {
		in.Missing("species", measure.Say("the kind of wood, such as red oak, or mixed hardwood where it is not known"))
	}
	f.PieceLength = in.PieceLength(in.set, in.units, r.PieceLength)
	f.Cut, f.Split = in.day("cut", r.Cut), in.day("split", r.Split)
	if !f.Cut.IsZero() && !f.Split.IsZero() && f.Cut.After(f.Split) {
		in.Add("split", "too-early", r.Split, measure.Say("that is before it was cut"),
			measure.Say("a day from %s on, or nothing where it is not known", f.Cut.String()))
	}
	f.Origin = in.printed("origin", r.Origin)
	f.Certificate = in.printed("certificate", r.Certificate)
	f.Notes = in.Lines("notes", r.Notes)
	in.BarredInName(in.set, "notes", f.Notes)
	return f
}

// name reads the name of a thing or a person.
func (in *reader) name(field, text string) string {
	text = in.Printable(in.font, field, in.Line(field, text))
	in.BarredInName(in.set, field, text)
	return text
}

// printed reads one line that speaks of the wood and will be printed.
func (in *reader) printed(field, text string) string {
	text = in.Printable(in.font, field, in.Line(field, text))
	in.Barred(in.set, field, text)
	return text
}

// day reads a day up to today; the zero act.Date where it is not known.
func (in *reader) day(field, text string) act.Date {
	text = strings.TrimSpace(text)
	if text == "" || strings.EqualFold(text, notKnown) {
		return act.Date{}
	}
	on, err := act.ParseDate(text)
	if in.Parsed(field, err) && on.After(in.today) {
		in.Add(field, "future", text, measure.Say("it is later than today"),
			measure.Say("a day up to %s, or nothing where it is not known", in.today.String()))
		return act.Date{}
	}
	return on
}

// quantity reads how much wood there is, stacked or loose.
func (in *reader) quantity(field, text string, piece measure.Length) measure.Quantity {
	if text == "" {
		in.Missing(field, act.AcceptedQuantities())
		return measure.Quantity{}
	}
	said := in.SaidUnder(in.set, in.units, field, text, piece)
	switch {
	case said.Quantity.Volume == 0:
	case said.Barred != "":
		in.Add(field, "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", said.Quantity),
			measure.Say("%s", act.Spell(in.set, in.units, said.Quantity)))
	case said.Quantity.Basis == measure.Container:
		in.Add(field, "other-basis", text, measure.Say("a batch is stacked or loose wood"),
			measure.Say("a quantity of stacked or of loose wood"))
	}
	return said.Quantity
}

// why reads the reason of an entry.
func (in *reader) why(field, text string, example measure.Text) string {
	reason := in.Line(field, text)
	in.BarredInName(in.set, field, reason)
	if reason == "" {
		in.Missing(field, example)
	}
	return reason
}

// finish is the error of all faults, none of which repeats a barred term.
func (in *reader) finish() error {
	in.Hush(in.set)
	return in.Err()
}

// Batches gives all batches as they stand, newest first.
func (s *Service) Batches(ctx context.Context, who act.Actor) (batches []Batch, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return nil, err
	}
	err = s.read(ctx, func(tx Tx) error {
		all, err := tx.Batches()
		if err != nil {
			return err
		}
		batches = make([]Batch, len(all))
		for i, b := range all {
			h, err := fillBatch(tx, b)
			if err != nil {
				return err
			}
			batches[i] = h.Batch
		}
		return nil
	})
	return batches, act.Fail(err)
}

// Batch gives a batch with all that happened to it.
func (s *Service) Batch(ctx context.Context, who act.Actor, id string) (h BatchHistory, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return BatchHistory{}, err
	}
	err = s.read(ctx, func(tx Tx) error {
		h, err = ReadBatch(tx, id)
		return err
	})
	return h, act.Fail(err)
}
