package receipts

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// buyingFacts are what a buyer's checklist is painted of.
type buyingFacts struct {
	Set     rules.Set
	Advice  []words.BuyingPart
	Sources []string
}

// ticketTexts are the fields that a ticket must hold as the checklist says them, a field
// with a condition once in the list and once with its condition.
func ticketTexts(print *words.Printer, set rules.Set) []string {
	texts := print.TicketConditions(set)
	for _, field := range print.TicketFields(set) {
		texts = append(texts, field.Words)
	}
	return texts
}

// Every piece of advice, every field that a ticket must hold, every condition of one and
// every source stands on a buyer's checklist, and the rules are named in full.
func TestEveryFactStandsOnABuyingChecklist(t *testing.T) {
	p := plainPainter(t)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	long := book.All()[0]
	long.Name = strings.Repeat("A county by a long name and its neighbours, ", 3) + "as read here"
	for _, set := range append(book.All(), long) {
		onEveryPaper(func(units act.Units, paper orders.Paper) {
			print := words.New("en", units).SoldIn(set.SoldIn(units == act.Metric))
			pdf, err := p.BuyingChecklist("en", set, paper, units)
			require.NoError(t, err)
			f := buyingFacts{set, print.Buying(set), append(print.TicketSources(set), print.AdviceSource(), print.NotAdvice(set))}
			used := map[string]bool{}
			mentions := map[string]mention{
				"buyingFacts.Set.*":          never("the page of the rules has it"),
				"buyingFacts.Set.Name":       {},
				"buyingFacts.Set.Required":   {least: true, says: func(any) []string { return ticketTexts(print, set) }},
				"buyingFacts.Sources":        {least: true, says: func(v any) []string { return v.([]string) }}, // one may be how another begins
				"buyingFacts.Advice.Heading": as(strings.ToUpper),
			}
			consult(t, fmt.Sprintf("buying under %s, %s", set.Name, units), p, pdf, print, "UTC", mentions, f, used)
			allUsed(t, mentions, used)
			requireLaidOut(t, "buying under "+set.Name, p, pdf)
		})
	}
}

// onForm is where on the blank form each field of a tally of rows is written.
func onForm() map[string]string {
	return map[string]string{
		"Tally.Sold": "Sold (as said)", "Tally.By": "seller", "Tally.Apart": "Not in the stack (none, or how much)", "Tally.Look": "Check number",
		"Tally.Tape": "Smallest mark of the tape", "Tally.TapeMade": "The tape is made of", "Tally.Rounded": "Between two marks", "Tally.Top": "Top of the wood",
		"Tally.Stowed": "Stowing", "Tally.Gaps": "Gaps a test stick goes into", "Gaps.Count": "Gaps a test stick goes into", "Gaps.Pieces": "Among how many pieces",
		"Tally.Raised": "Raised (below the wood)", "Rows.Pieces": "TEN PIECES FROM ALL OVER, CENTRE TO CENTRE OF THE CUT ENDS",
		"Rows.Rows":  "ROWS: HEIGHTS AT THE MIDDLE OF EQUAL PARTS, FROM THE UNDERSIDE OF THE LOWEST PIECE",
		"Row.Length": "Length", "Row.Ends": "Ends, gaps", "Row.Voids": "Ends, gaps",
	}
}

// notOnForm is what a tally of rows holds that the form has no box for, and why.
func notOnForm() map[string]string {
	const later, rare = "asked when the readings are typed in", "few read it: the page and the file take it"
	return map[string]string{
		"Tally.Stack": "the form is of rows", "Row.Heights": "numbered: counted apart",
		"Tally.Stacked": later, "Tally.StackedBy": later, "Tally.Condition": later, "Tally.SoldCondition": later, "Tally.Moisture": later, "Tally.Shrinkage": later,
		"Tally.Confirmed": later, "Tally.LooseCord": "the rule set's", "Tally.Used": "on record elsewhere", "Tally.MostShrinkage": "the species' own",
		"Rows.Window": rare, "Row.Lengths": rare, "Row.Back": rare, "Row.Positions": rare, "Row.Slope": rare, "Row.Pieces": rare, "Row.Photo": "read from the picture itself", "Row.Beside": "read from the picture itself",
	}
}

// Every reading that a tally of rows holds has a box on the blank form, once, with the
// choices there are; a field that is added needs a box, or a reason why not.
func TestEveryReadingHasABoxOnTheForm(t *testing.T) {
	boxes, why := onForm(), notOnForm()
	for _, of := range []reflect.Type{reflect.TypeFor[stack.Tally](), reflect.TypeFor[stack.Rows](), reflect.TypeFor[stack.Row](), reflect.TypeFor[stack.Gaps]()} {
		for i := range of.NumField() {
			name := of.Name() + "." + of.Field(i).Name
			require.True(t, (boxes[name] == "") != (why[name] == ""), "%s: say which box it is written in, or why it has none", name)
			delete(why, name)
		}
	}
	require.Empty(t, why, "no tally has these")
	p := plainPainter(t)
	onEveryPaper(func(units act.Units, paper orders.Paper) {
		print := words.New("en", units)
		pdf, err := p.BlankTally("en", paper, units)
		require.NoError(t, err)
		texts := append(print.FormSteps(), print.FormUnits(), print.FormEnds(), "Receipt or order number", "Printed name", "Signature", "Day and time",
			print.Party(stack.Seller), print.Party(stack.Buyer), print.Party(stack.Inspector))
		for _, choices := range [][]string{{string(stack.Straightedge), string(stack.ByEye)}, {string(stack.StowingChecked)}, {string(stack.SteelTape), string(stack.ClothTape)}, {"nearest mark", "mark below"}} {
			texts = append(texts, choices...)
		}
		for _, box := range boxes {
			if box != "Length" && !slices.Contains(texts, box) { // the picture has that too
				texts = append(texts, box)
			}
		}
		consult(t, "tally form, "+string(units), p, pdf, print, "UTC", map[string]mention{}, formFacts{texts}, map[string]bool{})
		requireNumbered(t, p, pdf)
	})
}

// formFacts are the texts of a blank form.
type formFacts struct{ Texts []string }

// requireNumbered holds that the boxes of ten pieces, of ten heights and of six rows are
// numbered in order: each in its line or column.
func requireNumbered(t *testing.T, p *Painter, pdf []byte) {
	t.Helper()
	lines, columns := map[int][]int{}, map[int][]int{}
	for _, text := range readPDF(t, p, pdf) {
		if n, err := strconv.Atoi(text.text); err == nil && text.y > footersBelow {
			lines[int(text.y)] = append(lines[int(text.y)], n)
			columns[int(text.x+(text.to-text.x)/2)] = append(columns[int(text.x+(text.to-text.x)/2)], n)
		}
	}
	counted := func(in map[int][]int, upTo int) (n int) {
		want := make([]int, upTo)
		for i := range want {
			want[i] = i + 1
		}
		for _, numbers := range in {
			if slices.Equal(numbers, want) {
				n++
			}
		}
		return n
	}
	require.Equal(t, 2, counted(lines, 10), "pieces and heights: %v", lines)
	require.Equal(t, 2, counted(columns, 6), "steps and rows: %v", columns)
}
