package web

import (
	"bytes"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/receipts/books"
	"wellstowed/web/form"
)

// A seasonPage shows the books from July on.
type seasonPage struct {
	page
	accounts.Season
	R accounts.BooksRequest
}

func (s *Server) seasonPage(c *fiber.Ctx) (p seasonPage, err error) {
	p.page = s.page(c, measure.Say("Season"), "/")
	if p.Season, err = s.accounts.Season(c.UserContext(), s.actor(c)); err != nil {
		return p, err
	}
	p.R.From, p.R.To = act.Date{Year: p.Today.Year, Month: 1, Day: 1}.String(), p.Today.String()
	p.names = map[string]string{"from": p.T("First day"), "to": p.T("Last day")}
	return p, nil
}

func (s *Server) seasonShow(c *fiber.Ctx) error {
	p, err := s.seasonPage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.Season)
	}
	return s.render(c, "season_show", p)
}

// booksSend sends the books of some days as one file.
func (s *Server) booksSend(c *fiber.Ctx) error {
	r, _ := form.Read[accounts.BooksRequest](query(c)) // both of its fields are texts
	b, err := s.accounts.Books(c.UserContext(), s.actor(c), r)
	if err != nil {
		if wantsJSON(c) || !mendable(err) {
			return err
		}
		p, broken := s.seasonPage(c)
		if broken != nil {
			return broken
		}
		p.R = r
		s.refuse(c, &p.page, err)
		return s.render(c, "season_show", p)
	}
	var out bytes.Buffer
	if err := books.Zip(&out, b); err != nil {
		return err
	}
	c.Set(fiber.HeaderContentType, "application/zip")
	c.Attachment("books-" + b.From.String() + "-to-" + b.To.String() + ".zip")
	return c.Send(out.Bytes())
}

// basis is the one that most is sold on.
func (p seasonPage) basis() measure.Basis {
	sums := map[measure.Basis]measure.Volume{}
	best := measure.Ranked
	for _, m := range p.Sold {
		for _, list := range [][]measure.Quantity{m.Now, m.Last} {
			for _, q := range list {
				sums[q.Basis] += q.Volume
				if sums[q.Basis] > sums[best] {
					best = q.Basis
				}
			}
		}
	}
	return best
}

// Months draws what was sold by month, on the basis that most is sold on.
func (p seasonPage) Months() draw.Drawing {
	basis := p.basis()
	of := func(list []measure.Quantity) (v measure.Volume) {
		for _, q := range list {
			if q.Basis == basis {
				v += q.Volume
			}
		}
		return v
	}
	bars := make([]draw.MonthBar, len(p.Sold))
	for i, m := range p.Sold {
		bars[i] = draw.MonthBar{Name: measure.Say(monthNames[m.Month-1]), Now: of(m.Now), Last: of(m.Last)}
	}
	unit, name := p.chartUnit(basis)
	return draw.Months(bars, unit, name, pictureWidth)
}

// monthNames are short, for the picture.
var monthNames = [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// Sums are what was sold so far, and in the whole season before, by basis.
func (p seasonPage) Sums(last bool) (sums []measure.Quantity) {
	for _, m := range p.Sold {
		list := m.Now
		if last {
			list = m.Last
		}
		for _, q := range list {
			sums = orders.AddQuantity(sums, q)
		}
	}
	return sums
}

// All says quantities together.
func (p seasonPage) All(list []measure.Quantity) string {
	return p.Print.Quantities(list, p.Print.Quantity)
}

// AgeName says how old a debt is.
func (p seasonPage) AgeName(i int) string {
	if i == len(p.Ages)-1 {
		return p.T("over %d days", p.Ages[i].Days-1)
	}
	return p.T("%d to %d days", p.Ages[i].Days, p.Ages[i+1].Days-1)
}
