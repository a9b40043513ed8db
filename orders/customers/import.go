package customers

import (
	"context"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/lists"
)

// An Import is what came, or would come, of a list of customers.
type Import struct {
	New   []Record `json:"new"`   // to be added
	Known []Line   `json:"known"` // kept already, or twice in the list; nothing of it is changed
	Wrong []Line   `json:"wrong"` // not understood
	// Unused are the headings of columns that nothing is taken from.
	Unused []string `json:"unused,omitempty"`
}

// A Line is one line of a list, with what there is to say of it.
type Line struct {
	Number int          `json:"number"` // the first line of the list is 1
	Name   string       `json:"name"`
	Says   measure.Text `json:"-"`
}

// DryRun tells what would come of a list, and keeps nothing. The list is CSV (RFC 4180, in
// UTF-8; commas, semicolons or tabs) whose first line names its columns: name, address or
// street and town, phone, how to get in, stacking, place.
func (s *Service) DryRun(ctx context.Context, who act.Actor, list []byte) (out Import, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Import{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		out, err = plan(tx, list)
		return err
	})
	return out, act.Fail(err)
}

// An ImportRequest is a list to be kept.
type ImportRequest struct {
	List string `json:"list"`
}

// Import keeps the customers of a list that aren't kept yet. It is Invalid where a line was
// not understood: then none is kept.
func (s *Service) Import(ctx context.Context, by act.Act, q ImportRequest) (out Import, err error) {
	_, err = act.Do(ctx, s.acts, by, act.Write{Verb: Imported, May: act.ToManage, Content: q}, func(tx Tx) (string, error) {
		if out, err = plan(tx, []byte(q.List)); err != nil {
			return "", err
		}
		if len(out.Wrong) > 0 {
			l := out.Wrong[0]
			return "", lists.Refusal(l.Number, l.Name, l.Says)
		}
		for _, r := range out.New {
			if _, err := s.add(tx, r); err != nil {
				return "", err
			}
		}
		return "", nil
	}, act.Nothing)
	return out, err
}

// plan reads a list against what is kept.
func plan(tx Tx, list []byte) (out Import, err error) {
	kept, err := tx.CustomerRecords()
	if err != nil {
		return out, err
	}
	sent, err := readList(list)
	if err != nil {
		return out, err
	}
	out.Unused = sent.Unused
	for _, l := range sent.Lines {
		r, err := read(Record{}, request(l))
		line := Line{Number: l.Number, Name: r.Name}
		says, wrong := lists.Fault(err, labels)
		if err != nil && !wrong {
			return out, err
		}
		if line.Says = says; wrong {
			out.Wrong = append(out.Wrong, line)
			continue
		}
		if slices.ContainsFunc(out.New, func(o Record) bool { return o.Same(r.Name, r.Address, r.Phone) }) {
			line.Says = measure.Say("twice in the list")
		} else if slices.ContainsFunc(kept, func(o Record) bool { return o.Same(r.Name, r.Address, r.Phone) }) {
			line.Says = measure.Say("kept already")
		} else {
			out.New = append(out.New, r)
			continue
		}
		out.Known = append(out.Known, line)
	}
	return out, nil
}

// labels are what the fields are called where a line is told.
var labels = map[string]string{
	"name": "name", "address": "address", "phone": "phone", "access": "how to get in", "stacking": "stacking", "place": "place",
}

// headings are the names a column may have, by field.
var headings = map[string]string{
	"name": "name", "customer": "name", "customer name": "name", "first name": "first", "last name": "last",
	"address": "address", "street": "address", "street address": "address", "town": "town", "city": "town",
	"state": "region", "zip": "code", "postal code": "code", "postcode": "code",
	"phone": "phone", "telephone": "phone", "phone number": "phone", "mobile": "phone", "cell": "phone",
	"access": "access", "how to get in": "access", "directions": "access", "notes": "access", "stacking": "stacking", "place": "place",
}

// request is a line as a record is typed.
func request(l lists.Line) Request {
	name := l.Of("name")
	if name == "" {
		name = strings.TrimSpace(l.Of("first") + " " + l.Of("last"))
	}
	town := strings.TrimSpace(strings.Join(lists.Said(l.Of("town"), strings.TrimSpace(l.Of("region")+" "+l.Of("code"))), ", "))
	return Request{
		Name: name, Address: strings.Join(lists.Said(l.Of("address"), town), "\n"), Phone: l.Of("phone"),
		Access: l.Of("access"), Stacking: l.Of("stacking"), Place: l.Of("place"),
	}
}

func readList(list []byte) (lists.List, error) {
	sent, err := lists.Read(list, headings, acceptedHeadings())
	if err == nil && !sent.Has("name") && !sent.Has("last") {
		err = act.NewInvalid("list", "no-name", strings.Join(sent.Names, ", "), measure.Say("no column of its first line is called “name”"), acceptedHeadings())
	}
	return sent, err
}

func acceptedHeadings() measure.Text {
	return measure.Say("a first line that names the columns: name, address, phone, how to get in, stacking, place")
}
