package web

import (
	"fmt"
	"io"
	"mime/multipart"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/photos"
)

// photoPath is the one route that takes files.
const photoPath = "/audits/:id/photos"

// photoBytes is the largest form with a photo.
const photoBytes = photos.MaxBytes + formBytes

// takesFiles tells whether a form with files may be sent here.
func (r route) takesFiles() bool { return r.path == photoPath && r.method == fiber.MethodPost }

// backToPhotos is where the form for a photo stands that was sent to this address, or "".
// The address is read as it was sent, since a body too large is refused before its
// route is known.
func backToPhotos(c *fiber.Ctx) string {
	audit, found := strings.CutSuffix(c.Path(), "/photos")
	if id, isAudit := strings.CutPrefix(audit, "/audits/"); found && isAudit && c.Method() == fiber.MethodPost {
		if at, err := uuid.Parse(id); err == nil {
			return auditPath(at.String()) + "?do=photo#doing"
		}
	}
	return ""
}

func sentFiles(c *fiber.Ctx) bool { return contentType(c) == fiber.MIMEMultipartForm }

// auditPhotoAdd keeps a photo that was uploaded.
func (s *Server) auditPhotoAdd(c *fiber.Ctx) error {
	id, err := auditID(c)
	if err != nil {
		return err
	}
	value := formValue(c)
	r := audits.PhotoRequest{Of: value("of"), Taken: value("taken")}
	if sentFiles(c) {
		if file, err := c.FormFile("photo"); err == nil {
			r.Name = file.Filename
			if r.Bytes, err = fileBytes(file); err != nil {
				return err
			}
		}
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

func fileBytes(header *multipart.FileHeader) ([]byte, error) {
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, photoBytes))
}

// auditPhotoShow sends the copy of a photo that has nothing hidden in it.
func (s *Server) auditPhotoShow(c *fiber.Ctx) error {
	_, b, err := s.photo(c, false)
	if err != nil {
		return err
	}
	c.Set(fiber.HeaderContentType, "image/jpeg")
	return c.Send(b)
}

// auditPhotoFile sends the original of a photo, as a file only.
func (s *Server) auditPhotoFile(c *fiber.Ctx) error {
	p, b, err := s.photo(c, true)
	if err != nil {
		return err
	}
	ending := ".jpg"
	if p.Type == "image/png" {
		ending = ".png"
	}
	c.Set(fiber.HeaderContentType, fiber.MIMEOctetStream)
	c.Set(fiber.HeaderContentDisposition, fmt.Sprintf(`attachment; filename="photo-%s%s"`, p.SHA256[:12], ending))
	return c.Send(b)
}

func (s *Server) photo(c *fiber.Ctx, original bool) (photos.Photo, []byte, error) {
	id, err := auditID(c)
	if err != nil {
		return photos.Photo{}, nil, err
	}
	photo, err := uuid.Parse(c.Params("photo"))
	if err != nil {
		return photos.Photo{}, nil, &act.Error{Kind: act.NotFound}
	}
	return s.audits.AuditPhoto(c.UserContext(), s.actor(c), id, photo.String(), original)
}
