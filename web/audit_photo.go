package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/audits"
	"wellstowed/orders/photos"
)

// auditPhotoAdd keeps a photo that was uploaded.
func (s *Server) auditPhotoAdd(c *fiber.Ctx) error {
	id, err := auditID(c)
	if err != nil {
		return err
	}
	value := formValue(c)
	r := audits.PhotoRequest{Of: value("of"), Taken: value("taken")}
	if r.Name, r.Bytes, err = sentPhoto(c); err != nil {
		return err
	}
	if err := refused(slices.Concat(unreadable(c), unknownBut(c, []string{"of", "taken", "photo"}))); err != nil {
		return s.auditRefused(c, "photo", err, func(p *auditPage) { p.Photo.Of, p.Photo.Taken = r.Of, r.Taken })
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	a, err := s.audits.AddPhoto(c.UserContext(), act, id, r)
	if err == nil {
		return made(c, fiber.StatusCreated, auditPath(id), a)
	}
	return s.auditRefused(c, "photo", err, func(p *auditPage) { p.Photo.Of, p.Photo.Taken = r.Of, r.Taken })
}

// auditPhotoShow sends the copy of a photo that has nothing hidden in it.
func (s *Server) auditPhotoShow(c *fiber.Ctx) error {
	_, b, err := s.auditPhoto(c, false)
	if err != nil {
		return err
	}
	return sendShown(c, b)
}

// auditPhotoFile sends the original of a photo, as a file only.
func (s *Server) auditPhotoFile(c *fiber.Ctx) error {
	p, b, err := s.auditPhoto(c, true)
	if err != nil {
		return err
	}
	return sendOriginal(c, p, b)
}

func (s *Server) auditPhoto(c *fiber.Ctx, original bool) (photos.Photo, []byte, error) {
	id, err := auditID(c)
	if err != nil {
		return photos.Photo{}, nil, err
	}
	photo, err := photoID(c)
	if err != nil {
		return photos.Photo{}, nil, err
	}
	return s.audits.AuditPhoto(c.UserContext(), s.actor(c), id, photo, original)
}
