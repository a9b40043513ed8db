package web

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"
	"sync"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
	"wellstowed/web/form"
)

// A page is what every page has; each page's own struct embeds it.
type page struct {
	Print   *words.Printer
	Title   string
	Here    string // the path of the navigation link it stands under
	Demo    bool
	Token   string // of its forms
	Request string // id of the act its form would do
	Saved   string // path of the form whose local draft is done with
	Message string // what went wrong, if anything
	Faults  []pageFault
	Doubt   string  // why the computer's clock may be wrong, empty where it may be right
	Clock   string  // the day that is to be confirmed, empty where none is
	Sure    string  // the day that was confirmed
	Before  *saving // what the same form saved before, where it came again changed
	Style   string  // paths of the static files
	Sheet   string  // of a style sheet of the page’s own, empty for none
	Script  string
	Icon    string
	Shop    orders.Shop
	// Lang is the language of the page, BCP 47: the reader’s, where it isn’t the shop’s.
	Lang    string
	URL     string    // path of the page, to come back to in another language; of a form shown again, its start
	Set     rules.Set // of the shop
	Edit    string    // path of the form that changes the order it speaks of
	Who     act.Actor
	DemoAs  []choice // whom the demonstration can be seen as
	Passkey string   // path of the script for passkeys, where the page's name can have them
	Finder  string   // script of the page's own, such as the one that finds a customer; "" without
	Bare    bool     // it has no links to other pages
	Plain   bool     // it came over plain http from another machine
	// Withdrawn tells that the session was ended from elsewhere.
	Withdrawn bool
	Outside   string // where somebody who is not of the shop begins; empty for those who are

	signal *signal             // what a page without signal needs
	sentTo string              // path that a form shown again was sent to
	sent   form.Values         // what it said
	routes map[string]route    // the access table, by method and path
	names  map[string]string   // labels of fields that are called otherwise on this page
	wrong  map[string]string   // by field: what is wrong
	chosen map[string][]choice // by field: what may be meant, to be pressed
	asked  map[string][]asking // by field: what is asked about its reading
	theirs map[string]string   // by field: what somebody else saved meanwhile
}

// A pageFault is one line of the summary above a form, with a link to its field.
type pageFault struct{ Link, Label, Text string }

// page begins a page in the shop's language and units; where the shop cannot be
// read, in English and feet.
func (s *Server) page(c *fiber.Ctx, title measure.Text, here string) page {
	who := s.actor(c)
	shop, err := s.service.Shop(c.UserContext(), who)
	if who.Role == "" {
		shop, err = s.service.Manner(c.UserContext())
	}
	if err != nil {
		shop = orders.Shop{Language: orders.English, Units: act.Imperial, Paper: orders.Letter, Zone: "UTC"}
	}
	set, _ := s.service.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	lang := s.language(c, shop.Language, who.Role != "")
	print := words.New(lang, shop.Units).Under(set)
	p := page{
		Lang: lang, URL: here,
		Print: print, Title: print.Say(title), Here: here, Demo: s.demo, Token: s.token(c),
		Request: newRequest(), Style: s.assets.path("style.css"), Script: s.assets.path("page.js"),
		Icon: s.assets.path("mark.svg"), Shop: shop, Set: set, Who: who, routes: s.table,
	}
	if c.Method() == fiber.MethodGet {
		p.URL = strings.Clone(c.OriginalURL())
	}
	if _, can := s.site(c); can {
		p.Passkey = s.assets.path("passkey.js")
	}
	if s.demo {
		p.DemoAs = s.demoChoices(c, p)
	}
	if saved := c.Query("saved"); strings.HasPrefix(saved, "/") {
		p.Saved = saved
	}
	if strings.HasPrefix(c.Route().Path, "/buyer/") {
		p.Outside = "/buying"
	}
	p.signal = s.signal()
	p.Withdrawn, p.Plain = s.visitor(c).Withdrawn, !s.secure && !isLoopback(hostName(string(c.Request().Host())))
	c.Set(whoHeader, s.whoMark(c))
	if doubt, err := s.service.ClockDoubt(c.UserContext()); err == nil && doubt.Key != "" {
		p.Doubt = print.Say(doubt)
		if p.Stranger() {
			p.Doubt = p.T("The clock of the computer that this page comes from may be wrong, and so may its dates and times.")
		}
	}
	return p
}

// Stranger tells whether the page is somebody's who can do nothing about the shop's computer.
func (p page) Stranger() bool { return p.Outside != "" || p.Who.Role == "" }

// again makes a page of a form that is shown again keep the act's id.
func (p *page) again(c *fiber.Ctx) {
	p.sentTo, p.sent = c.Path(), formValue(c)
	if id := p.sent("request"); id != "" {
		p.Request = id
	}
	p.Sure = p.sent("clock")
}

// ClockDay is the day that is to be confirmed, in words.
func (p page) ClockDay() string {
	day, _ := act.ParseDate(p.Clock) // as the program wrote it
	return p.Print.Date(day)
}

// SentTo tells whether the form shown again is the one that is sent to a path.
func (p page) SentTo(path string) bool { return p.sentTo == path }

// Kept is what a field of the form sent to a path said, where that form is shown again.
func (p page) Kept(path, name string) string {
	if p.sent == nil || !p.SentTo(path) {
		return ""
	}
	return p.sent(name)
}

// set puts a fault on the page: its message, and each field's beside the field.
func (p *page) set(f fault) {
	p.Message = sentence(p.Print.Say(f.message))
	p.wrong, p.chosen = map[string]string{}, map[string][]choice{}
	if f.saved != nil {
		p.Request = newRequest() // sent again, it is meant
	}
	if f.saved != nil && f.saved.Thing != nil {
		p.Message = p.T("You saved this already, at %s. What you changed since isn’t saved yet.", p.Print.Time(f.saved.At, p.Shop.Zone))
		p.Before = savingOf(p.Print, *f.saved, f.savedPath)
	}
	for _, e := range form.AtFields(f.fields) {
		bare := *e
		bare.Field, bare.Got = "", "" // the field itself shows both
		text := sentence(p.Print.Sentence(&bare))
		if e.Field == "clock" {
			p.Clock, p.Sure, text = e.Accepts.String(), "", p.Sentence(e.Reason) // its box says what to do
		}
		link := p.link(e.Field)
		if asksElsewhere(e) {
			link, text = "#panel", sentence(p.Print.Asking(e))
		} else {
			p.wrong[e.Field], p.chosen[e.Field] = text, p.choices(e)
		}
		p.Faults = append(p.Faults, pageFault{link, p.label(e.Field), text})
	}
}

// asksElsewhere tells whether a question is answered in another field than the one it is
// about.
func asksElsewhere(e *measure.InputError) bool {
	return len(e.Choices) > 0 && e.Choices[0].Field != "" && e.Choices[0].Field != e.Field
}

// refuse makes a page say what was wrong with its form, which is shown again under
// the same id of its act.
func (s *Server) refuse(c *fiber.Ctx, p *page, err error) {
	f := s.faultOf(c, err)
	p.again(c)
	p.set(f)
	c.Status(f.status)
}

// link leads to a field: on this page, or in the shop or the order that it names.
func (p *page) link(name string) string {
	page, field := p.home(name)
	if name == "" || name == "clock" { // asked in every form of the page
		return ""
	}
	return page + "#" + field
}

// home is the page that a field stands on, empty for this one, and its name there:
// a receipt may lack what the shop ("shop.name") or the order ("order.species")
// should say.
func (p *page) home(name string) (page, field string) {
	if field, found := strings.CutPrefix(name, "shop."); found {
		return "/shop", field
	}
	if field, found := strings.CutPrefix(name, "order."); found {
		if strings.HasPrefix(field, "fees[") {
			field = "other_fee_for"
		}
		return p.Edit, field
	}
	return "", name
}

// sentence is text with a capital first letter and a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	text = upperFirst(text)
	if !strings.ContainsAny(text[len(text)-1:], ".?:") {
		text += "."
	}
	return text
}

func upperFirst(text string) string {
	for i, r := range text {
		return strings.ToUpper(string(r)) + text[i+len(string(r)):]
	}
	return ""
}

// T words a sentence of the page.
func (p page) T(key string, args ...any) string { return p.Print.Say(measure.Say(key, args...)) }

// Int makes a number fit for a text.
func (p page) Int(n int64) int { return int(n) }

// Day is the day of an instant in a zone, in UTC where that is not known.
func (p page) Day(t time.Time, zone string) act.Date {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	return act.DateOf(t.In(place))
}

// Plus1 counts from 1.
func (p page) Plus1(n int) int { return n + 1 }

// Path is the path of a reading in the tally document.
func (p page) Path(format string, index ...any) string { return fmt.Sprintf(format, index...) }

// May tells whether who looks may use a route, named as in the access table
// ("POST /orders/:id/cancel"), so that nothing shown leads to a refusal.
func (p page) May(name string) bool {
	r, there := p.routes[name]
	return there && r.allowed(p.Who)
}

// Nav are the links on every page.
func (p page) Nav() []choice {
	if p.Bare {
		return nil
	}
	if p.Outside != "" {
		return p.outsideNav()
	}
	links := []choice{
		{Value: "/", Label: p.T("Orders")}, {Value: "/measure", Label: p.T("Measure")},
		{Value: "/how-to-measure", Label: p.T("How to measure")}, {Value: "/storage", Label: p.T("Storage")},
	}
	switch {
	case p.Who.Role == "":
		links[0] = choice{Value: "/buying", Label: p.T("Buying wood")}
		links = append(links, choice{Value: "/sign-in", Label: p.T("Sign in")})
	case p.Who.Role == act.Owner:
		links = append(links, choice{Value: "/shop", Label: p.T("Shop")})
	case p.Who.Role == act.Auditor:
		links = append(links, choice{Value: "/audits", Label: p.T("Audits")})
	}
	if p.Who.ID != "" {
		links = append(links, choice{Value: "/me", Label: p.Who.Person})
	}
	for i := range links {
		links[i].On = links[i].Value == p.Here
	}
	return links
}

// outsideNav are the links for a buyer who came by one.
func (p page) outsideNav() []choice {
	if strings.HasPrefix(p.Outside, measurerPath("")) {
		return []choice{{Value: p.Outside, Label: p.T("Your readings"), On: p.Here == p.Outside}, {Value: "/how-to-measure", Label: p.T("How to measure")}}
	}
	links := []choice{{Value: "/buying", Label: p.T("Buying wood")}, {Value: "/how-to-measure", Label: p.T("How to measure")}}
	if p.Outside != "/buying" {
		links = append([]choice{{Value: p.Outside, Label: p.T("Your delivery")}}, links...)
	}
	for i := range links {
		links[i].On = links[i].Value == p.Here
	}
	return links
}

// Home is where the mark leads.
func (p page) Home() string {
	switch {
	case p.Bare:
		return "/"
	case p.Outside != "":
		return p.Outside
	case p.Who.Role == "":
		return "/start"
	}
	return "/"
}

// At is what is wrong with a field, empty when nothing is.
func (p page) At(name string) string { return p.wrong[name] }

// Spell writes a quantity for a field, in a unit the shop sells by.
func (p page) Spell(q measure.Quantity) string { return p.Set.Spell(q, p.Shop.Units == act.Metric) }

// Brief is a quantity as briefly as it is typed, to be read.
func (p page) Brief(q measure.Quantity) string { return p.Print.Typed(p.Spell(q)) }

// Sentence words a text as a sentence.
func (p page) Sentence(t measure.Text) string { return sentence(p.Print.Say(t)) }

// Upper is text with a capital first letter.
func (p page) Upper(text string) string { return upperFirst(text) }

// Whole is a quantity to be read at a glance: neither figure is ever parted from its unit.
func (p page) Whole(q measure.Quantity) string {
	much, rest := p.Print.QuantityParts(q)
	unbroken := func(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }
	return strings.TrimSpace(unbroken(much) + " " + unbroken(rest))
}

// OneLine is an address in one line.
func (p page) OneLine(text string) string { return strings.ReplaceAll(text, "\n", ", ") }

// Lines are the lines of an address.
func (p page) Lines(text string) []string { return strings.Split(text, "\n") }

// Picture is a drawing as SVG; draw escapes every text in it.
func (p page) Picture(d draw.Drawing) (template.HTML, error) {
	var out bytes.Buffer
	if err := draw.SVG(&out, d, p.Print.Say); err != nil {
		return "", err
	}
	return template.HTML(out.String()), nil
}

// A field is one labelled input with what is wrong with it.
type field struct {
	Name, Label, Value, Hint   string
	Short                      string // label seen in a table of cells; Label is read out
	Wrong, Theirs              string
	TheirsLabel                string
	Mode, Kind, List, Autofill string
	Offer                      string // what a browser may know of it: "zone", "currency"
	Asked                      []asking
	Unit, Echo                 string // of a length: what a bare number is in, and what was read
	Lines                      int
	Choices                    []choice // what may be meant, to be pressed
}

// Field is the input of the given name, labelled from the one list of labels.
func (p page) Field(name, value string) field {
	return field{Name: name, Label: p.label(name), Value: value, Wrong: p.wrong[name], Choices: p.chosen[name], Asked: p.asked[name],
		Theirs: p.theirs[name], TheirsLabel: p.T("Saved meanwhile:"), Kind: "text"}
}

// Describers are the ids of what is said about the field, for those who cannot see it.
func (f field) Describers() string {
	var ids []string
	echo := f.Unit
	if f.Short != "" { // no room for it in a cell
		echo = ""
	}
	for _, part := range []struct{ of, said string }{{"unit", f.Unit}, {"hint", f.Hint}, {"fault", f.Wrong}, {"echo", echo}} {
		if part.said != "" {
			ids = append(ids, f.Name+"-"+part.of)
		}
	}
	return strings.Join(ids, " ")
}

// Decimal asks for the numeric keyboard.
func (f field) Decimal() field { f.Mode = "decimal"; return f }

// Cell gives the short label that is seen where fields stand side by side.
func (f field) Cell(short string) field { f.Short = short; return f }

// Told adds a line of explanation above the input.
func (f field) Told(hint string) field { f.Hint = hint; return f }

// Tall makes room for several lines.
func (f field) Tall(lines int) field { f.Lines = lines; return f }

// As sets the kind of input: "date", "tel".
func (f field) As(kind string) field { f.Kind = kind; return f }

// From offers the entries of a datalist.
func (f field) From(list string) field { f.List = list; return f }

// Offered lets the page's script put in what the browser knows, where nothing is typed.
func (f field) Offered(what string) field { f.Offer = what; return f }

// Label is the name of a form field for people.
func (p page) Label(name string) string { return p.label(name) }

// Named gives a field another label.
func (p page) Named(f field, label string) field { f.Label = label; return f }

// A choice is one of several to choose from.
type choice struct {
	Value, Label string
	On           bool
}

// A choosing is a field whose value is one of several.
type choosing struct {
	field
	Choices []choice
}

// Choose is the field of the given name with its choices.
func (p page) Choose(name string, choices []choice) choosing {
	return choosing{p.Field(name, ""), choices}
}

// label is the name of a form field for people.
func (p page) label(name string) string {
	home, name := p.home(name)
	if own, found := p.names[name]; found && home == "" {
		return own
	}
	if name == "price_per_unit" {
		return p.Print.PerUnit()
	}
	if !strings.Contains(name, "[") {
		if key, found := labels()[name]; found {
			return p.T(key)
		}
	}
	return upperFirst(p.Print.Place(name))
}

// labels are the labels of form fields by name. Those of a tally's readings come
// from their paths.
var labels = sync.OnceValue(func() map[string]string {
	return map[string]string{
		"customer_name": "Customer", "customer_address": "Address", "customer_phone": "Phone",
		"quantity": "How much", "confirmed": "Read back", "species": "Species", "mix": "Shares as stated", "counted": "Pieces counted by species", "origin": "Cut in", "identity": "What it is", "piece_length": "Piece length",
		"seasoning": "Seasoning", "stacking": "Stacking", "price_per_cord": "Price per cord", "price_total": "Price for all of the wood",
		"delivery_fee": "Delivery", "deliver_to": "Delivered to", "list_stacking": "Stacking at the list’s price", "stacking_fee": "Stacking", "other_fee": "Other charge", "other_fee_for": "Other charge is for",
		"deposit": "Deposit paid", "notes": "Notes for the driver", "day": "When", "offers": "The offers, one a line", "delivered": "Delivered", "signed_by": "Received by", "signature": "Signature", "differs": "Why it is more than was measured", "on": "Day",
		"reason": "Why", "purchaser_name": "Purchaser", "purchaser_address": "Purchaser’s address",
		"print_name": "Name as printed", "print_address": "Address as printed",
		"name": "Firm", "address": "Address", "phone": "Phone", "tax_number": "Tax number", "currency": "Currency", "zone": "Time zone",
		"paper": "Paper", "units": "Units", "language": "Language", "rule_set": "Rules of sale", "version": "Version", "request": "Request",
		"sold": "Sold", "apart": "Wood of this delivery that is not in the stack", "apart_some": "How much is not in this stack",
		"tape": "Smallest mark read on the tape", "top": "Top of the wood, judged", "stowed": "Stowing checked",
		"raised": "Heights include this much below the wood", "by": "Who reads", "read_by": "Name of who reads",
		"moisture": "Moisture", "readings": "Readings", "basis": "Measured against", "method": "Read with", "fresh_face": "Where",
		"temperature": "Temperature of the wood", "accuracy": "The meter’s accuracy", "correction": "Correction for the species", "limit": "Limit",
		"distance": "Distance", "half_load": "Less than a full load", "tax_exempt": "No tax, because",
		"distance_rate": "Charge for distance", "free_distance": "The first of it free", "full_load": "A full load", "half_load_fee": "Charge for less than a full load",
		"tax_name": "Name of the tax", "tax_rate": "Rate", "tax_wood": "The tax is on",
		"wanted_by": "Wanted by", "wanted_for": "Waits for",
		"owed": "How much is owed", "choice": "Made good with", "agreed_how": "The buyer agreed", "agreed_on": "Agreed on", "settle_reason": "Why, in your words",
		"brought": "How much was brought", "given": "Amount given", "given_by": "How it is given",
		"paid": "Amount", "paid_by": "How", "reference": "Number of the cheque, voucher or slip", "back": "Which way",
		"stack.nominal": "Piece length as said", "stack.pieces": "Piece lengths", "unit": "Numbers without a unit are", "do": "Button",
		"place": "Place", "width": "Width", "depth": "Depth", "height": "Clear height", "wood": "Kind of wood", "shoulder": "Shoulder height",
		"braced": "Ends and back", "loaded": "Loaded", "bed_length": "Bed length", "bed_width": "Bed width", "bed_sides": "Height of the sideboards",
		"well_length": "Well length", "well_width": "Well width", "well_height": "Well height", "placard": "Placard: people and load",
		"people": "People who ride along", "gross": "Gross rating", "registered": "Registered gross weight", "scale": "Weight on a scale",
		"lot": "The lot", "lot_size": "Packages in the lot", "labelled": "Labelled, on each", "seed": "Seed of the draw", "packages": "The packages drawn",
		"receipts": "Receipts", "line": "Line", "length": "Length inside", "taped_by": "Taped by", "arrangement": "How the wood lies in it", "body": "Filled to a line",
		"fuel": "What kept it warm", "amount": "How much of it", "floor": "Heated floor", "climate": "Winters", "appliance": "What burns the wood",
		"auditor": "Who audits", "capacity": "Audits as", "office": "Office", "badge": "Badge or commission number", "receipt": "Receipt number",

		"how": "How the seller was told", "when": "When", "told_by": "Who told the seller", "appointed": "He may come at",
		"attended": "Did the seller come?", "who": "Who", "since": "Kept as it is since", "held_by": "Who answers for it", "broken": "Was any moved or used meanwhile?", "stacked_by": "Who stacked it again",
		"measurers": "How many measure", "stations": "Heights in each row, on each face", "lengths": "Lengths of each row, at different heights", "pieces": "Pieces to tape", "faces": "Faces to read",
		"stop": "Measuring ends", "measurer_name": "Who measures", "closed_by": "Who closes it", "statement": "The result in your own words", "note_kind": "What it is",
		"of": "What it shows", "taken": "Taken at", "photo": "Photo", "note": "Note", "file": "The rule set’s file",
		"began": "Began to read", "ended": "Ended", "role": "You measure as", "tape_maker": "Maker of the tape", "tape_number": "Number of the tape",
		"tape_checked": "Was the tape checked?", "checked_on": "Tape checked on", "checked_by": "Tape checked against",
		"share": "Share of the heat from wood", "plan": "Plan",
		"batch": "Drawn from", "cut": "Cut on", "split": "Split on", "certificate": "Heat-treatment certificate",
		"left": "What lies there now", "rest": "What became of the rest", "counted_by": "Counted by",
		"back_height": "Clear height at the back", "stacked": "Stacked on", "wanted": "To burn well by", "air": "Temperature of the air", "humidity": "Humidity of the air",
		"then_place": "Next place", "then_width": "Its width", "then_depth": "Its depth", "then_height": "Its clear height",
		"then_back_height": "Its clear height at the back", "then_braced": "Its ends and back",
		"seller_name": "Seller’s name", "seller_address": "Seller’s address", "seller_phone": "Seller’s phone", "buyer_name": "Your name",
		"buyer_address": "Your address", "buyer_phone": "Your phone", "delivered_on": "Delivered on", "price": "Price", "slip": "Was a ticket or receipt left?",
		"ticket_has": "On the ticket", "ticket_lacks": "Not on the ticket", "vehicle": "Vehicle", "payment": "How was it paid?",
		"used": "Has any been used, burned, moved or mixed with other wood?", "kind": "Kind",
		"witnessed": "Did seller and buyer both see the wood measured?", "measured_by": "Who measured the wood", "measured_by_address": "Address of who measured",
		"package_count": "Wrapped packages, if any", "stack_size": "Length, width and height when ranked", "dried_for": "Dried for how long", "dried_how": "Dried in what manner",
		"moisture_certificate": "Number of the certificate of dryness", "moving": "How this wood may be moved",
		"text": "In your words", "remedy": "What is asked for", "accepts": "The seller’s answer",
	}
})

// AmountHint gives examples of wood that isn't sold on the page, which are read as they are
// under the shop's rules.
func (p page) AmountHint() string {
	if p.Print.InCords() {
		return p.T("1 cord, 64 cu ft stacked, 180 cu ft loose.")
	}
	return p.T("3.6 m³ stacked, 64 cu ft stacked, 5 m³ loose.")
}
