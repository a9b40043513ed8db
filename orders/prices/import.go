package prices

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/lists"
)

// An Import is what came, or would come, of a list of prices.
type Import struct {
	New    []Line       `json:"new"`   // to be written down
	Same   []ImportLine `json:"same"`  // as they are on the list already
	Wrong  []ImportLine `json:"wrong"` // not understood, or to be asked about
	Unused []string     `json:"unused,omitempty"`
}

// An ImportLine is one line of a list, with what there is to say of it.
type ImportLine struct {
	Number int          `json:"number"` // the first line of the list is 1
	Line   Line         `json:"line"`
	Says   measure.Text `json:"-"`
}

// DryRun tells what would come of a list of prices in CSV, as lists.Read reads it, and keeps
// nothing. Its columns: kind, wood, piece length, seasoning, per, place, price, from.
func (s *Service) DryRun(ctx context.Context, who act.Actor, list []byte) (out Import, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Import{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		out, err = s.plan(tx, list)
		return err
	})
	return out, act.Fail(err)
}

// An ImportRequest is a list to be kept.
type ImportRequest struct {
	List string `json:"list"`
}

// Import writes down the lines of a list that aren't on the price list as they are. It is
// Invalid where a line was not understood: then none is kept.
func (s *Service) Import(ctx context.Context, by act.Act, r ImportRequest) (out Import, err error) {
	_, err = act.Do(ctx, s.acts, by, act.Write{Verb: Imported, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		if out, err = s.plan(tx, []byte(r.List)); err != nil {
			return "", err
		}
		if len(out.Wrong) > 0 {
			l := out.Wrong[0]
			return "", lists.Refusal(l.Number, "", l.Says)
		}
		for _, l := range out.New {
			if _, err := add(tx, l, by.Actor.Person); err != nil {
				return "", err
			}
		}
		return "", nil
	}, act.Nothing)
	return out, err
}

// headings are the names a column may have, by field.
var headings = map[string]string{
	"kind": "kind", "what": "kind", "wood": "species", "species": "species", "piece length": "piece_length", "length": "piece_length",
	"seasoning": "seasoning", "dryness": "seasoning", "per": "per", "unit": "per", "for": "per", "place": "place", "to": "place",
	"price": "price", "amount": "price", "from": "from", "from day": "from",
}

func acceptedHeadings() measure.Text {
	return measure.Say("a first line that names the columns: kind, wood, piece length, seasoning, per, place, price, from")
}

// request is a line as it is typed; one without a kind is of wood.
func request(l lists.Line) Request {
	r := Request{Kind: act.Fold(l.Of("kind")), Species: l.Of("species"), PieceLength: l.Of("piece_length"), Seasoning: act.Fold(l.Of("seasoning")),
		Per: l.Of("per"), Place: l.Of("place"), Price: l.Of("price"), From: l.Of("from")}
	if r.Kind == "" {
		r.Kind = string(Wood)
	}
	return r
}

// plan reads a list against what is on offer.
func (s *Service) plan(tx Tx, list []byte) (out Import, err error) {
	sent, err := lists.Read(list, headings, acceptedHeadings())
	if err == nil && !sent.Has("price") && !sent.Has("per") {
		err = act.NewInvalid("list", "no-price", "", measure.Say("no column of its first line is called “price”"), acceptedHeadings())
	}
	if err != nil {
		return out, err
	}
	now, err := s.Today(tx)
	if err != nil {
		return out, err
	}
	empty, err := s.reader(tx)
	if err != nil {
		return out, err
	}
	if err := empty.Err(); err != nil { // of the shop, not of a line
		return out, err
	}
	out = Import{New: []Line{}, Same: []ImportLine{}, Wrong: []ImportLine{}, Unused: sent.Unused}
	for _, sentLine := range sent.Lines {
		in := *empty
		l := ImportLine{Number: sentLine.Number, Line: in.line(request(sentLine))}
		if len(in.Faults) == 0 {
			in.asks(l.Line, now, "")
		}
		in.Hush(in.set)
		out.sort(l, in.Err(), now)
	}
	return out, nil
}

// sort puts a line where it belongs.
func (out *Import) sort(l ImportLine, err error, now List) {
	if says, wrong := lists.Fault(err, labels); wrong {
		l.Says = says
		out.Wrong = append(out.Wrong, l)
		return
	}
	for _, known := range now.Lines {
		if known.key() == l.Line.key() && known.Price == l.Line.Price && known.Per == l.Line.Per && l.Line.From == now.On {
			l.Says = measure.Say("as it is on the list")
			out.Same = append(out.Same, l)
			return
		}
	}
	for _, n := range out.New {
		if n.key() != l.Line.key() || n.From != l.Line.From {
			continue
		}
		if l.Says = measure.Say("twice in the list"); n.Price == l.Line.Price {
			out.Same = append(out.Same, l)
		} else {
			l.Says = measure.Say("twice in the list, with two prices from the same day")
			out.Wrong = append(out.Wrong, l)
		}
		return
	}
	out.New = append(out.New, l.Line)
}

// labels are what the fields are called where a line is told.
var labels = map[string]string{
	"kind": "kind", "species": "wood", "piece_length": "piece length", "seasoning": "seasoning", "per": "per", "place": "place",
	"price": "price", "from": "from", "confirmed": "price",
}
