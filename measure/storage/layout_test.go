package storage_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

func request(v measure.Volume, kind storage.PlaceKind, width, depth, height measure.Length) storage.Request {
	return storage.Request{
		Volume: v, PieceLength: 16 * measure.Inch,
		Place: storage.Place{Kind: kind, Width: width, Depth: depth, Height: height},
	}
}

func find(t require.TestingT, r storage.Request) storage.Answer {
	a, err := storage.Find(r)
	require.NoError(t, err)
	return a
}

// One cord of 16 in pieces with its top at 4 ft, 44 in of wood on 4 in runners:
// 128 ft³ / (44 in × 16 in) is 26 ft 2.2 in of row, 27 whole inches up; arithmetic.
func TestFindAlongAWall(t *testing.T) {
	a := find(t, request(measure.Cord, storage.Wall, 40*measure.Foot, 6*measure.Foot, 0))
	require.True(t, a.Fits)
	require.Len(t, a.Layouts, 3)
	best := a.Layouts[0]
	assert.Equal(t, 1, best.Rows, "one row takes the least ground and dries best")
	assert.Equal(t, storage.Open, best.Drying)
	assert.Equal(t, 44*measure.Inch, best.Height)
	assert.Equal(t, 315*measure.Inch, best.RowLength)
	assert.Equal(t, 4*measure.Foot, best.Top)
	assert.True(t, best.Easy)
	assert.Equal(t, 20*measure.Inch, best.Depth, "gap 4, row 16")
	assert.Equal(t, []int{1, 2, 3}, []int{a.Layouts[0].Rows, a.Layouts[1].Rows, a.Layouts[2].Rows})
}

func TestFindToTheLastInch(t *testing.T) {
	// 315 in of row and 4 in for each brace: not an inch to spare.
	a := find(t, request(measure.Cord, storage.Wall, 323*measure.Inch, 20*measure.Inch, 0))
	require.True(t, a.Fits)
	require.Len(t, a.Layouts, 1)
	assert.Equal(t, 44*measure.Inch, a.Layouts[0].Height)

	less := find(t, request(measure.Cord, storage.Wall, 322*measure.Inch, 20*measure.Inch, 0))
	assert.False(t, less.Fits)
	assert.Equal(t, measure.Volume(314*44*16)*measure.CubicInch, less.Capacity, "one inch of row less")
	assert.Equal(t, measure.Cord-less.Capacity, less.Left())
	assert.Equal(t, less.Capacity, less.Layouts[0].Volume, "it shows how to stow what does fit")
}

// Free-standing: the shoulder and three piece lengths. Braced: higher, with the
// warning.
func TestBracedGoesHigherAndWarns(t *testing.T) {
	r := request(10*measure.Cord, storage.Alcove, 6*measure.Foot, 3*measure.Foot, 8*measure.Foot)
	free := find(t, r)
	assert.Equal(t, measure.Volume(64*44*16)*measure.CubicInch, free.Capacity)
	r.Place.Braced = true
	braced := find(t, r)
	assert.Equal(t, measure.Volume(64*84*16)*measure.CubicInch, braced.Capacity, "7 ft, well under the 8 ft clear")
	assert.Greater(t, len(braced.Cautions), len(free.Cautions))
	assert.Contains(t, sentences(braced.Cautions), "pushes harder on walls")
	assert.False(t, braced.Layouts[0].Easy)
	r.Volume = measure.Cord / 8 // 16 ft³: 27 × 64 in of face
	assert.True(t, find(t, r).Layouts[0].Easy, "low where it can be low, braced or not")
	r.Volume = 10 * measure.Cord
	r.Place.Height = 5 * measure.Foot
	assert.Equal(t, measure.Volume(3*24*48*16)*measure.CubicInch, find(t, r).Capacity, "three rows from front to back, twice as high as long")
	r.Place.Depth = 32 * measure.Inch
	assert.Equal(t, measure.Volume(64*50*16)*measure.CubicInch, find(t, r).Capacity, "60 in less 4 in of runner and 6 in of air: rows from front to back would be too short")
}

// Rows run from front to back where they stow it on less floor. In a shed 5 ft deep
// pieces of 24 in leave room for two rows along the back, or for rows of up to 48 in from
// front to back: 60 in less 4 in behind and 4 in for each brace; arithmetic.
func TestRowsRunFromFrontToBackWhereThatIsBetter(t *testing.T) {
	r := request(measure.Cord/2, storage.Shed, 9*measure.Foot, 5*measure.Foot, 7*measure.Foot)
	r.PieceLength = 24 * measure.Inch
	a := find(t, r)
	require.True(t, a.Fits)
	along, across := false, false
	for _, l := range a.Layouts {
		along, across = along || !l.Across, across || l.Across
	}
	assert.True(t, along && across, "both ways are shown")
	deep := request(measure.Cord/2, storage.Alcove, 4*measure.Foot, 10*measure.Foot, 7*measure.Foot)
	best := find(t, deep).Layouts[0]
	assert.True(t, best.Across, "a deep, narrow alcove")
	assert.Equal(t, 4*measure.Inch, best.SideGap)
	assert.Equal(t, storage.Slow, best.Drying)
	for _, k := range []storage.PlaceKind{storage.Wall, storage.Carport} {
		for _, l := range find(t, request(measure.Cord, k, 5*measure.Foot, 10*measure.Foot, 7*measure.Foot)).Layouts {
			assert.False(t, l.Across, "the way past it stays free: %s", k)
		}
	}
}

// A roof that slopes from 7 ft in front to 4 ft at the back over 4 ft of depth is
// 51 in up where the first row begins, 4 in from the back: 48 + 36 × 4/48; arithmetic.
func TestRoofSlopes(t *testing.T) {
	r := request(10*measure.Cord, storage.Shed, 8*measure.Foot, 4*measure.Foot, 7*measure.Foot)
	r.Place.Back = 4 * measure.Foot
	l := find(t, r).Layouts[0]
	assert.Equal(t, 51*measure.Inch, l.Clear)
	assert.Equal(t, []measure.Length{41 * measure.Inch, 44 * measure.Inch}, l.Heights, "less 4 in of runners and 6 in of air; the front row up to the shoulder")
	assert.Equal(t, 44*measure.Inch, l.Height)
	assert.Equal(t, measure.Length(6*measure.Inch), l.Air)
	// braced, the front row is under 48 + 36 × 24/48 = 66 in; 88 in long, 16 in deep
	r.Place.Braced = true
	a := find(t, r)
	assert.Equal(t, []measure.Length{41 * measure.Inch, 56 * measure.Inch}, a.Layouts[0].Heights)
	assert.Equal(t, (41+56)*88*16*measure.CubicInch, a.Capacity)
	r.Place.Braced = false
	r.Place.Back, r.Place.Height = 7*measure.Foot, 4*measure.Foot
	assert.Less(t, find(t, r).Layouts[0].Clear, 7*measure.Foot, "low in front is low over the front row")
}

// The kinds of place differ where they differ in life.
func TestPlacesDiffer(t *testing.T) {
	seen := map[string]storage.PlaceKind{}
	for _, k := range storage.PlaceKinds() {
		said := k.Facts().String()
		require.NotEmpty(t, said)
		assert.NotContains(t, seen, said)
		seen[said] = k
	}
	one := func(k storage.PlaceKind) storage.Layout {
		return find(t, request(measure.Cord/4, k, 12*measure.Foot, 28*measure.Inch, 7*measure.Foot)).Layouts[0]
	}
	assert.Equal(t, storage.Fair, one(storage.Alcove).Drying, "air hardly reaches the back of an alcove")
	assert.Equal(t, storage.Open, one(storage.Shed).Drying)
	assert.Zero(t, one(storage.Rack).WallGap)
	assert.Equal(t, 4*measure.Inch, one(storage.Porch).WallGap)
}

func TestShortPiecesAreStackedLow(t *testing.T) {
	r := request(measure.Cord/8, storage.Wall, 30*measure.Foot, 3*measure.Foot, 0)
	r.PieceLength = 12 * measure.Inch
	for _, l := range find(t, r).Layouts {
		assert.LessOrEqual(t, l.Height, 36*measure.Inch, "three piece lengths")
	}
}

// A request out of its bounds is refused at every field that is, and nothing is planned.
func TestRequestsOutOfBounds(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*storage.Request)
		fields []string
	}{
		"no wood":               {func(r *storage.Request) { r.Volume = 0 }, []string{"quantity"}},
		"no width":              {func(r *storage.Request) { r.Place.Width = 0 }, []string{"width"}},
		"a room for nothing":    {func(r *storage.Request) { r.Place.Depth = measure.Inch }, []string{"depth"}},
		"a back without a roof": {func(r *storage.Request) { r.Place.Back = 6 * measure.Foot }, []string{"height"}},
		"a low back":            {func(r *storage.Request) { r.Place.Height, r.Place.Back = 7*measure.Foot, measure.Inch }, []string{"back_height"}},
		"a shoulder in the sky": {func(r *storage.Request) { r.Shoulder = 6*measure.Foot + 1 }, []string{"shoulder"}},
		"two at once":           {func(r *storage.Request) { r.Place.Width, r.Place.Depth = 0, 0 }, []string{"width", "depth"}},
	} {
		r := request(measure.Cord, storage.Wall, 40*measure.Foot, 6*measure.Foot, 0)
		c.change(&r)
		a, err := storage.Find(r)
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, name)
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
			assert.NotEmpty(t, f.Accepts.Key, name)
		}
		assert.Equal(t, c.fields, fields, name)
		assert.Zero(t, a, name)
		all, err := storage.FindAll(r)
		require.ErrorAs(t, err, &faults, name)
		assert.Nil(t, all, name)
	}
	r := request(measure.Cord, storage.Wall, 40*measure.Foot, 6*measure.Foot, 0)
	r.Shoulder = 6 * measure.Foot
	assert.NotEmpty(t, find(t, r).Layouts, "the bound itself is taken")
}

func TestNothingFits(t *testing.T) {
	for name, row := range map[string]struct {
		width, depth, height measure.Length
		says                 string
	}{
		"too shallow": {8 * measure.Foot, 19 * measure.Inch, 8 * measure.Foot, "of depth"},
		"too low":     {8 * measure.Foot, 3 * measure.Foot, 12 * measure.Inch, ""},
	} {
		a := find(t, request(measure.Cord, storage.Alcove, row.width, row.depth, row.height))
		assert.False(t, a.Fits, name)
		if row.says != "" {
			assert.Empty(t, a.Layouts, name)
			assert.Zero(t, a.Capacity, name)
			assert.Contains(t, a.Tight.String(), row.says, name)
		}
	}
}

// A cord of green red oak presses about 160 psf on what it stands on at 4 ft, and
// about 110 at 20 % moisture: 64.0 and 44.1 lb/ft³ (USDA Forest Service Research
// Note NRS-38, 2009, with Wood Handbook FPL-GTR-282 eq. 4-13 and 4-14), 80 ft³
// solid in a cord. Published cord weights of 4 988 and 3 609 lb (University of
// Missouri Extension G5450) over 32 ft² give 156 and 113.
func TestRedOakPressure(t *testing.T) {
	oak := storage.Wood{
		Green: storage.Range[wood.Density]{Low: 64 * wood.PoundPerCubicFoot, High: 64 * wood.PoundPerCubicFoot},
		Dry:   storage.Range[wood.Density]{Low: 441 * wood.PoundPerCubicFoot / 10, High: 441 * wood.PoundPerCubicFoot / 10},
		Solid: storage.Range[measure.Volume]{Low: wood.SolidUsual, High: wood.SolidUsual},
	}
	psf := func(p storage.Pressure) float64 { return p.In(storage.PoundPerSquareFoot) }
	assert.InDelta(t, 160, psf(oak.GreenPressure(4*measure.Foot).Low), 0.01)
	assert.InDelta(t, 110, psf(oak.DryPressure(4*measure.Foot).Low), 0.3)
	assert.InDelta(t, 5120, oak.GreenWeight(measure.Cord).Low.In(wood.Pound), 0.01)
	assert.InDelta(t, 160*0.0478803, oak.GreenPressure(4*measure.Foot).Low.In(storage.Kilopascal), 0.01)

	r := request(measure.Cord, storage.Wall, 40*measure.Foot, 6*measure.Foot, 0)
	species, err := wood.ParseMixes("red oak")
	require.NoError(t, err)
	r.Species = species
	l := find(t, r).Layouts[0]
	at4 := func(p storage.Pressure) float64 { return psf(p) * 48 / l.Height.In(measure.Inch) }
	assert.InDelta(t, 140, at4(l.Green.Low), 1, "70 ft³ solid in a cord")
	assert.InDelta(t, 180, at4(l.Green.High), 1, "90 ft³")
	assert.InDelta(t, 110, at4((l.Dry.Low+l.Dry.High)/2), 1)

	heavy := storage.HeavyHardwood.Wood()
	for weight, got := range map[float64]storage.Range[wood.Mass]{4988: heavy.GreenWeight(measure.Cord), 3609: heavy.DryWeight(measure.Cord)} {
		assert.Less(t, got.Low.In(wood.Pound), weight)
		assert.Greater(t, got.High.In(wood.Pound), weight)
	}
}

// Published cord weights, green and at 20 %, lie inside the range of their kind:
// University of Missouri Extension G5450, as carried by others.
func TestCordWeightsAreInsideTheirRange(t *testing.T) {
	for _, row := range []struct {
		name       string
		kind       storage.WoodKind
		green, dry float64
	}{
		{"ash", storage.AnyWood, 3940, 3370}, {"basswood", storage.LightHardwood, 3360, 2100},
		{"cottonwood", storage.LightHardwood, 3920, 2304}, {"shagbark hickory", storage.HeavyHardwood, 4980, 4160},
		{"black locust", storage.HeavyHardwood, 4640, 4010}, {"silver maple", storage.LightHardwood, 3783, 2970},
		{"sugar maple", storage.HeavyHardwood, 4386, 3577}, {"white oak", storage.HeavyHardwood, 4942, 3863},
		{"shortleaf pine", storage.Softwood, 4120, 2713}, {"red cedar", storage.Softwood, 3260, 2700},
		{"osage orange", storage.AnyWood, 5480, 4380},
	} {
		w := row.kind.Wood()
		green, dry := w.GreenWeight(measure.Cord), w.DryWeight(measure.Cord)
		assert.Less(t, green.Low.In(wood.Pound), row.green, row.name)
		assert.Greater(t, green.High.In(wood.Pound), row.green, row.name)
		if row.name != "osage orange" { // no kind takes in the densest woods dry
			assert.Greater(t, dry.High.In(wood.Pound), row.dry, row.name)
		}
		assert.Less(t, dry.Low.In(wood.Pound), row.dry, row.name)
	}
}

func TestNoPlaceIsEverCalledSafe(t *testing.T) {
	for _, k := range storage.PlaceKinds() {
		r := request(measure.Cord, k, 20*measure.Foot, 6*measure.Foot, 8*measure.Foot)
		a := find(t, r)
		said := sentences(a.Cautions)
		assert.NotRegexp(t, `(?i)\bsafe|\bOK\b|strong enough`, said, k)
		assert.Contains(t, said, "ask a qualified person", k)
		assert.Contains(t, said, "local fire code", k)
		assert.Equal(t, k == storage.Shed || k == storage.Carport, strings.Contains(said, "snow load"), k)
	}
}

// Each place is told of what can go wrong there, and of nothing that can't.
func TestEachPlaceHasItsOwnCautions(t *testing.T) {
	const (
		leans  = "leave the gap behind it"
		joists = "ask a qualified person before wood stands on a porch or deck"
		decks  = "Wood decks stay wet"
		floors = "On any floor that is not ground"
		snow   = "local snow load"
		sill   = "A door or hatch near waist height"
		cover  = "Cover the top only"
	)
	all := []string{leans, joists, decks, floors, snow, sill, cover}
	for _, c := range []struct {
		kind   storage.PlaceKind
		height measure.Length
		want   []string
	}{
		{storage.Wall, 0, []string{leans, floors, cover}},
		{storage.Wall, 8 * measure.Foot, []string{leans, floors}}, // under eaves
		{storage.Porch, 8 * measure.Foot, []string{leans, joists, decks}},
		{storage.Porch, 0, []string{leans, joists, decks, cover}},
		{storage.Alcove, 8 * measure.Foot, []string{leans, floors, sill}},
		{storage.Carport, 8 * measure.Foot, []string{leans, floors, snow}},
		{storage.Shed, 8 * measure.Foot, []string{leans, floors, snow, sill}},
		{storage.Rack, 0, []string{floors, cover}},
	} {
		said := sentences(find(t, request(measure.Cord/4, c.kind, 20*measure.Foot, 6*measure.Foot, c.height)).Cautions)
		for _, caution := range all {
			assert.Equal(t, slices.Contains(c.want, caution), strings.Contains(said, caution), "%s, %s clear: %s", c.kind, c.height, caution)
		}
		for _, everywhere := range []string{"brace both ends", "local fire code", "Insects live in firewood"} {
			assert.Contains(t, said, everywhere, c.kind)
		}
	}
}

func sentences(texts []measure.Text) string {
	said := ""
	for _, t := range texts {
		said += t.String() + "\n"
	}
	return said
}

func TestPressureGrowsWithHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.SampledFrom(storage.WoodKinds()).Draw(t, "wood").Wood()
		low := measure.Length(rapid.Int64Range(int64(measure.Inch), int64(6*measure.Foot)).Draw(t, "height"))
		require.LessOrEqual(t, w.GreenPressure(low).High, w.GreenPressure(2*low).High)
		require.InEpsilon(t, 2*float64(w.DryPressure(low).High), float64(w.DryPressure(2*low).High), 1e-6)
		require.LessOrEqual(t, w.GreenWeight(measure.Cord).High, w.LoadWeight(measure.Cord), "a load is taken at the most")
	})
}

func TestTypedRequest(t *testing.T) {
	good := storage.Typed{Quantity: "1 1/2 cords", PieceLength: "16 in", Place: "alcove", Width: "6 ft", Depth: "3 ft", Height: "7 ft"}
	r, err := good.Read(storage.Units{})
	require.NoError(t, err)
	assert.Equal(t, 3*measure.Cord/2, r.Volume)
	assert.Equal(t, storage.Alcove, r.Place.Kind)

	bare := storage.Typed{Quantity: "180 cu ft loose", PieceLength: "16", Place: "wall", Width: "20", Depth: "4"}
	r, err = bare.Read(storage.Units{Long: measure.Foot, Small: measure.Inch})
	require.NoError(t, err)
	assert.Equal(t, 20*measure.Foot, r.Place.Width)
	assert.Equal(t, 180*measure.CubicFoot, r.Thrown)
	assert.InDelta(t, 129.6, r.Volume.In(measure.CubicFoot), 0.01, "at the most it makes, 0.72")

	for field, bad := range map[string]func(*storage.Typed){
		"quantity":     func(t *storage.Typed) { t.Quantity = "a truckload" },
		"piece_length": func(t *storage.Typed) { t.PieceLength = "16" },
		"place":        func(t *storage.Typed) { t.Place = "roof" },
		"width":        func(t *storage.Typed) { t.Width = "" },
		"depth":        func(t *storage.Typed) { t.Depth = "2 in" },
		"height":       func(t *storage.Typed) { t.Height = "" },
		"wood":         func(t *storage.Typed) { t.Wood = "iron" },
		"species":      func(t *storage.Typed) { t.Species = "moon rock" },
		"shoulder":     func(t *storage.Typed) { t.Shoulder = "9 ft" },
		"braced":       func(t *storage.Typed) { t.Braced = "maybe" },
	} {
		typed := good
		bad(&typed)
		_, err := typed.Read(storage.Units{})
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, field)
		require.Len(t, faults, 1, "%s: %v", field, faults)
		assert.Equal(t, field, faults[0].Field)
		assert.NotEmpty(t, faults[0].Accepts.Key, field)
	}
}
