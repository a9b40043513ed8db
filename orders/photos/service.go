package photos

import (
	"context"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/yard"
)

// mostKept is how many photos an order may have.
const mostKept = 60

// The verbs of photos.
const (
	Added   act.Verb = "keep photo"
	Dropped act.Verb = "drop photo"
)

// A Tx is one transaction on photos. What is not there is answered NotFound.
type Tx interface {
	act.Requests
	Store
	// Photographed says of which order photos are kept.
	Photographed(orderID string) (Subject, error)
	Ground() (yard.Ground, error)
}

// A Subject is an order that has photos.
type Subject struct {
	Number int64
	Erased bool // its names were erased, and its photos with them
}

// Store keeps photos of orders, with their original bytes and the copy that is shown.
type Store interface {
	// OrderPhotos say what the photos of an order are, oldest first.
	OrderPhotos(orderID string) ([]Kept, error)
	AddOrderPhoto(k Kept, original, shown []byte) error
	// OrderPhotoBytes gives the original of a photo, or the copy that is shown.
	OrderPhotoBytes(orderID, photoID string, original bool) ([]byte, error)
	// NameOrderPhotos writes down the sheet that names photos, and tells how many of them
	// were named by none.
	NameOrderPhotos(photoIDs []string, sheet int64) (int, error)
	DropOrderPhoto(photoID string) error
}

// A Request is a photo of an order as uploaded.
type Request struct {
	Name  string `json:"name"`  // of the file
	Shows string `json:"shows"` // a Kind
	Of    string `json:"of"`    // more of what it shows, where that is to be said
	Bytes []byte `json:"-"`
}

// A Service is all that can be done with the photos of orders.
type Service struct {
	acts act.Doer[Tx]
	book rules.Book
	font act.Font
	lens Lens
}

// New makes a Service whose file names are in a font, under rule sets of a book.
func New(acts act.Doer[Tx], book rules.Book, font act.Font) *Service {
	return &Service{acts: acts, book: book, font: font, lens: NewLens()}
}

// Keep keeps a photo of an order: its bytes as they are, their hash, and a copy to be shown
// without what is hidden in them. The next measurement sheet of the order names it.
func (s *Service) Keep(ctx context.Context, by act.Act, orderID string, r Request) (Kept, error) {
	if err := act.Allow(by.Actor, act.ToTally); err != nil {
		return Kept{}, err
	}
	shot, faults, err := s.lens.Read(ctx, r.Bytes)
	if err != nil {
		return Kept{}, act.Fail(err)
	}
	w := act.Write{Verb: Added, Subject: orderID, May: act.ToTally, Content: []any{r, ledger.Hash(r.Bytes)}}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		k, err := s.kept(tx, orderID, r, shot, faults)
		if err != nil {
			return "", err
		}
		k.By, k.Added = by.Actor.Person, s.acts.Now()
		return k.ID, tx.AddOrderPhoto(k, r.Bytes, shot.Shown)
	}, func(tx Tx, id string) (Kept, error) { return find(tx, orderID, id) })
}

// kept is a photo as it is to be kept, by whom and when aside.
func (s *Service) kept(tx Tx, orderID string, r Request, shot Shot, faults []*measure.InputError) (Kept, error) {
	order, err := s.open(tx, orderID)
	if err != nil {
		return Kept{}, err
	}
	known, err := tx.OrderPhotos(orderID)
	if err != nil {
		return Kept{}, err
	}
	if len(known) >= mostKept {
		return Kept{}, act.NewConflict("order %d has %d photos, which is all it may have", int(order.Number), mostKept)
	}
	g, err := tx.Ground()
	if err != nil {
		return Kept{}, err
	}
	set, err := act.RulesOf(s.book, g.RuleSet)
	if err != nil {
		return Kept{}, err
	}
	zone, err := time.LoadLocation(g.Zone)
	if err != nil {
		return Kept{}, err
	}
	k := Kept{Photo: shot.Photo(zone), OrderID: orderID}
	in := reader{Fields: act.Fields{Faults: faults}, set: set, font: s.font}
	in.said(&k, r)
	in.another(known, k)
	if err := in.Err(); err != nil {
		return Kept{}, err
	}
	k.ID, err = act.NewID()
	return k, err
}

// open is an order of which photos can be kept.
func (s *Service) open(tx Tx, orderID string) (Subject, error) {
	order, err := tx.Photographed(orderID)
	if err == nil && order.Erased {
		err = act.NewConflict("the names of order %d were erased; nothing more is recorded on it", int(order.Number))
	}
	return order, err
}

// Drop drops a photo that no measurement sheet names.
func (s *Service) Drop(ctx context.Context, by act.Act, orderID, photoID string) error {
	w := act.Write{Verb: Dropped, Subject: photoID, May: act.ToManage}
	_, err := act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		k, err := find(tx, orderID, photoID)
		if err == nil && k.Sheet != 0 {
			err = act.NewConflict("measurement sheet %d names this photo, so it is kept with it", int(k.Sheet))
		}
		if err != nil {
			return "", err
		}
		return photoID, tx.DropOrderPhoto(photoID)
	}, act.Nothing)
	return err
}

// Of says what the photos of an order are, oldest first.
func (s *Service) Of(ctx context.Context, who act.Actor, orderID string) (all []Kept, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		all, err = tx.OrderPhotos(orderID)
		return err
	})
	return all, act.Fail(err)
}

// Show gives what a photo of an order is, and its original bytes or the copy that is shown.
func (s *Service) Show(ctx context.Context, who act.Actor, orderID, photoID string, original bool) (k Kept, b []byte, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Kept{}, nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		if k, err = find(tx, orderID, photoID); err == nil {
			b, err = tx.OrderPhotoBytes(orderID, photoID, original)
		}
		return err
	})
	return k, b, act.Fail(err)
}

// find is one photo of an order.
func find(tx Tx, orderID, photoID string) (Kept, error) {
	all, err := tx.OrderPhotos(orderID)
	if err != nil {
		return Kept{}, err
	}
	if i := slices.IndexFunc(all, func(k Kept) bool { return k.ID == photoID }); i >= 0 {
		return all[i], nil
	}
	return Kept{}, act.NewNotFound("that photo isn’t here")
}

// A reader reads what is said of a photo.
type reader struct {
	act.Fields
	set  rules.Set
	font act.Font
}

func (in *reader) said(k *Kept, r Request) {
	k.Shows = Kind(strings.TrimSpace(r.Shows))
	accepts := measure.Say("load, stack, ticket or place")
	switch {
	case k.Shows == "":
		in.Missing("shows", accepts)
	case !slices.Contains(Kinds(), k.Shows):
		in.Add("shows", "unknown", r.Shows, measure.Say("that isn’t among what photos are kept of"), accepts)
	}
	k.Of = in.Printable(in.font, "of", in.Line("of", r.Of))
	in.BarredInName(in.set, "of", k.Of)
	if k.Name = FileName(r.Name, in.font); k.Name == "" || len(in.set.BarredIn(k.Name)) > 0 {
		k.Name = "photo"
	}
	in.Hush(in.set)
}

// another refuses a photo that is kept already.
func (in *reader) another(known []Kept, k Kept) {
	if k.Bytes > 0 && slices.ContainsFunc(known, func(was Kept) bool { return was.SHA256 == k.SHA256 }) {
		in.Add("photo", "twice", "", measure.Say("the same photo is kept with this order already"), measure.Say("another photo"))
	}
}
