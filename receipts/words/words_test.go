package words_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/receipts/words"
)

func imperial() *words.Printer { return words.New("en", act.Imperial) }
func metric() *words.Printer   { return words.New("en", act.Metric) }

func TestLength(t *testing.T) {
	const in, ft, mm = measure.Inch, measure.Foot, measure.Millimetre
	for _, row := range []struct {
		l                measure.Length
		imperial, metric string
	}{
		{0, "0 in", "0 mm"},
		{in / 4, "1/4 in", "6 mm"},
		{16 * in, "16 in", "40.6 cm"},
		{48*in + in/2, "48 1/2 in", "1.23 m"},
		{8 * ft, "8 ft", "2.44 m"},
		{8*ft + 3*in + in/2, "8 ft 3 1/2 in", "2.53 m"},
		{95 * in, "7 ft 11 in", "2.41 m"},
		{71*in + in*31/32, "6 ft", "1.83 m"}, // rounds up to whole feet
		{999*mm + mm*9/10, "39 3/8 in", "1 m"},
		{-2 * in, "-2 in", "-51 mm"},
		{math.MinInt64, "-30,260,406,945 ft 3/4 in", "-9,223,372,036.85 m"},
	} {
		require.Equal(t, row.imperial, imperial().Length(row.l))
		require.Equal(t, row.metric, metric().Length(row.l))
	}
}

func TestReadingIsExact(t *testing.T) {
	const in, mm = measure.Inch, measure.Millimetre
	require.Equal(t, "48 3/64 in", imperial().Reading(48*in+in*3/64))
	require.Equal(t, "3600 in", imperial().Reading(300*measure.Foot))
	require.Equal(t, "4.15 in", imperial().Reading(in*415/100), "a slipped decimal stays legible as it was typed")
	require.Equal(t, "120.05 cm", metric().Reading(1200*mm+mm/2))
	require.Equal(t, "15 3/4 in", metric().ForTape(in/4).Reading(15*in+in*3/4))
	require.Equal(t, "120 cm", imperial().ForTape(5*mm).Reading(1200*mm))
}

func TestQuantity(t *testing.T) {
	const cord, foot = measure.Cord, measure.CubicFoot
	for _, row := range []struct {
		q                measure.Quantity
		imperial, metric string
	}{
		{measure.Quantity{Volume: cord, Basis: measure.Ranked}, "1 cord (128 ft³)", "3.62 m³ stacked"},
		{measure.Quantity{Volume: cord / 2, Basis: measure.Ranked}, "1/2 cord (64 ft³)", "1.81 m³ stacked"},
		{measure.Quantity{Volume: cord * 4 / 3, Basis: measure.Ranked}, "1 1/3 cords (171 ft³)", "4.83 m³ stacked"},
		{measure.Quantity{Volume: cord / 3 * 2, Basis: measure.Ranked}, "2/3 cord (85 ft³)", "2.42 m³ stacked"},
		{measure.Quantity{Volume: 1200 * cord, Basis: measure.Ranked}, "1200 cords (153,600 ft³)", "4,349.47 m³ stacked"},
		{measure.Quantity{Volume: 123_160_786 * (foot / 1_000_000), Basis: measure.Ranked}, "0.96 cord (123.2 ft³)", "3.49 m³ stacked"},
		{measure.Quantity{Volume: 180 * foot, Basis: measure.Loose}, "180 ft³ loose", "5.1 m³ loose"},
		{measure.Quantity{Volume: 20 * foot, Basis: measure.Container}, "20 ft³ in its container", "0.57 m³ in its container"},
	} {
		require.Equal(t, row.imperial, imperial().Quantity(row.q))
		require.Equal(t, row.metric, metric().Quantity(row.q))
	}
}

func TestVolumeAndCords(t *testing.T) {
	require.Equal(t, "4.8 ft³", imperial().Volume(measure.CubicFoot*48/10))
	require.Equal(t, "0.25 ft³", imperial().Volume(measure.CubicFoot/4))
	require.Equal(t, "0 ft³", imperial().Volume(-1))
	require.Equal(t, "0.007 m³", metric().Volume(measure.CubicFoot/4))
	require.Equal(t, "0.004 cord", imperial().Cords(measure.Cord/250))
	require.Equal(t, "1 cord", imperial().Cords(measure.Cord+measure.Cord/1000))
	require.Equal(t, "1.33 cords", imperial().Cords(measure.Cord*4/3))
}

func TestMoney(t *testing.T) {
	for _, row := range []struct {
		m    money.Money
		want string
	}{
		{money.Money{Minor: 28000, Currency: "USD"}, "$280.00"},
		{money.Money{Minor: 123456789, Currency: "USD"}, "$1,234,567.89"},
		{money.Money{Minor: -5, Currency: "EUR"}, "-€0.05"},
		{money.Money{Minor: 28000, Currency: "CAD"}, "CAD 280.00"},
		{money.Money{Minor: 28000, Currency: "JPY"}, "JPY 28,000"},
		{money.Money{}, "0.00"},
		{money.Money{Minor: math.MinInt64, Currency: "USD"}, "-$92,233,720,368,547,758.08"},
	} {
		require.Equal(t, row.want, imperial().Money(row.m))
	}
}

func TestDatesAndTimes(t *testing.T) {
	p := imperial()
	require.Equal(t, "9 March 2026", p.Date(act.Date{Year: 2026, Month: time.March, Day: 9}))
	require.Empty(t, p.Date(act.Date{}))
	at := time.Date(2026, 3, 9, 2, 5, 0, 0, time.UTC)
	require.Equal(t, "8 March 2026, 22:05 EDT", p.Time(at, "America/New_York"))
	require.Equal(t, "9 March 2026, 02:05 UTC", p.Time(at, "no such zone"))
}

func TestSayWordsArgumentsInTheReadersUnits(t *testing.T) {
	text := measure.Say("row %d is %s, %s in all; %s", 2, 8*measure.Foot,
		measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, measure.Say("95 % sure"))
	require.Equal(t, "row 2 is 8 ft, 1 cord (128 ft³) in all; 95 % sure", imperial().Say(text))
	require.Equal(t, "row 2 is 2.44 m, 3.62 m³ stacked in all; 95 % sure", metric().Say(text))
	require.Equal(t, "$5.00 on 9 March 2026", imperial().Say(measure.Say("%s on %s",
		money.Money{Minor: 500, Currency: "USD"}, act.Date{Year: 2026, Month: 3, Day: 9})))
	require.Empty(t, imperial().Say(measure.Text{}))
	require.Equal(t, "row 2", words.New("xx-no-such", act.Imperial).Say(measure.Say("row %d", 2)))
}

// example measures one of the worked examples of the model.
func example(t *testing.T, change func(doc map[string]any)) (stack.Tally, stack.Result) {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/example-short.json")
	require.NoError(t, err)
	var doc map[string]any
	require.NoError(t, json.Unmarshal(raw, &doc))
	change(doc)
	raw, err = json.Marshal(doc)
	require.NoError(t, err)
	tally, err := stack.ParseTally(raw)
	require.NoError(t, err)
	result, err := stack.Measure(tally)
	require.NoError(t, err)
	return tally, result
}

func set(key string, value any) func(map[string]any) {
	return func(doc map[string]any) { doc[key] = value }
}

func TestFinding(t *testing.T) {
	for _, row := range []struct {
		name             string
		change           func(map[string]any)
		imperial, metric string
	}{
		{"short", set("look", 1), "Short by 0.04 cord (4.8 ft³).", "Short by 0.14 m³."},
		{
			"can’t tell yet", set("sold", "0.97 cord"),
			"Can’t tell yet: 0.96 of 0.97 cord is here, and the readings can’t tell that from enough.",
			"Can’t tell yet: 3.49 of 3.52 m³ is here, and the readings can’t tell that from enough.",
		},
		{
			"so near that two decimals agree", set("sold", "0.9625 cord"),
			"Can’t tell yet: 0.9622 of 0.9625 cord is here, and the readings can’t tell that from enough.",
			"Can’t tell yet: 3.488 of 3.489 m³ is here, and the readings can’t tell that from enough.",
		},
		{
			"held back", func(doc map[string]any) { delete(doc, "apart") },
			"Can’t tell yet: 0.04 cord is missing by these readings, but nobody said whether any of this delivery is somewhere else.",
			"Can’t tell yet: 0.14 m³ is missing by these readings, but nobody said whether any of this delivery is somewhere else.",
		},
		{
			"no shortage found", set("sold", "0.95 cord"),
			"No shortage found: 0.96 of 0.95 cord is here; a shortage of up to 0.02 cord can’t be ruled out.", "No shortage found: 3.49 of 3.44 m³ is here; a shortage of up to 0.079 m³ can’t be ruled out.",
		},
		{
			"full", set("sold", "0.9 cord"),
			"Full: 0.96 of 0.9 cord is here.",
			"Full: 3.49 of 3.26 m³ is here.",
		},
		{"nothing sold", func(doc map[string]any) { delete(doc, "sold") }, "0.96 cord (123.2 ft³), give or take 0.04.", "3.49 m³ stacked, give or take 0.15."},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, r := example(t, row.change)
			require.Equal(t, row.imperial, imperial().Finding(r))
			require.Equal(t, row.metric, metric().Finding(r))
		})
	}
}

func TestFindingAcrossBases(t *testing.T) {
	_, r := example(t, set("sold", "190 cu ft loose"))
	require.Regexp(t, `^Can’t be told from a stack: 190 ft³ loose was sold, which is likely \S+ to \S+ ft³ stacked, and 123.2 ft³ is here\.$`, imperial().Finding(r))
	require.Len(t, imperial().Advice(stack.Seller, r), 1)
	require.Len(t, imperial().Advice(stack.Inspector, r), 1)
}

func TestAdvice(t *testing.T) {
	_, short := example(t, set("look", 1))
	_, open := example(t, set("sold", "0.97 cord"))
	_, full := example(t, set("sold", "0.9 cord"))
	p := imperial()
	require.Equal(t, []string{
		"Speak to the seller first, with the receipt and these readings.",
		"Keep this wood apart from other wood and burn none of it until it is settled.",
		"If you can’t agree, ask the weights and measures office of your county or state.",
	}, p.Advice(stack.Buyer, short))
	require.Equal(t, []string{
		"P = 0.0184: how often readings this low would come from a stack that holds all that is due, by this model. It is held against α = 0.05, of check 1.",
		"This is the result of this program’s model 2, not an official result: the procedure of your office decides.",
	}, p.Advice(stack.Inspector, short)[:2])
	require.Empty(t, p.Odds(full), "P stands beside no result that it doesn’t explain")
	require.Regexp(t, `^About 0.08 cord \(9.8 ft³\) more, stowed in the same rows, would make it full\.$`, p.Advice(stack.Seller, short)[0])
	require.Regexp(t, `^Measure five more pieces.* Give or take 0.04 cord`, p.Advice(stack.Buyer, open)[0])
	require.Equal(t, []string{"By these readings you have what was sold."}, p.Advice(stack.Buyer, full))
	require.Equal(t, []string{"By these readings nothing more is due."}, p.Advice(stack.Seller, full))
	require.Empty(t, p.Advice("", short))
	_, held := example(t, func(doc map[string]any) { delete(doc, "apart") })
	for _, party := range []stack.Party{stack.Buyer, stack.Seller, stack.Inspector} {
		require.Contains(t, p.Advice(party, held), "Say how much of this delivery is not in this stack, or that none is.")
	}
}

// The figures are those of the model's first worked example, computed apart from
// any Go code.
func TestAnswerJSON(t *testing.T) {
	tally, r := example(t, set("look", 1))
	raw, err := json.Marshal(imperial().Answer(tally, r))
	require.NoError(t, err)
	var got map[string]any
	require.NoError(t, json.Unmarshal(raw, &got))
	figure := func(path ...string) float64 {
		at := any(got)
		for _, step := range path {
			at = at.(map[string]any)[step]
		}
		return at.(float64)
	}
	require.InDelta(t, 123.160786, figure("volume", "cubic_feet"), 1e-6)
	require.InDelta(t, 0.9621936, figure("volume", "cord"), 1e-7)
	require.InDelta(t, 3.487525, figure("volume", "cubic_metres"), 1e-6)
	require.InDelta(t, 2.646746, figure("uncertainty", "standard_cubic_feet"), 1e-6)
	require.InDelta(t, 408.977, figure("uncertainty", "degrees_of_freedom"), 1e-3)
	require.InDelta(t, 1.965781, figure("uncertainty", "coverage_factor"), 1e-6)
	require.InDelta(t, 5.202924, figure("uncertainty", "expanded_cubic_feet"), 1e-6)
	require.InDelta(t, 5.202924/128, figure("uncertainty", "expanded_cord"), 1e-8)
	require.InDelta(t, 0.0183649, figure("finding", "probability"), 1e-7)
	require.InDelta(t, 123.160786-128, figure("finding", "margin_cubic_feet"), 1e-6)
	finding := got["finding"].(map[string]any)
	require.Equal(t, "short", finding["word"])
	require.Contains(t, finding, "cannot_rule_out_cubic_feet")
	require.Nil(t, finding["cannot_rule_out_cubic_feet"])
	require.NotEmpty(t, finding["why"])
	first := got["doubt"].([]any)[0].(map[string]any)
	require.Equal(t, "stowage", first["source"])
	require.InDelta(t, 2.053857, first["cubic_feet"], 1e-6)
	require.InDelta(t, 0.602, first["share"], 0.001)
	require.InDelta(t, 2.303559, figure("uncertainty", "against_shortage_cubic_feet"), 1e-6)
	require.Equal(t, []any{}, finding["held_back"])
	require.NotContains(t, first, "row")
}

func TestAnswerLeavesOutWhatIsNotThere(t *testing.T) {
	tally, r := example(t, func(doc map[string]any) { delete(doc, "sold") })
	r.Degrees = stack.Degrees(math.Inf(1))
	r.Next, r.Notes = nil, nil
	raw, err := json.Marshal(imperial().Answer(tally, r))
	require.NoError(t, err)
	require.NotContains(t, string(raw), `"finding"`)
	require.Contains(t, string(raw), `"degrees_of_freedom":null`)
	require.Contains(t, string(raw), `"next":[]`)
	require.Contains(t, string(raw), `"notes":[]`)
	tally, r = example(t, set("sold", "190 cu ft loose"))
	raw, err = json.Marshal(imperial().Answer(tally, r))
	require.NoError(t, err)
	require.Contains(t, string(raw), `"probability":null`)
}

func TestFaults(t *testing.T) {
	e := &measure.InputError{
		Field: "stack.rows[0].heights[2]", Code: "no-unit", Got: "48",
		Reason: measure.Say("it has no unit"), Accepts: measure.Say("a length such as %s", 48*measure.Inch),
	}
	require.Equal(t, "row 1, height 3: read “48”: it has no unit. Try a length such as 48 in", imperial().Sentence(e))
	require.Equal(t, words.ErrorJSON{
		Field: "stack.rows[0].heights[2]", Code: "no-unit", Read: "48", Wrong: "it has no unit", Accepted: "a length such as 48 in",
	}, imperial().InputError(e))
	for want, e := range map[string]*measure.InputError{
		"enter the customer's name":                                         {Code: "missing", Reason: measure.Say("nothing was filled in"), Accepts: measure.Say("the customer's name")},
		"say how long the pieces are, such as 16 in":                        {Code: "missing", Reason: measure.Say("nothing was filled in"), Accepts: measure.Say("how long the pieces are, such as 16 in")},
		"the row’s length is missing. Try a length up to 300 ft":            {Code: "missing", Reason: measure.Say("the row’s length is missing"), Accepts: measure.Say("a length up to 300 ft")},
		"stacked or loose? Try the same with “stacked” or “loose” after it": {Code: "basis-unsaid", Reason: measure.Say("stacked or loose?"), Accepts: measure.Say("the same with “stacked” or “loose” after it")},
		"it is later than today":                                            {Code: "future", Reason: measure.Say("it is later than today")},
	} {
		require.Equal(t, want, imperial().Sentence(e))
	}
	for path, want := range map[string]string{
		"stack": "the stack", "apart": "not in the stack", "stack.rows[3].ends[1].over": "row 4, end 2, run",
		"stack.pieces[9]": "piece 10", "customer_name": "customer_name", "stack.rows[x]": "stack.rows[x]",
	} {
		require.Equal(t, want, imperial().Place(path))
	}
}

func TestEverySourceIsSaidInPlainWords(t *testing.T) {
	p := imperial()
	sources := declaredSources(t)
	require.Contains(t, sources, stack.EndArea)
	for _, s := range sources {
		require.NotEqual(t, string(s), p.Source(s, 0), "the code is not for people")
	}
	require.Equal(t, "row 2: judging where the row ends", p.Source(stack.RowEnds, 2))
}

// declaredSources reads every stack.Source from where they are declared, so that
// none is forgotten.
func declaredSources(t *testing.T) []stack.Source {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "../../measure/stack/result.go", nil, 0)
	require.NoError(t, err)
	var all []stack.Source
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if kind, named := spec.Type.(*ast.Ident); !named || kind.Name != "Source" {
			return false
		}
		text, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
		require.NoError(t, err)
		all = append(all, stack.Source(text))
		return false
	})
	return all
}

// barred are the terms that model law bars (NIST Handbook 130, Method of Sale,
// section 2.4.4), with the trade's others of their kind.
var barred = regexp.MustCompile(`(?i)\b(face cords?|racks?|ricks?|piles?|truck ?loads?)\b`)

// Nobody's words may bring a barred term into an answer.
func TestNoAnswerHoldsABarredTerm(t *testing.T) {
	for _, sold := range []string{"3 face cords of 16 inch", "2 face cords of 16 inch"} {
		tally, r := example(t, set("sold", sold))
		for _, p := range []*words.Printer{imperial(), metric()} {
			raw, err := json.Marshal(p.Answer(tally, r))
			require.NoError(t, err)
			require.NotRegexp(t, barred, string(raw))
			require.NotRegexp(t, barred, p.Finding(r))
			for _, party := range []stack.Party{stack.Buyer, stack.Seller, stack.Inspector} {
				require.NotRegexp(t, barred, p.Advice(party, r))
			}
		}
	}
	require.Regexp(t, barred, "two Face Cords")
}

// A number of a paper is the same in a sentence as in the paper's head; money is read
// more easily in groups.
func TestOnlyMoneyIsGrouped(t *testing.T) {
	p := words.New("en", act.Imperial)
	require.Equal(t, "Receipt 12437 of 2026, 3 of 1000 pieces", p.Say(measure.Say("Receipt %d of %d, %d of %d pieces", 12437, 2026, 3, 1000)))
	require.Equal(t, "$12,437.05", p.Money(money.Money{Minor: 1243705, Currency: "USD"}))
}
