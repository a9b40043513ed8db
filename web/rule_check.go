package web

import (
	"net/http"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/receipts/words"
)

// A ruleCheckPage holds a rule set file against what one must say; nothing is saved.
type ruleCheckPage struct {
	page
	File     string
	Checked  bool // a file was sent
	Wrongs   []*rules.FileError
	Rules    rules.Set // of a file without a fault, with all that it extends
	Chapters []words.Chapter
}

func (s *Server) ruleCheckForm(c *fiber.Ctx) ruleCheckPage {
	p := ruleCheckPage{page: s.page(c, measure.Say("A rule set of your own"), "/rules")}
	extends := p.Set.Code
	if extends == "" {
		extends = "us-model"
	}
	p.File = strings.Replace(ownRules, "EXTENDS", extends, 1)
	return p
}

// ownRules is a small file to begin with; the place in it is invented.
const ownRules = `{
 "code": "our-valley",
 "name": "Our valley’s ordinance",
 "edition": "1",
 "date": "2026-02-01",
 "extends": "EXTENDS",
 "source": "town office",
 "status": "read",
 "barred": [
  {"name": "barrow", "source": "town office, section 3", "status": "read"}
 ]
}
`

func (s *Server) ruleCheckNew(c *fiber.Ctx) error {
	return s.render(c, "rule_check", s.ruleCheckForm(c))
}

// ruleCheckTry says every fault of the file that was sent; a JSON body is the file itself.
func (s *Server) ruleCheckTry(c *fiber.Ctx) error {
	p := s.ruleCheckForm(c)
	p.Checked = true
	if sentJSON(c) {
		p.File = string(c.Request().Body())
	} else {
		p.File = formValue(c)("file")
		if err := refused(slices.Concat(unreadable(c), unknown(c, func(name string) bool { return name == "file" }))); err != nil {
			p.Checked = false
			s.refuse(c, &p.page, err)
			return s.render(c, "rule_check", p)
		}
	}
	p.Rules, p.Wrongs = s.service.Rules().Check([]byte(p.File))
	if len(p.Wrongs) > 0 {
		c.Status(http.StatusUnprocessableEntity)
	} else {
		p.Chapters = p.Print.Chapters(p.Rules)
	}
	if !sentJSON(c) {
		return s.render(c, "rule_check", p)
	}
	if len(p.Wrongs) > 0 {
		return c.JSON(fiber.Map{"faults": p.Wrongs})
	}
	return c.JSON(fiber.Map{"faults": []any{}, "rules": p.Rules, "gaps": p.Print.Gaps(p.Rules)})
}
