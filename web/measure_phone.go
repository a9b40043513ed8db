package web

import (
	"encoding/json"
	"reflect"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/web/live"
)

// program is the file that a measuring page answers by itself with; it is kept packed.
const program = "measure.wasm"

// measuringPolicy lets a page run that program. Nothing else is let in by it: scripts still
// come from here alone.
var measuringPolicy = strings.Replace(contentPolicy, "script-src 'self'", "script-src 'self' 'wasm-unsafe-eval'", 1)

// answersThere lets the page answer by itself where all that its answer depends on is on the
// page: of no order or of an order, in English, under rules that are built in.
func (s *Server) answersThere(c *fiber.Ctx, p *measurePage) {
	builtIn, err := rules.BuiltIn()
	if err != nil || p.Lang != orders.English || p.Owed != nil || p.Case != nil {
		return
	}
	if set, err := builtIn.Get(p.Set.Code); err != nil || !reflect.DeepEqual(set, p.Set) {
		return // the office's own procedure, or rules of a file
	}
	there := live.Page{Kind: p.Kind, Set: p.Set.Code, Units: p.Shop.Units}
	if p.Order != nil {
		sale, known := p.saleThere()
		if !known {
			return
		}
		there.Sale = &sale
	}
	said, err := json.Marshal(there)
	if err != nil {
		return
	}
	p.Phone, p.Program = string(said), s.assets.path(program)
	c.Set(fiber.HeaderContentSecurityPolicy, measuringPolicy)
}

// saleThere is what the order says to a tally; unknown where how much wood its cords were
// depends on the wood.
func (p *measurePage) saleThere() (live.Sale, bool) {
	o := p.Order
	if o.Quantity.Basis == measure.Loose || p.Set.CordVaries() {
		return live.Sale{}, false
	}
	sale := live.Sale{Sold: p.Spell(o.Quantity), Container: o.Quantity.Basis == measure.Container, Check: p.Checks + 1}
	if species, err := wood.Find(o.Species); err == nil {
		sale.Shrinkage = species.Shrinkage
	}
	return sale, true
}
