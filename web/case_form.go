package web

import (
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/web/form"
)

// A caseFormPage is the form of a buyer's record: of wood bought elsewhere all of it,
// of a receipt what it does not say.
type caseFormPage struct {
	page
	R        cases.Request
	Action   string
	Back     string
	Answers  bool // only what a receipt does not say
	New      bool
	Question string // what is read back, empty when nothing is
	ReadBack string
	Kept     string // says which words are kept instead of a quantity, empty where none are
	Sets     []choice
	Under    rules.Set
}

// A caseListPage lists the records of whoever runs the program.
type caseListPage struct {
	page
	Cases []cases.Case
}

func (s *Server) caseList(c *fiber.Ctx) error {
	cases, err := s.cases.OwnCases(c.UserContext(), s.actor(c))
	if err != nil {
		return err
	}
	p := s.page(c, measure.Say("Wood I bought"), "/buying")
	if wantsJSON(c) {
		list := make([]fiber.Map, len(cases))
		for i, one := range cases {
			list[i] = fiber.Map{"id": one.ID, "account": one.Account}
		}
		return c.JSON(list)
	}
	return s.render(c, "case_list", caseListPage{p, cases})
}

func (s *Server) caseForm(c *fiber.Ctx, r cases.Request) caseFormPage {
	p := caseFormPage{page: s.page(c, measure.Say("Wood I bought"), "/buying"), R: r}
	p.under()
	p.Sets = ruleChoices(s.service.Rules().All(), p.R.RuleSet)
	p.Under = p.Set
	if set, err := s.service.Rules().Get(p.R.RuleSet); err == nil {
		p.Under = set
		p.Print = p.Print.Under(set)
	}
	return p
}

// under begins a form with the shop's rules, and calls its fields as a buyer does.
func (p *caseFormPage) under() {
	if p.R.RuleSet == "" {
		p.R.RuleSet = p.Shop.RuleSet
	}
	p.names = map[string]string{
		"quantity": p.T("How much was bought"), "wood": p.T("What wood"), "rule_set": p.T("Rules of sale where it was bought"),
		"stacked": p.T("Is it closely stacked?"), "price": p.T("What it cost"),
	}
}

func (s *Server) caseNew(c *fiber.Ctx) error {
	p := s.caseForm(c, cases.Request{RuleSet: c.Query("rules"), Quantity: strings.ToValidUTF8(c.Query("quantity"), "\uFFFD")})
	p.toKeep()
	return s.render(c, "case_form", p)
}

func (s *Server) caseCreate(c *fiber.Ctx) error {
	r, err := decodeCase(c)
	var f cases.File
	if err == nil {
		var act act.Act
		if act, err = s.act(c); err == nil {
			f, err = s.cases.OpenCase(c.UserContext(), act, r)
		}
	}
	if err == nil {
		return made(c, fiber.StatusCreated, "/buying/case/"+f.Case.ID, caseJSON(f))
	}
	p := s.caseForm(c, r)
	p.toKeep()
	return s.caseAgain(c, p, err)
}

// toKeep makes it the form of a new record.
func (p *caseFormPage) toKeep() {
	p.Title = p.T("Record a delivery")
	p.Action, p.Back, p.New = "/buying/cases", "/buying/cases", true
}

// decodeCase reads the form, where what is on the ticket is asked field by field.
func decodeCase(c *fiber.Ctx) (cases.Request, error) {
	var ticket []string
	for _, code := range rules.FieldCodes() {
		ticket = append(ticket, ticketField(code))
	}
	r, err := decodeWith[cases.Request](c, ticket)
	if err != nil || sentJSON(c) {
		return r, err
	}
	var has, lacks []string
	for _, code := range rules.FieldCodes() {
		switch formValue(c)(ticketField(code)) {
		case "yes":
			has = append(has, code)
		case "no":
			lacks = append(lacks, code)
		}
	}
	r.TicketHas, r.TicketLacks = strings.Join(has, ","), strings.Join(lacks, ",")
	return r, nil
}

func ticketField(code string) string { return "ticket." + code }

// caseAgain shows the form again as typed with what is wrong beside it.
func (s *Server) caseAgain(c *fiber.Ctx, p caseFormPage, err error) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	f := s.faultOf(c, err)
	p.again(c)
	for i, e := range f.fields {
		if e.Field != "confirmed" {
			continue
		}
		p.ReadBack, p.R.Confirmed = e.Accepts.String(), ""
		p.Question = sentence(p.Print.Say(e.Reason))
		f.fields[i] = &measure.InputError{Field: e.Field, Code: e.Code, Reason: e.Reason}
		if len(f.fields) == 1 {
			f.message = measure.Say("Is that what was bought?")
		}
	}
	p.set(f)
	c.Status(f.status)
	return s.render(c, "case_form", p)
}

// caseEdit is the form of a case as it now stands.
func (s *Server) caseEdit(c *fiber.Ctx) error {
	f, key, err := s.caseFile(c)
	if err != nil {
		return err
	}
	return s.render(c, "case_form", s.caseEditForm(c, f, key, form.Case(f)))
}

func (s *Server) caseEditForm(c *fiber.Ctx, f cases.File, key cases.Key, r cases.Request) caseFormPage {
	p := s.caseForm(c, r)
	p.adopt(f, key)
	p.Kept = p.Print.NoMeasure(f)
	p.Back, p.Action, p.Answers = casePath(key), casePath(key)+"/edit", key.ID == ""
	p.Title = p.T("What an office would ask")
	if key.ID != "" {
		p.Title = p.T("Change what I wrote down")
	}
	return p
}

// caseChange adds what the buyer now says.
func (s *Server) caseChange(c *fiber.Ctx) error {
	key, err := caseKey(c)
	if err != nil {
		return err
	}
	r, f, err := s.changeCase(c, key)
	if err == nil {
		return made(c, fiber.StatusOK, casePath(key), caseJSON(f))
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	f, _, broken := s.caseFile(c)
	if broken != nil {
		return broken
	}
	return s.caseAgain(c, s.caseEditForm(c, f, key, r), err)
}

func (s *Server) changeCase(c *fiber.Ctx, key cases.Key) (r cases.Request, f cases.File, err error) {
	act, err := s.caseAct(c, key)
	if err != nil {
		return r, f, err
	}
	if key.ID != "" {
		if r, err = decodeCase(c); err == nil {
			f, err = s.cases.ChangeCase(c.UserContext(), act, key.ID, r)
		}
		return r, f, err
	}
	a, err := decode[cases.AnswersRequest](c)
	r = cases.Request{Vehicle: a.Vehicle, Payment: a.Payment, Used: a.Used, Stacked: a.Stacked, Version: a.Version}
	if err == nil {
		f, err = s.cases.ChangeAnswers(c.UserContext(), act, key.Code, a)
	}
	return r, f, err
}

// YesNo are the answers to a question; none is chosen beforehand.
func (p caseFormPage) YesNo(now string) []choice {
	return []choice{{"yes", p.T("Yes"), now == "yes"}, {"no", p.T("No"), now == "no"}}
}

// MayKeepWords tells whether the words of the sale can be kept instead of a quantity:
// where they are kept already, or were typed and name none.
func (p caseFormPage) MayKeepWords() bool {
	return p.R.AsWords == "yes" || p.R.Quantity != "" && p.At("quantity") != ""
}

// Payments are the ways of paying; none is chosen beforehand.
func (p caseFormPage) Payments() []choice {
	var list []choice
	for _, way := range orders.WaysPaid() {
		list = append(list, choice{string(way), p.Upper(p.Print.HowPaid(way)), p.R.Payment == string(way)})
	}
	return list
}

// Ticket asks for each field that the rules require whether it is there.
func (p caseFormPage) Ticket() []choosing {
	has, lacks := strings.Split(p.R.TicketHas, ","), strings.Split(p.R.TicketLacks, ",")
	var list []choosing
	for _, f := range p.Under.Required {
		one := p.Choose(ticketField(f.Code), []choice{
			{"yes", p.T("On it"), slices.Contains(has, f.Code)}, {"no", p.T("Not on it"), slices.Contains(lacks, f.Code)},
		})
		one.Label = p.Upper(p.T(f.Name))
		list = append(list, one)
	}
	return list
}

// Example is a quantity in a measure that the rules know.
func (p caseFormPage) Example() string {
	if p.Print.InCords() {
		return p.T("In the words it was sold by, such as 1 cord, half a cord or 64 cu ft. Words that name no measure can be kept as they were said.")
	}
	return p.T("In the words it was sold by, such as 64 cu ft or 3.6 m³ stacked. Words that name no measure can be kept as they were said.")
}
