package live

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
)

// OddHeights names the heights of a row that are less than half or more than twice the
// middle one of that row, such as one with its decimal point slipped. They are counted
// all the same: it is a reason to look again.
func OddHeights(print *words.Printer, t stack.Tally) []string {
	rows, ok := t.Stack.(stack.Rows)
	if !ok {
		return nil
	}
	tape := print.ForTape(t.Tape)
	var odd []string
	for r, row := range rows.Rows {
		if len(row.Heights) < 3 || row.Photo != nil {
			continue
		}
		sorted := slices.Sorted(slices.Values(row.Heights))
		middle := sorted[len(sorted)/2]
		for i, h := range row.Heights {
			if 2*h < middle || h > 2*middle {
				odd = append(odd, print.Say(measure.Say("Look again at row %d, height %d: %s, where the row is about %s high.", r+1, i+1, tape.Reading(h), tape.Reading(middle))))
			}
		}
	}
	return odd
}
