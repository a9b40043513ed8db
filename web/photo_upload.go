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
	"wellstowed/orders/photos"
)

// photoBytes is the largest form with a photo.
const photoBytes = photos.MaxBytes + formBytes

// photoPaths are the routes that take files.
func photoPaths() []string { return []string{"/audits/:id/photos", "/orders/:id/photos"} }

// takesFiles tells whether a form with files may be sent here.
func (r route) takesFiles() bool {
	return r.method == fiber.MethodPost && slices.Contains(photoPaths(), r.path)
}

// backToPhotos is where the form for a photo stands that was sent to this address, or "".
// The address is read as it was sent, since a body too large is refused before its
// route is known.
func backToPhotos(c *fiber.Ctx) string {
	of, found := strings.CutSuffix(c.Path(), "/photos")
	if !found || c.Method() != fiber.MethodPost {
		return ""
	}
	id, isAudit := strings.CutPrefix(of, "/audits/")
	if !isAudit {
		if id, found = strings.CutPrefix(of, "/orders/"); !found {
			return ""
		}
	}
	at, err := uuid.Parse(id)
	switch {
	case err != nil:
		return ""
	case isAudit:
		return auditPath(at.String()) + "?do=photo#doing"
	}
	return "/orders/" + at.String() + "/photos"
}

func sentFiles(c *fiber.Ctx) bool { return contentType(c) == fiber.MIMEMultipartForm }

// sentPhoto is the photo of a form, with the name of its file; nothing where none was sent.
func sentPhoto(c *fiber.Ctx) (name string, b []byte, err error) {
	if !sentFiles(c) {
		return "", nil, nil
	}
	file, err := c.FormFile("photo")
	if err != nil {
		return "", nil, nil
	}
	b, err = fileBytes(file)
	return file.Filename, b, err
}

func fileBytes(header *multipart.FileHeader) ([]byte, error) {
	file, err := header.Open()
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, photoBytes))
}

// photoID is the photo that the address names.
func photoID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("photo"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

// sendShown sends the copy of a photo that has nothing hidden in it.
func sendShown(c *fiber.Ctx, shown []byte) error {
	c.Set(fiber.HeaderContentType, "image/jpeg")
	return c.Send(shown)
}

// sendOriginal sends the original of a photo, as a file only.
func sendOriginal(c *fiber.Ctx, p photos.Photo, original []byte) error {
	c.Set(fiber.HeaderContentType, fiber.MIMEOctetStream)
	c.Set(fiber.HeaderContentDisposition, fmt.Sprintf(`attachment; filename="photo-%s%s"`, p.SHA256[:12], p.Ending()))
	return c.Send(original)
}
