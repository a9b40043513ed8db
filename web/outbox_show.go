package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
)

// An outboxPage lists what waits on this phone to go up. Its script fills it from the
// phone; the server words it, and keeps nothing of it.
type outboxPage struct{ page }

func (s *Server) outboxShow(c *fiber.Ctx) error {
	p := s.page(c, measure.Say("Waiting to go up"), "")
	p.Bare = true
	return s.render(c, "outbox", outboxPage{p})
}

// Written are the fields of the forms that wait, as a person knows them.
func (p outboxPage) Written() []choice {
	var fields []choice
	for _, name := range []string{
		"customer_name", "customer_address", "customer_phone", "quantity", "species", "piece_length", "seasoning", "split", "stacking", "origin", "price_per_cord", "price_per_unit", "price_total",
		"deliver_to", "delivery_fee", "list_stacking", "stacking_fee", "other_fee", "other_fee_for", "distance", "half_load", "tax_exempt", "deposit", "certificate", "notes", "day", "wanted_for", "wanted_by",
		"delivered", "on", "batch", "body", "differs", "print_name", "print_address", "paid", "paid_by", "reference", "back",
		"readings", "basis", "method", "fresh_face", "temperature", "accuracy", "correction", "read_by", "tape", "top", "stowed", "raised", "apart", "apart_some", "by",
	} {
		if name == "price_per_cord" && !p.Print.InCords() {
			continue // no form of this shop has it
		}
		fields = append(fields, choice{Value: name, Label: p.Label(name)})
	}
	return fields
}
