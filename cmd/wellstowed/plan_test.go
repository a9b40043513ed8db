package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pickup is a cord in a light pickup, as flags.
func pickup(more ...string) []string {
	return append([]string{"trips", "--quantity", "1 cord", "--wood", "heavy", "--bed-length", "8 ft", "--bed-width", "5 ft", "--bed-sides", "20 in"}, more...)
}

func TestTrips(t *testing.T) {
	r := program(t, "", pickup("--placard", "1500 lb", "--people", "180 lb")...)
	require.Equal(t, exitDone, r.code, r.err)
	// 68 lb/ft³ × 90 ft³ × 1.15 is 7 038 lb a cord; 7 038 / 1 320 is 5.33, so 6.
	assert.Contains(t, r.out, "6 trips: weight decides.\n")
	assert.Contains(t, r.out, "1,320 lb of wood may be carried, by the placard")
	assert.Contains(t, r.out, "your state’s law")
	assert.Contains(t, program(t, "", pickup("--placard", "1500 lb", "--people", "180 lb", "--units", "metric")...).out, "600 kg")
}

func TestTripsOfAMixedLoad(t *testing.T) {
	r := program(t, "", pickup("--species", "red oak 60 %; sugar maple 40 %", "--gross", "26000 lb", "--registered", "24000 lb", "--scale", "20000 lb", "--json")...)
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Trips    int
		ByWeight int    `json:"by_weight"`
		Limit    string `json:"limit"`
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	// 0.6 × 64 + 0.4 × 55 lb/ft³ is 60.4; × 90 ft³ × 1.15 is 6 251 lb a cord, in loads
	// of 4 000 lb: 2.
	assert.Equal(t, 2, got.ByWeight)
	assert.Equal(t, "registered gross weight", got.Limit)
}

func TestTripsNeverGuesses(t *testing.T) {
	r := program(t, "", pickup()...)
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.err, "--placard: what the vehicle may carry is not said, and is never guessed")
	r = program(t, "", pickup("--placard", "1500 lb", "--people", "180 lb", "--bed-length", "long", "--json")...)
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.out, `"--bed-length"`)
}

// Three cords that are to be dry by October are stacked by January, give or take a few
// weeks: common practice, no source.
func TestWinterByAMonth(t *testing.T) {
	r := program(t, "", "winter", "--fuel", "wood", "--amount", "3", "--wood", "heavy", "--burn-by", "October 2028")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "About 3 cords (384 ft³) for the winter.\n")
	assert.Regexp(t, `To burn well by October 2028, stack it by ((early|late) |mid-)January 2028|(late December 2027|early February 2028);`, r.out)
	assert.Contains(t, r.out, "common practice, no source")

	r = program(t, "", "winter", "--fuel", "oil", "--amount", "600", "--species", "oak", "--json")
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Cords struct{ Low, High float64 }
		Burns struct {
			Months struct{ Low, Mid, High float64 }
		} `json:"burns_well"`
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	assert.Less(t, got.Cords.Low, got.Cords.High)
	assert.Greater(t, got.Burns.Months.High, got.Burns.Months.Low)
	bad := program(t, "", "winter", "--fuel", "oil", "--amount", "600", "--burn-by", "when cold")
	assert.Equal(t, exitRefused, bad.code)
	assert.Contains(t, bad.err, "--burn-by: read “when cold”")
}

func TestStorageGoesOnToTheNextPlace(t *testing.T) {
	r := program(t, "", "storage", "--quantity", "1 1/2 cords", "--species", "oak", "--place", "alcove", "--width", "6 ft", "--depth", "3 ft", "--height", "7 ft",
		"--stacked", "2026-11-25", "--then-place", "porch", "--then-width", "20 ft", "--then-depth", "6 ft")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "1 1/2 cords (192 ft³) finds room: 0.2 cord (26.1 ft³) in an alcove, 1.3 cords (165.9 ft³) on a porch or deck.\nIt weighs ")
	assert.Regexp(t, `It burns well from about (early|late) \w+ 2027|It burns well from about mid-\w+ 2027`, r.out)
	assert.Equal(t, exitRefused, program(t, "", "storage", "--quantity", "1 cord", "--width", "40 ft", "--depth", "4 ft", "--then-place", "porch").code)
}

// The planning verbs read quantities as the rules of a sale take them, as measure does.
func TestPlansGoByTheRulesOfSale(t *testing.T) {
	verbs := map[string][]string{
		"storage": {"storage", "--place", "wall", "--width", "60 ft", "--depth", "8 ft", "--quantity"},
		"trips":   pickup("--placard", "1500 lb", "--people", "180 lb", "--quantity"),
		"wood":    {"wood", "red oak", "--moisture", "20% dry", "--quantity"},
		"winter":  {"winter", "--fuel", "wood", "--amount"},
	}
	for _, row := range []struct{ code, quantity, refused string }{
		{"", "1 cord", ""},
		{"us-model", "1 cord", ""},
		{"minnesota", "1 cord", "how is the wood prepared?"}, // Minnesota Statutes, section 239.33
		{"minnesota", "1 cord sawed and split", ""},
		{"europe", "3.6 m³", "stacked or loose?"},
		{"europe", "3.6 m³ stacked", ""},
		{"europe", "1.234 m³ stacked", "1.234 may be 1234 or 1.234"},
		{"us-model", "2 loose cords", "loose cord"},
	} {
		for verb, args := range verbs {
			under := []string{"--under", row.code}
			if row.code == "" {
				under = nil
			}
			r := program(t, "", append(append([]string{}, append(args, row.quantity)...), under...)...)
			if row.refused == "" {
				assert.Equal(t, exitDone, r.code, "%s of %s under %s: %s", verb, row.quantity, row.code, r.err)
				continue
			}
			assert.Equal(t, exitRefused, r.code, "%s of %s under %s", verb, row.quantity, row.code)
			assert.Contains(t, r.err, row.refused, "%s of %s under %s", verb, row.quantity, row.code)
		}
	}
	// Minnesota Statutes, section 239.33: 120 cubic feet, ranked, of sawed and split wood.
	assert.Contains(t, program(t, "", append(verbs["winter"], "4 cords sawed and split", "--under", "minnesota")...).out, "480 ft³ stacked")
	asked := program(t, "", append(verbs["winter"], "4", "--under", "minnesota")...)
	assert.Contains(t, asked.err, "read “4”: how is the wood prepared?")
}

func TestStorageTakesWhatTheQuantitySaysOfTheWood(t *testing.T) {
	place := []string{"storage", "--place", "wall", "--width", "60 ft", "--depth", "8 ft"}
	said := program(t, "", append(place, "--quantity", "1 cord of red oak")...)
	named := program(t, "", append(place, "--quantity", "1 cord", "--species", "red oak")...)
	require.Equal(t, exitDone, said.code, said.err)
	assert.Equal(t, named.out, said.out)
	for _, more := range [][]string{{"--quantity", "1 cord of red oak", "--species", "beech"}, {"--quantity", "1 cord, 24 in"}} {
		assert.Equal(t, exitRefused, program(t, "", append(place, more...)...).code, more)
	}
}
