package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/api"
)

// A backupPage lists the backups that were made, and makes one where the program knows
// where they go.
type backupPage struct {
	page
	Made    []orders.Backup
	Trouble string // why the newest is missing, old or failed; "" for a fresh one
	Can     bool   // make one from here
}

// mostBackups is how many are listed.
const mostBackups = 20

func (s *Server) backupPage(c *fiber.Ctx) (backupPage, error) {
	p := backupPage{page: s.page(c, measure.Say("Backups"), "/shop"), Can: s.service.CanBackUp()}
	trouble, err := s.service.BackupTrouble(c.UserContext())
	if err != nil {
		return p, err
	}
	p.Trouble = p.Print.Say(trouble)
	p.Made, err = s.service.Backups(c.UserContext(), s.actor(c), mostBackups)
	return p, err
}

func (s *Server) backupList(c *fiber.Ctx) error {
	p, err := s.backupPage(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(api.Backups{Made: p.Made, Trouble: p.Trouble})
	}
	return s.render(c, "backup_list", p)
}

// backupCreate makes one now. Why none was made is on the page it leads back to.
func (s *Server) backupCreate(c *fiber.Ctx) error {
	failed := s.service.BackUp(c.UserContext(), s.actor(c))
	if failed != nil && (wantsJSON(c) || act.KindOf(failed) != act.Conflict) {
		return failed
	}
	p, err := s.backupPage(c)
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/shop/backups", api.Backups{Made: p.Made, Trouble: p.Trouble})
}

// On is when a backup was made.
func (p backupPage) On(b orders.Backup) string { return p.Print.Time(b.At, p.Shop.Zone) }

// By is who asked for it.
func (p backupPage) By(b orders.Backup) string {
	if b.By == "" {
		return p.T("made by itself")
	}
	return p.T("asked for by %s", b.By)
}
