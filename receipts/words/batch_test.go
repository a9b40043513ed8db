package words_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

func day(y int, m time.Month, d int) act.Date { return act.Date{Year: y, Month: m, Day: d} }

func oak(split act.Date) yard.Batch {
	return yard.Batch{
		BatchFacts: yard.BatchFacts{Name: "north bay", Species: "red oak", Split: split},
		PutUp:      measure.Quantity{Volume: 2 * measure.Cord, Basis: measure.Ranked},
		Left:       measure.Quantity{Volume: 2 * measure.Cord, Basis: measure.Ranked},
	}
}

// Red oak of 83 % dries in 6.4 to 12.7 months of a whole year: split in April the
// soonest takes one summer, the latest a year.
func TestABatchIsDryByABandOfMonths(t *testing.T) {
	p := words.New("en", act.Imperial)
	d := oak(day(2026, time.April, 1)).Drying()
	require.NotNil(t, d)
	require.InDelta(t, 6.4, d.Forecast.Soonest.Months(), 0.1)
	require.InDelta(t, 12.7, d.Forecast.Latest.Months(), 0.1)
	require.Equal(t, "Dry by about August 2026 to April 2027. A plan: then measure.", p.DryBy(d))
	require.Contains(t, p.DryingFrom(*d), "green wood, 83 % dry basis, split on 1 April 2026, to 20 % dry basis")
	require.Nil(t, oak(act.Date{}).Drying(), "the day of splitting is not known")
	require.Empty(t, p.DryBy(nil))
}

// Readings go before what the table says of green wood.
func TestABatchIsReckonedFromItsReadings(t *testing.T) {
	p := words.New("en", act.Imperial)
	set := func(text string, on act.Date) yard.Moisture {
		readings, err := wood.ParseReadings(text, wood.Reading{Method: wood.PinMeter, FreshFace: true}, wood.Dry)
		require.NoError(t, err)
		season, err := wood.Judge(readings, wood.ReadyToBurn())
		require.NoError(t, err)
		return yard.Moisture{BatchID: "b", Readings: readings, Season: season, By: "Wren", On: on}
	}
	b := oak(day(2026, time.April, 1))
	b.Moistures = []yard.Moisture{set("25\n26\n24\n25\n25", day(2026, time.August, 31))}
	d := b.Drying()
	require.True(t, d.Measured)
	require.Equal(t, "Dry by about October 2026. A plan: then measure.", p.DryBy(d))
	require.Equal(t, "at least 22.3 % dry basis", p.Bound(b.Moistures[0]))
	require.Equal(t, "Read on 31 August 2026: mean 25 % dry basis. Above 20 % dry basis, by these readings.", p.BatchDry(b))

	b.Moistures = append(b.Moistures, set("15\n16\n15\n16\n15", day(2026, time.October, 1)))
	require.Empty(t, p.DryBy(b.Drying()), "it is dry by its readings")
	require.Equal(t, "Moisture not read.", p.BatchDry(oak(act.Date{})))
}

func TestWhatIsInStockIsSaidStackedAndLooseApart(t *testing.T) {
	p := words.New("en", act.Imperial)
	loose, gone := oak(act.Date{}), oak(act.Date{})
	loose.Left = measure.Quantity{Volume: 180 * measure.CubicFoot, Basis: measure.Loose}
	gone.UsedUp = true
	require.Equal(t, "4 cords (512 ft³) and 180 ft³ loose left", p.InStock([]yard.Batch{oak(act.Date{}), loose, gone, oak(act.Date{})}))
	require.Equal(t, "Nothing left", p.InStock([]yard.Batch{gone}))
	require.Equal(t, "Used up", p.Left(gone))
}

func TestTheNotesOfABatchSayWhatWasAndIs(t *testing.T) {
	p := words.New("en", act.Imperial)
	b := oak(act.Date{})
	b.First, b.By, b.Created = b.BatchFacts, "Odell", time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC)
	now := b.First
	now.Split, now.Certificate = day(2026, time.April, 1), "HT-0417"
	b.Entries = []yard.BatchEntry{
		{Kind: yard.BatchCorrected, Facts: &now, On: day(2026, time.May, 2), Reason: "found in the diary", By: "Wren"},
		{Kind: yard.BatchRecounted, Left: measure.Cord * 5 / 2, On: day(2026, time.May, 3), Reason: "a row was missed", By: "Pim"},
		{Kind: yard.BatchUsedUp, On: day(2026, time.May, 4), Reason: "bark", By: "Pim"},
	}
	require.Equal(t, []words.BatchNote{
		{What: []string{"Put up: 2 cords (256 ft³)"}, Why: "Odell, 9 March 2026"},
		{What: []string{"Split: was not known, is 1 April 2026", "Heat-treatment certificate: was –, is HT-0417"}, Why: "found in the diary. Wren, 2 May 2026"},
		{What: []string{"Counted again: 2 1/2 cords (320 ft³) left"}, Why: "a row was missed. Pim, 3 May 2026"},
		{What: []string{"Used up"}, Why: "bark. Pim, 4 May 2026"},
	}, p.BatchNotes(b, "UTC"))
}
