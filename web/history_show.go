package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/journal"
	"wellstowed/web/api"
)

// A historyPage says who did what to an order, a customer or an audit.
type historyPage struct {
	page
	Lines []journal.Line
	Back  string // path of what it is the history of
}

// historyShow shows the history of a kind of thing.
func (s *Server) historyShow(kind orders.Journaled, of string) fiber.Handler {
	return func(c *fiber.Ctx) error {
		lines, err := s.service.Journal(c.UserContext(), s.actor(c), kind, c.Params("id"))
		if err != nil {
			return err
		}
		if wantsJSON(c) {
			return c.JSON(api.History{History: lines})
		}
		return s.render(c, "history_show", historyPage{page: s.page(c, measure.Say("History"), of), Lines: lines, Back: of + "/" + c.Params("id")})
	}
}

// Did is what one act did.
func (p historyPage) Did(l journal.Line) string { return p.Print.JournalLine(l, p.Shop.Zone) }

// Changed is which fields it changed.
func (p historyPage) Changed(l journal.Line) string { return p.Print.JournalFields(l) }
