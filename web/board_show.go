package web

import (
	"fmt"
	"html/template"
	"strings"
	"unicode"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A boardPage is what the seller has to do, from today on.
type boardPage struct {
	page
	orders.Board
	notices
}

// notices are what a seller should see before the orders.
type notices struct {
	Waiting []int64 // receipts whose buyer waits for an answer
	// Unnumbered are deliveries whose receipt has no number yet.
	Unnumbered []choice
	// Unwitnessed says what the witness file lacks, empty for nothing.
	Unwitnessed string
	// Unsaved says to the owner that there is no fresh backup, empty where there is one.
	Unsaved string
}

func (s *Server) notices(c *fiber.Ctx, p page) (n notices, err error) {
	n.Unwitnessed = p.Print.Say(s.service.WitnessTrouble(c.UserContext()))
	if !s.demo && s.actor(c).Role == act.Owner {
		old, err := s.service.BackupTrouble(c.UserContext())
		if err != nil {
			return n, err
		}
		n.Unsaved = p.Print.Say(old)
	}
	if n.Unnumbered, err = s.unnumbered(c, p); err != nil {
		return n, err
	}
	n.Waiting, err = s.cases.Unanswered(c.UserContext(), s.actor(c))
	return n, err
}

// boardShow shows what there is to do: the first page of the shop.
func (s *Server) boardShow(c *fiber.Ctx) error {
	board, err := s.service.Board(c.UserContext(), s.actor(c))
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(board)
	}
	p := boardPage{page: s.page(c, measure.Say("Board"), "/"), Board: board}
	if p.begins() {
		return c.Redirect("/begin", fiber.StatusSeeOther)
	}
	p.Sheet = s.assets.path("board.css")
	if p.notices, err = s.notices(c, p.page); err != nil {
		return err
	}
	return s.render(c, "board", p)
}

// Found is empty: nothing was looked for here.
func (p boardPage) Found() string { return "" }

// Sum is what a group holds: money where that is owed, wood elsewhere.
func (p boardPage) Sum(g orders.BoardGroup) string {
	if g.Key == orders.BoardUnpaid {
		return p.Print.Money(g.Due)
	}
	return p.Print.Quantities(g.Wood, p.Brief)
}

// Much is how much wood a stop is about: what is still to come, or all of it where all came.
func (p boardPage) Much(s orders.Stop) string {
	if s.Due.Volume > 0 {
		return p.Brief(s.Due)
	}
	return p.Brief(s.Order.Quantity)
}

// Halves parts a quantity into its figure and its unit, which stand below each other.
func (p page) Halves(text string) choice {
	at := strings.IndexFunc(text, unicode.IsLetter)
	if at < 0 {
		return choice{Value: text}
	}
	return choice{Value: strings.TrimSpace(text[:at]), Label: text[at:]}
}

// Wood is a stop's wood and where it goes, in a few words.
func (p boardPage) Wood(o orders.Order) string {
	said := o.Species
	if o.PieceLength > 0 {
		said = strings.TrimSpace(said + " " + p.Print.Length(o.PieceLength))
	}
	return p.Upper(said)
}

// RoadPath leads to the road of a group that is one day; empty where who looks may not.
func (p boardPage) RoadPath(key orders.BoardKey) string {
	switch {
	case !p.May("GET /road"):
		return ""
	case key == orders.BoardToday:
		return roadPath(p.Today)
	case key == orders.BoardTomorrow:
		return roadPath(p.Today.AddDays(1))
	}
	return ""
}

// StepPath leads to an order's next step; empty where who looks may not take it.
func (p page) StepPath(step orders.OrderStep, id string) string {
	to, ok := map[orders.OrderStep]string{
		orders.StepSettle: "GET /orders/:id/settlement", orders.StepMeasure: "GET /orders/:id/measure",
		orders.StepDeliver: "GET /orders/:id/deliver", orders.StepTakePayment: "GET /orders/:id/payments",
		orders.StepGiveBack: "GET /orders/:id/payments",
	}[step]
	if !ok {
		return "/orders/" + id + "#day"
	}
	if !p.May(to) {
		return ""
	}
	return strings.Replace(strings.TrimPrefix(to, "GET "), ":id", id, 1)
}

// mostStrokes is how many strokes of a tally are drawn; the number says the rest.
const mostStrokes = 25

// Strokes draws a count as a tally: a stroke each, and a gate for every five.
func (p page) Strokes(n int) template.HTML {
	var path strings.Builder
	x := 1
	for i := 1; i <= min(n, mostStrokes); i++ {
		if i%5 == 0 {
			fmt.Fprintf(&path, "M%d 13L%d 3", x-21, x)
			x += 5
			continue
		}
		fmt.Fprintf(&path, "M%d 1V15", x)
		x += 5
	}
	return template.HTML(fmt.Sprintf(`<svg class="strokes" width="%d" height="16" viewBox="0 0 %d 16" aria-hidden="true"><path d="%s"/></svg>`, x+1, x+1, path.String()))
}
