package receipts

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
	"wellstowed/receipts/words"
	"wellstowed/testdata/fill"
)

// stacksMeasured are tallies of all kinds of stack, held against several quantities, so
// that all findings are among them, and against none.
func stacksMeasured() map[string]string {
	upright := `, "ends": [{"kind": "upright"}, {"kind": "upright"}]`
	plenty := strings.NewReplacer(`"95 in"`, `"120 in"`+upright, `"96 in"`, `"121 in"`+upright, `"96 1/2 in"`, `"122 in"`+upright).Replace(shortTally)
	docs := map[string]string{"short": shortTally, "unsettled": unsettledTally, "plenty": plenty}
	for _, kind := range kindsOnSheets() {
		for _, sold := range []string{"", "1/2 cord", "1 cord", "1 1/2 cords", "3 cords"} {
			head := `{"format":1,"apart":"none",`
			if sold != "" {
				head += `"sold":"` + sold + `",`
			}
			doc := head + `"stack":` + kind.doc + `}`
			if tally, err := stack.ParseTally([]byte(doc)); err == nil {
				_, err = stack.Measure(tally)
				if sold == "" || err == nil { // else it isn't sold by the cord
					docs[strings.TrimSpace(kind.name+" "+sold)] = doc
				}
			}
		}
	}
	return docs
}

// filledSheet is the sheet of a tally whose other facts have values of their own.
func filledSheet(t *testing.T, doc string, set orders.RuleSet, units act.Units, paper orders.Paper) orders.Sheet {
	measured := sampleSheet(t, paper, doc)
	return fill.Value(paperFiller(t), func(s *orders.Sheet) {
		s.RuleSet, s.Units, s.Paper, s.Language, s.Zone, s.Erased = set, units, paper, "en", "America/New_York", act.Date{}
		s.Pictures = [][]byte{picture(t, 60, 40)}
		s.Tally, s.Result = measured.Tally, measured.Result
		tally, err := readTally(s.Tally)
		require.NoError(t, err)
		procedure := procedure.Of(tally, procedure.Reckoning{})
		s.Procedure = &procedure
	})
}

// sheetMentions are what doesn't stand on a sheet once and in the usual words. Of a
// result all sentences do, and its figures are held by the sentences they stand in.
func sheetMentions(t *testing.T, print *words.Printer) map[string]mention {
	return map[string]mention{
		"Sheet.Format": never("the data’s"), "Sheet.Language": never("it is in it"), "Sheet.Paper": never("it is on it"),
		"Sheet.Units": never("it is in them"), "Sheet.Zone": never("instants are in it"), "Sheet.Layout": never("the data’s"),
		"Sheet.RuleSet": never("the receipt names it"), "Sheet.Previous": never("in the chain"), "Sheet.Model": never("the result’s stands"),
		"Sheet.Receipts": {says: func(v any) (texts []string) {
			for _, r := range v.([]orders.ReceiptRef) {
				texts = append(texts, print.ReceiptRef(r))
			}
			return texts
		}},
		"Sheet.Pictures": never("they are seen"), "Sheet.Photos.FromCamera": never("it goes with when"), "Sheet.Photos.TakenLocal": never("it goes with when"),
		"Sheet.Photos.Shows": {least: true, says: func(v any) []string { return []string{print.PhotoKind(v.(photos.Kind))} }},
		"Sheet.Tally":        {least: true, says: func(v any) []string { return readingsOf(t, print, v.(stack.Document)) }},
		"Sheet.Result":       sentences(), "Sheet.Procedure": sentences(), // on its working
	}
}

// readingsOf are the lengths that were read, as the tape shows them: every text in a
// tally's stack that is one.
func readingsOf(t *testing.T, print *words.Printer, doc stack.Document) (read []string) {
	tally, err := readTally(doc)
	require.NoError(t, err)
	tape := print.ForTape(tally.Tape)
	var stack any
	require.NoError(t, json.Unmarshal(doc.Stack, &stack))
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case string:
			if length, err := measure.ParseLength(v); err == nil {
				read = append(read, tape.Reading(length))
			}
		case []any:
			for _, e := range v {
				walk(e)
			}
		case map[string]any:
			for _, e := range v {
				walk(e)
			}
		}
	}
	walk(stack)
	return read
}

// Every fact of a measurement sheet stands on it once, and every reason on its working,
// whatever was measured and found, under all rule sets.
func TestEveryFactAndReasonStandsOnASheetOnce(t *testing.T) {
	p := plainPainter(t)
	used, found := map[string]bool{}, map[stack.Word]bool{}
	docs := stacksMeasured()
	n := 0
	for _, name := range slices.Sorted(maps.Keys(docs)) {
		doc := docs[name]
		check := func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) {
			s := filledSheet(t, doc, set, units, paper)
			if f := s.Result.Finding; f != nil {
				found[f.Word] = true
			}
			print := words.New("en", units).SoldIn(set.Unit)
			pdf, err := p.Sheet(s)
			require.NoError(t, err)
			of := fmt.Sprintf("%s under %s, %s", name, set.Code, units)
			mentions := sheetMentions(t, print)
			reasons := mentions["Sheet.Result"]
			mentions["Sheet.Result"], mentions["Sheet.Procedure"] = never("on its working"), never("on its working")
			consult(t, of, p, pdf, print, s.Zone, mentions, s, used)
			working, err := p.Working(s)
			require.NoError(t, err)
			consult(t, of+", working", p, working, print, s.Zone, map[string]mention{"Result": reasons}, s.Result, used)
			consult(t, of+", working", p, working, print, s.Zone, map[string]mention{"Result": reasons}, *s.Procedure, used)
		}
		underSome(t, n, check)
		underSome(t, n+23, check) // other rules, in other units
		n++
	}
	allUsed(t, sheetMentions(t, words.New("en", act.Imperial)), used)
	for _, word := range []stack.Word{stack.Short, stack.Unresolved, stack.Full, stack.Expected, stack.BelowExpected, stack.AboveExpected} {
		require.True(t, found[word], "nothing was found %s", word)
	}
}
