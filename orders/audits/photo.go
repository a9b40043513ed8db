package audits

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
)

// mostPhotos is how many an audit may have.
const mostPhotos = 60

// A PhotoRequest is a photo as uploaded.
type PhotoRequest struct {
	Name  string `json:"name"` // of the file
	Of    string `json:"of"`   // what it shows
	Taken string `json:"taken"`
	Bytes []byte `json:"-"`
}

// AddPhoto keeps a photo: its bytes as they are, their hash, and a copy to be shown
// without what is hidden in them.
func (s *Service) AddPhoto(ctx context.Context, by act.Act, id string, r PhotoRequest) (Audit, error) {
	if err := act.Allow(by.Actor, act.ToAudit); err != nil {
		return Audit{}, err
	}
	shot, faults, err := s.lens.Read(ctx, r.Bytes)
	if err != nil {
		return Audit{}, act.Fail(err)
	}
	return s.enterAudit(ctx, by, PhotoAdded, id, []any{r, ledger.Hash(r.Bytes)}, func(tx Tx, in *reader) error {
		in.Faults = append(in.Faults, faults...)
		if len(in.d.audit.Photos) >= mostPhotos {
			return act.NewConflict("audit %d has %d photos, which is all it may have", int(in.d.audit.Number), mostPhotos)
		}
		p := shot.Photo(in.d.zone)
		p.Name, p.Of, p.By, p.Added = in.fileName(r.Name), in.text("of", r.Of), in.recorder(by), in.d.now
		if p.Of == "" && r.Of == "" {
			in.Missing("of", measure.Say("what the photo shows, such as front of the stack"))
		}
		for _, known := range in.d.audit.Photos {
			if known.SHA256 == p.SHA256 && len(r.Bytes) > 0 {
				in.Add("photo", "twice", "", measure.Say("the same photo is here already: %s", known.Of), measure.Say("another photo"))
			}
		}
		in.takenAt(&p, r.Taken)
		if err := in.done(); err != nil {
			return err
		}
		var err error
		if p.ID, err = act.NewID(); err != nil {
			return err
		}
		return tx.AddAuditPhoto(id, p, r.Bytes, shot.Shown)
	})
}

// takenAt goes by the camera's own word, else by what was typed.
func (in *reader) takenAt(p *photos.Photo, typed string) {
	stated := moment(&in.Fields, "taken", typed, in.d.zone)
	past(&in.Fields, "taken", stated, in.d.now)
	if !p.FromCamera {
		p.Taken = stated
	}
}

// fileName is the name of an uploaded file as the report may print it.
func (in *reader) fileName(name string) string {
	if name = photos.FileName(name, in.service.printer); name == "" || len(in.d.set.BarredIn(name)) > 0 {
		return "photo"
	}
	return name
}

// AuditPhoto gives what a photo is, and its original bytes or the copy that is shown.
func (s *Service) AuditPhoto(ctx context.Context, who act.Actor, auditID, photoID string, original bool) (p photos.Photo, b []byte, err error) {
	a, err := s.Audit(ctx, who, auditID)
	if err != nil {
		return photos.Photo{}, nil, err
	}
	for _, known := range a.Photos {
		if known.ID == photoID {
			p = known
		}
	}
	if p.ID == "" {
		return photos.Photo{}, nil, &act.Error{Kind: act.NotFound, Message: measure.Say("that photo isn’t here")}
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		b, err = tx.AuditPhotoBytes(auditID, photoID, original)
		return err
	})
	return p, b, act.Fail(err)
}
