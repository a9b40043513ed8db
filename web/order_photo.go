package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/photos"
)

// An orderPhotoPage is the photos of an order, and takes another.
type orderPhotoPage struct {
	page
	Order  orders.Order
	Photos []photos.Kept
	R      photos.Request
}

func (s *Server) orderPhotoPage(c *fiber.Ctx) (orderPhotoPage, error) {
	h, err := s.history(c)
	if err != nil {
		return orderPhotoPage{}, err
	}
	p := orderPhotoPage{page: s.page(c, measure.Say("Photos of order %d", int(h.Order.Number)), "/"), Order: h.Order}
	p.names = map[string]string{"shows": p.T("What it shows"), "of": p.T("More about it")}
	p.R.Shows = c.Query("shows", string(photos.OfStack))
	p.Photos, err = s.service.Photos.Of(c.UserContext(), s.actor(c), h.Order.ID)
	return p, err
}

func photosPath(orderID string) string { return "/orders/" + orderID + "/photos" }

// orderPhotos lists the photos of an order.
func (s *Server) orderPhotos(c *fiber.Ctx) error {
	p, err := s.orderPhotoPage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.Photos)
	}
	return s.render(c, "order_photos", p)
}

// orderPhotoAdd keeps a photo that was uploaded.
func (s *Server) orderPhotoAdd(c *fiber.Ctx) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	value := formValue(c)
	r := photos.Request{Shows: value("shows"), Of: value("of")}
	if r.Name, r.Bytes, err = sentPhoto(c); err != nil {
		return err
	}
	by, err := s.act(c)
	if err != nil {
		return err
	}
	var kept photos.Kept
	if err = refused(slices.Concat(unreadable(c), unknownBut(c, []string{"shows", "of", "photo"}))); err == nil {
		if kept, err = s.service.Photos.Keep(c.UserContext(), by, id, r); err == nil {
			return made(c, fiber.StatusCreated, photosPath(id), kept)
		}
	}
	return showAgain(s, c, "order_photos", err, s.orderPhotoPage, func(p *orderPhotoPage) { p.R = r })
}

// orderPhotoDrop drops a photo that no sheet names.
func (s *Server) orderPhotoDrop(c *fiber.Ctx) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	photo, err := photoID(c)
	if err != nil {
		return err
	}
	by, err := s.act(c)
	if err != nil {
		return err
	}
	if err := s.service.Photos.Drop(c.UserContext(), by, id, photo); err != nil {
		return err
	}
	return made(c, fiber.StatusOK, photosPath(id), struct{}{})
}

// orderPhotoShow sends the copy of a photo that has nothing hidden in it.
func (s *Server) orderPhotoShow(c *fiber.Ctx) error {
	_, b, err := s.orderPhoto(c, false)
	if err != nil {
		return err
	}
	return sendShown(c, b)
}

// orderPhotoFile sends the original of a photo, as a file only.
func (s *Server) orderPhotoFile(c *fiber.Ctx) error {
	k, b, err := s.orderPhoto(c, true)
	if err != nil {
		return err
	}
	return sendOriginal(c, k.Photo, b)
}

func (s *Server) orderPhoto(c *fiber.Ctx, original bool) (photos.Kept, []byte, error) {
	id, err := orderID(c)
	if err != nil {
		return photos.Kept{}, nil, err
	}
	photo, err := photoID(c)
	if err != nil {
		return photos.Kept{}, nil, err
	}
	return s.service.Photos.Show(c.UserContext(), s.actor(c), id, photo, original)
}

// Shows are what a photo may show.
func (p orderPhotoPage) Shows() choosing {
	choices := make([]choice, len(photos.Kinds()))
	for i, k := range photos.Kinds() {
		choices[i] = choice{string(k), p.Print.PhotoKind(k), p.R.Shows == string(k)}
	}
	return p.Choose("shows", choices)
}

// Takes tells whether a photo may be added.
func (p orderPhotoPage) Takes() bool { return p.Order.Erased.IsZero() }

// photosOn are the photos of an order, for a page that lists them.
func (s *Server) photosOn(c *fiber.Ctx, orderID string) ([]photos.Kept, error) {
	return s.service.Photos.Of(c.UserContext(), s.actor(c), orderID)
}

// photosNamed are those that a sheet names.
func photosNamed(all []photos.Kept, sheet int64) []photos.Kept {
	return slices.DeleteFunc(slices.Clone(all), func(k photos.Kept) bool { return k.Sheet != sheet })
}
