package web

import (
	"fmt"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// A sealPage shows the newest seal to copy down, and how the witness file stands.
type sealPage struct {
	page
	Newest  ledger.Line // its number is 0 before the first receipt
	Kept    bool        // whether there is a witness file
	Trouble string      // what it lacks and why, empty for nothing
}

// On is when the newest receipt was issued.
func (p sealPage) On() string { return p.Print.Time(p.Newest.Issued, p.Shop.Zone) }

// Command is how the seal is held against the database later.
func (p sealPage) Command() string {
	return fmt.Sprintf("wellstowed verify --seal %d:%s", p.Newest.Number, p.Newest.Seal)
}

type sealJSON struct {
	Number  int64      `json:"number"` // 0 before the first receipt
	Issued  *time.Time `json:"issued,omitempty"`
	Seal    string     `json:"seal,omitempty"`
	Witness bool       `json:"witness"` // whether a witness file is kept
	Trouble string     `json:"trouble,omitempty"`
}

func (p sealPage) json() sealJSON {
	answer := sealJSON{Number: p.Newest.Number, Seal: p.Newest.Seal, Witness: p.Kept, Trouble: p.Trouble}
	if p.Newest.Number > 0 {
		answer.Issued = &p.Newest.Issued
	}
	return answer
}

func (s *Server) sealPage(c *fiber.Ctx) (sealPage, error) {
	newest, err := s.service.Newest(c.UserContext(), s.actor(c))
	p := sealPage{page: s.page(c, measure.Say("The seal to copy down"), "/shop"), Newest: newest, Kept: s.service.Witnessed()}
	p.Trouble = p.Print.Say(s.service.WitnessTrouble(c.UserContext()))
	return p, err
}

func (s *Server) sealShow(c *fiber.Ctx) error {
	p, err := s.sealPage(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.json())
	}
	return s.render(c, "seal_show", p)
}

// witnessCatchUp writes to the witness file what it lacks. What stands against that
// is on the page it leads back to.
func (s *Server) witnessCatchUp(c *fiber.Ctx) error {
	if err := s.service.CatchUp(c.UserContext(), s.actor(c)); act.KindOf(err) == act.Forbidden {
		return err
	}
	p, err := s.sealPage(c)
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/shop/seal", p.json())
}
