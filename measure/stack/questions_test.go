package stack

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// rowTally is one row of 16 in pieces, all readings ordinary, a third of a cord sold.
func rowTally(change func(*Row)) Tally {
	s := Rows{Pieces: Pieces{Sample: in(16, 15.5, 16.25, 15.75, 16.5)}, Rows: []Row{{Length: 8 * measure.Foot, Heights: in(48, 47, 48.5, 46.5, 47.5), Ends: upright()}}}
	change(&s.Rows[0])
	tally := carefully(s)
	return sellAs(tally, measure.Cord/3)
}

func asked(t *testing.T, tally Tally) []string {
	t.Helper()
	var all []string
	for _, q := range measured(t, tally).Questions {
		all = append(all, fmt.Sprintf("%s %s: %s", q.Code, q.Field, q.Text))
		assert.False(t, q.Confirmed)
	}
	return all
}

// What is hardly meant is asked about, with what it is and what it would be in the
// other unit; what is ordinary is not.
func TestQuestions(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Row)
		want   []string
	}{
		"ordinary":            {func(*Row) {}, nil},
		"96 ft for 96 in":     {func(r *Row) { r.Length = 96 * measure.Foot }, []string{"volume-above stack: ", "row-long stack.rows[0].length: Row 1 is 96 ft long. Is that right? In the other unit it would be 8 ft."}},
		"8 in for 8 ft":       {func(r *Row) { r.Length = 8 * measure.Inch }, []string{"volume-below stack: ", "row-short stack.rows[0].length: Row 1 is 8 in long. Is that right? In the other unit it would be 8 ft."}},
		"40 ft is a long row": {func(r *Row) { r.Length = 40 * measure.Foot }, []string{"volume-above stack: "}},
		"heights in feet":     {func(r *Row) { r.Heights = in(4, 4, 4) }, []string{"volume-below stack: ", "all-low stack.rows[0].heights[0]: Every height of row 1 is low, the first 4 in. Is that right? In the other unit it would be 4 ft."}},
		"one height in feet": {func(r *Row) { r.Heights[1] = 16 * measure.Foot }, []string{
			"row-high stack.rows[0].heights[1]: Height 2 of row 1 is 16 ft. Is that right? In the other unit it would be 16 in.",
			"stray stack.rows[0].heights[1]: Height 2 of row 1 is 16 ft, where the others are about 4 ft. Is that right?"}},
		"4.75 in for 47.5 in": {func(r *Row) { r.Heights[3] = 475 * measure.Inch / 100 }, []string{"stray stack.rows[0].heights[3]: Height 4 of row 1 is 4 3/4 in, where the others are about 4 ft. Is that right?"}},
		"48 cm among inches":  {func(r *Row) { r.Heights[3] = 48 * measure.Centimetre }, []string{"stray stack.rows[0].heights[3]: Height 4 of row 1 is 48 cm, where the others are about 4 ft. Is that right? In the other unit it would be 4 ft."}},
		"a slope of 20 in":    {func(r *Row) { r.Heights = in(38, 43, 48, 53, 58) }, nil},
		"a piece of 5 ft": {func(r *Row) { r.Pieces.Sample = in(16, 60, 15.5, 16, 16.5) }, []string{
			"piece-long stack.rows[0].pieces[1]: Piece 2 is 5 ft long. Is that right? In the other unit it would be 5 in.",
			"stray stack.rows[0].pieces[1]: Piece 2 is 5 ft, where the others are about 16 in. Is that right?"}},
		"a back face in feet": {func(r *Row) { r.Back = in(4, 4, 4, 4, 4) }, []string{"all-low stack.rows[0].back[0]: Every height of back of row 1 is low, the first 4 in. Is that right? In the other unit it would be 4 ft."}},
	} {
		got := asked(t, rowTally(c.change))
		require.Len(t, got, len(c.want), "%s: %q", name, got)
		for i := range got {
			assert.Contains(t, got[i], c.want[i], name)
		}
	}
}

// A question that was answered stays with its answer until the reading is another.
func TestQuestionsAreAnswered(t *testing.T) {
	tally := rowTally(func(r *Row) { r.Length = 45 * measure.Foot })
	r := measured(t, tally)
	require.Len(t, r.Questions, 2)
	assert.True(t, r.Asks())
	for _, q := range r.Questions {
		tally.Confirmed = append(tally.Confirmed, q.Key)
	}
	r = measured(t, tally)
	require.Len(t, r.Questions, 2)
	assert.True(t, r.Questions[0].Confirmed && r.Questions[1].Confirmed)
	assert.False(t, r.Asks())
	tally.Stack.(Rows).Rows[0].Length = 46 * measure.Foot
	r = measured(t, tally)
	assert.True(t, r.Asks(), "another reading is asked about again")
	assert.False(t, r.Questions[1].Confirmed)
}

// Where nothing compares the volume is held against what is expected.
func TestQuestionsAboutTheVolumeAcrossBases(t *testing.T) {
	tally := loadTally() // 66.7 ft³ thrown
	for sold, want := range map[measure.Volume]int{60 * measure.CubicFoot: 0, 30 * measure.CubicFoot: 0, 15 * measure.CubicFoot: 1, 2 * measure.Cord: 1} {
		tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: sold, Basis: measure.Ranked}}
		assert.Len(t, measured(t, tally).Questions, want, "%v ft³", sold.In(measure.CubicFoot))
	}
}

// Every kind asks about its readings.
func TestEveryKindAsks(t *testing.T) {
	long := 50 * measure.Foot
	box := Box{Length: long, Width: 5 * measure.Foot, Heights: in(4, 4, 4)}
	for name, s := range map[string]Stack{
		"load": Load{Arrangement: measure.Loose, Box: box}, "bin": Bin{Arrangement: measure.Container, Box: box},
		"line":    Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Box: box}},
		"grid":    Load{Arrangement: measure.Loose, Box: Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot}, Grid: [][]measure.Length{in(4, 4), in(4, 5)}},
		"heap":    Heap{Shape: RidgeHeap, Length: long, Width: 8 * measure.Foot, Height: 4 * measure.Foot},
		"round":   Round{Diameters: []measure.Length{long}, Heights: in(60)},
		"package": Packaged{Method: Bundled, Ends: [2]Traced{{473, measure.Inch}, {473, measure.Inch}}, Pieces: Pieces{Sample: in(16, 16, 16, 16, 60)}},
	} {
		r := measured(t, carefully(s))
		require.NotEmpty(t, r.Questions, name)
		for _, q := range r.Questions {
			assert.Contains(t, q.Field, "stack.", name)
			assert.NotContains(t, q.Text.String(), "%", name)
		}
		assert.Positive(t, r.Questions[0].InOther, name)
	}
}
