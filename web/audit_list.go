package web

import (
	"strconv"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/web/api"
)

const auditsOnPage = 50

// An auditListPage shows audits, newest first; of one seller with what they come to
// together.
type auditListPage struct {
	page
	Audits []audits.Line
	Next   int64
	Seller string
	Series *audits.SellerSeries // of one seller; nil on the page of all
}

// auditList shows audits, ?before= a number, ?seller= a name.
func (s *Server) auditList(c *fiber.Ctx) error {
	p := auditListPage{page: s.page(c, measure.Say("Audits"), "/audits"), Seller: c.Query("seller")}
	var before int64
	if text := c.Query("before"); text != "" {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || n < 1 {
			return &act.Error{Kind: act.NotFound}
		}
		before = n
	}
	list, err := s.audits.Audits(c.UserContext(), s.actor(c), p.Seller, before, auditsOnPage)
	if err != nil {
		return err
	}
	p.Audits, p.Next = append([]audits.Line{}, list.Audits...), list.Next
	if p.Seller != "" {
		series, err := s.audits.SellerSeries(c.UserContext(), s.actor(c), p.Seller)
		if err != nil {
			return err
		}
		p.Series = &series
		if len(p.Audits) > 0 {
			p.Title = p.T("Audits of %s", p.Audits[0].Seller)
		}
	}
	if wantsJSON(c) {
		return c.JSON(api.AuditList{Audits: p.Audits, Next: p.Next, Series: p.Series})
	}
	return s.render(c, "audit_list", p)
}

// State words where an audit stands.
func (p auditListPage) State(a audits.Line) string {
	if a.State == audits.Open {
		return p.T("open")
	}
	if a.Word == "" {
		return p.T("closed without a result")
	}
	return p.Print.Word(a.Word)
}
