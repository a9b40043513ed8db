package spoken

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/day"
)

// saturday is the day that the lines of the corpus were said on.
var saturday = act.Date{Year: 2026, Month: time.November, Day: 28}

// shops are whom the lines were said to.
var shops = map[string]About{
	"us":     {Today: saturday, Units: []string{"cords"}},
	"europe": {Today: saturday, Units: []string{"m³ stacked", "m³ loose"}, Points: true, AsksBasis: true},
	"maine":  {Today: saturday, Units: []string{"cords"}, LooseCords: true},
	"hauler": {Today: saturday, Units: []string{"cords"}, Beds: []Bed{redTruck}},
	"fleet":  {Today: saturday, Units: []string{"cords"}, Beds: []Bed{redTruck, {ID: "2", Name: "blue trailer", Line: "the top rail", Quantity: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}}}},
}

var redTruck = Bed{ID: "1", Name: "red truck", Line: "the lower board", Quantity: measure.Quantity{Volume: 5 * measure.Cord / 8, Basis: measure.Ranked}}

// A row is a line of the corpus: to which shop it was said, what is understood, and of one
// that is asked about or refused, why.
type row struct{ shop, said, understood, why string }

func corpus(t testing.TB) (rows []row) {
	content, err := os.ReadFile("testdata/lines.txt")
	require.NoError(t, err)
	for line := range strings.Lines(string(content)) {
		parts := strings.Split(strings.TrimSuffix(line, "\n"), " | ")
		if strings.HasPrefix(line, "#") || len(parts) < 3 {
			continue
		}
		r := row{shop: parts[0], said: parts[1], understood: parts[2]}
		if len(parts) > 3 {
			r.why = parts[3]
		}
		rows = append(rows, r)
	}
	return rows
}

// written is a line as the corpus writes what is understood.
func written(l Line) string {
	var all []string
	put := func(name, value string) {
		if value != "" {
			all = append(all, name+" "+value)
		}
	}
	put("much", l.Quantity)
	put("wood", l.Species)
	put("dry", l.Seasoning)
	if l.Piece != 0 {
		put("long", l.Piece.String())
	}
	put("split", string(l.Split))
	put("stacking", string(l.Stacking))
	put("day", l.Day.String())
	put("price", strings.TrimSpace(l.Price.Amount+map[bool]string{true: " each"}[l.Price.Each]))
	for _, note := range l.Notes {
		put("note", note)
	}
	for _, q := range l.Questions {
		put("ask", q.Field+":"+q.Code)
	}
	return strings.Join(all, "; ")
}

func TestLinesAreUnderstoodAsTheyWereMeant(t *testing.T) {
	rows := corpus(t)
	asked := 0
	for _, r := range rows {
		about, there := shops[r.shop]
		require.True(t, there, r.shop)
		l := Read(r.said, about)
		assert.Equal(t, r.understood, written(l), r.said)
		if len(l.Questions) > 0 {
			asked++
			assert.NotEmpty(t, r.why, "why is it asked: %s", r.said)
		}
	}
	assert.GreaterOrEqual(t, len(rows), 300)
	assert.GreaterOrEqual(t, asked, 100)
}

// Whatever is asked can be said aloud, and says what would do. Whoever presses an answer is
// not asked the same again.
func TestAnAnswerSettlesItsQuestion(t *testing.T) {
	for _, r := range corpus(t) {
		about := shops[r.shop]
		for _, q := range Read(r.said, about).Questions {
			require.NotEmpty(t, q.Reason.String(), r.said)
			require.NotEmpty(t, q.Accepts.String(), r.said)
			for _, c := range q.Choices {
				require.NotEmpty(t, c.Label.String(), r.said)
				require.Equal(t, "quantity", c.Field)
				for _, again := range Read(c.Value, about).Questions {
					assert.False(t, again.Field == q.Field && again.Code == q.Code && again.Got == q.Got, "%q: %s, answered %q", r.said, q.Reason, c.Value)
				}
			}
		}
	}
}

// What measure reads alone is read the same in a line, from measure's own table.
func TestQuantitiesAreThoseOfMeasure(t *testing.T) {
	content, err := os.ReadFile("../../measure/testdata/good.csv")
	require.NoError(t, err)
	seen := 0
	for line := range strings.Lines(string(content)) {
		text, _, ok := strings.Cut(line, ",quantity,")
		if !ok || strings.HasPrefix(text, `"`) {
			continue
		}
		want, err := measure.ParseQuantity(text)
		require.NoError(t, err)
		l := Read(text, shops["us"])
		got, err := measure.Terms{Piece: l.Piece, ReadBack: true}.ParseQuantity(l.Quantity)
		if assert.NoError(t, err, "%s: %s", text, written(l)) {
			assert.Equal(t, want.Quantity, got.Quantity, text)
		}
		seen++
	}
	assert.Greater(t, seen, 70)
}

// A day that is read alone is read the same at the end of a line, and one that is asked
// about is asked about there, from the table of days.
func TestDaysAreThoseOfDay(t *testing.T) {
	content, err := os.ReadFile("../day/testdata/days.csv")
	require.NoError(t, err)
	for line := range strings.Lines(string(content)) {
		said, want, found := strings.Cut(strings.TrimSuffix(line, "\n"), "|")
		if !found || strings.HasPrefix(line, "#") || said == "" {
			continue
		}
		l := Read("2 cords oak, "+said, shops["us"])
		if !strings.HasPrefix(want, "!") {
			assert.Equal(t, want, l.Day.String(), said)
			continue
		}
		_, err := day.Parse(said, saturday)
		var fault *measure.InputError
		require.True(t, errors.As(err, &fault))
		if slices.Contains(doubtful, fault.Code) {
			assert.True(t, l.Day.IsZero() && len(l.Questions) > 0, "%s: %s", said, written(l))
		}
	}
}

// whole fails unless each character of a line is in one part, but for marks that part
// words, and each part that wasn't understood is in the notes.
func whole(t *testing.T, line string, l Line) {
	t.Helper()
	at := 0
	for _, p := range l.Parts {
		require.LessOrEqual(t, at, p.From, line)
		require.Less(t, p.From, p.To, line)
		onlyMarks(t, line, line[at:p.From])
		at = p.To
		text := line[p.From:p.To]
		switch p.Kind {
		case Note:
			require.True(t, slices.ContainsFunc(l.Notes, func(n string) bool { return strings.Contains(n, text) }), "%q: “%s” isn’t in the notes %q", line, text, l.Notes)
		case Idle:
			for _, word := range strings.Fields(strings.ToLower(plain.Replace(text))) {
				word = strings.Trim(word, ".,;:()!?[]{}·…\"'-")
				require.True(t, word == "" || slices.Contains(again, word) || slices.Contains(idle, word), "%q: “%s” says something", line, word)
			}
		case "":
			require.Fail(t, "a part of no kind", "%q: %q", line, text)
		}
	}
	onlyMarks(t, line, line[at:])
}

// again are words that only say again what stands beside them.
var again = []string{"note", "notes", "long", "length", "lengths", "log", "logs", "stack", "row", "pile"}

func onlyMarks(t *testing.T, line, gap string) {
	t.Helper()
	for _, c := range gap {
		require.False(t, unicode.IsLetter(c) || unicode.IsNumber(c), "%q: %q is dropped", line, gap)
	}
}

func TestNothingTypedIsDropped(t *testing.T) {
	for _, r := range corpus(t) {
		l := Read(r.said, shops[r.shop])
		whole(t, r.said, l)
	}
}

// Whatever is typed: no panic, every word is understood, asked about or in the notes, and
// where nothing is asked measure can read how much it is.
func FuzzRead(f *testing.F) {
	for _, r := range corpus(f) {
		f.Add(r.said, r.shop == "europe")
	}
	f.Fuzz(func(t *testing.T, line string, europe bool) {
		about := shops["fleet"]
		if europe {
			about = shops["europe"]
		}
		l := Read(line, about)
		whole(t, line, l)
		if len(l.Questions) > 0 {
			for _, q := range l.Questions {
				if q.Reason.Key == "" || q.Accepts.Key == "" {
					t.Fatalf("%q: %+v", line, q)
				}
			}
			return
		}
		if _, err := (&reader{about: about}).terms().ParseQuantity(l.Quantity); err != nil {
			t.Fatalf("%q: %q: %v", line, l.Quantity, err)
		}
	})
}

func ExampleRead() {
	l := Read("2 cords seasoned oak 16 inch, split small, stacked, before Christmas, ring first", About{Today: saturday})
	fmt.Println(l.Quantity, "|", l.Species, "|", l.Seasoning, "|", l.Piece, "|", l.Split, "|", l.Stacking, "|", l.Day, "|", l.Notes)
	// Output: 2 cords | oak | seasoned | 16 in | small | yes | 28 November 2026 to 24 December 2026 | [ring first]
}
