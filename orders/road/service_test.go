package road_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/orders/yard"
)

// A plain printer prints nothing; its font has all letters but Greek.
type plain struct{ orders.Printer }

func (plain) Layout() int { return 1 }

func (plain) Receipt(orders.Receipt, string) ([]byte, error) { return []byte("a receipt"), nil }

func (plain) Printable(text string) (missing []rune) {
	for _, r := range text {
		if r >= 0x370 && r < 0x400 {
			missing = append(missing, r)
		}
	}
	return missing
}

var (
	owner   = act.Actor{Person: "Odell", Role: act.Owner}
	driver  = act.Actor{Person: "Wren", Role: act.Driver}
	auditor = act.Actor{Person: "Pim", Role: act.Auditor}
	friday  = act.Date{Year: 2026, Month: 11, Day: 27}
	day     = act.Date{Year: 2026, Month: 11, Day: 28}
)

// A lot is a shop on a database file of its own; its clock stands on a Friday.
type lot struct {
	*testing.T
	shop *orders.Service
	road *road.Service
	now  time.Time
}

func newLot(t *testing.T) *lot {
	t.Helper()
	l := &lot{T: t, now: time.Date(2026, 11, 27, 15, 0, 0, 0, time.UTC)}
	db, err := store.Open(t.Context(), servertest.Path(t))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	clock := func() time.Time { return l.now }
	l.shop, l.road = orders.New(db, plain{}, clock), road.New(db.Road(), plain{}, clock)
	_, err = l.shop.ChangeShop(l.Context(), l.by(owner), orders.ShopRequest{
		Name: "Alder Bend Firewood", Address: "2 Kiln Road\nAlder Bend", Currency: "USD", Zone: "America/New_York",
		Paper: "letter", Units: "imperial", RuleSet: "us-model", Version: 1,
	})
	require.NoError(t, err)
	return l
}

func (l *lot) by(who act.Actor) act.Act {
	return act.Act{Actor: who, Request: uuid.Must(uuid.NewV7()).String()}
}

// order takes an order for a customer who lives east of the yard by some thousandths of a degree;
// nowhere known for 0.
func (l *lot) order(name, quantity, when string, east int) orders.Order {
	l.Helper()
	r := orders.OrderRequest{CustomerName: name, CustomerAddress: "1 Ferry Lane\nAlder Bend", Quantity: quantity, Species: "Red oak",
		PieceLength: "16 in", Seasoning: "seasoned", PricePerCord: "300", Day: when}
	back, err := l.shop.ReadBack(l.Context(), owner, r)
	require.NoError(l, err)
	r.Confirmed = back.Confirm
	o, err := l.shop.TakeOrder(l.Context(), l.by(owner), r)
	require.NoError(l, err)
	record, _, err := l.shop.Customers.Show(l.Context(), owner, o.Customer.Record)
	require.NoError(l, err)
	kept := record.Typed()
	kept.Access = "Gate of " + name
	if east != 0 {
		kept.Place = "44.0000, " + decimal(-72_000+east)
	}
	_, err = l.shop.Customers.Change(l.Context(), l.by(owner), record.ID, kept)
	require.NoError(l, err)
	return o
}

// decimal writes thousandths.
func decimal(thousandths int) string {
	return strings.TrimSuffix(measure.Say("%.3f", float64(thousandths)/1000).String(), "0")
}

// vehicle keeps a truck whose bed of 8 by 8 ft is filled ranked to 4 ft: two cords, less what
// whole rows lose.
func (l *lot) vehicle(name, height, gross string) road.Vehicle {
	l.Helper()
	bed, err := l.shop.AddBody(l.Context(), l.by(owner), yard.BodyRequest{Name: name, Line: "top", Arrangement: "ranked", Length: "8 ft", Width: "8 ft", Height: height})
	require.NoError(l, err)
	v, err := l.road.AddVehicle(l.Context(), l.by(owner), road.VehicleRequest{Name: name, Bed: bed.ID,
		TypedLimit: storage.TypedLimit{Gross: gross, Scale: "10000 lb"}})
	require.NoError(l, err)
	return v
}

func (l *lot) arrange(r road.ArrangeRequest) road.Day {
	l.Helper()
	d, err := l.road.Arrange(l.Context(), l.by(owner), day, r)
	require.NoError(l, err)
	return d
}

// stops are the customers of each trip, in order, after the vehicle's name.
func stops(d road.Day) (trips []string) {
	for _, t := range d.Trips {
		line := t.Vehicle.Name + ":"
		for _, drop := range t.Drops {
			line += " " + drop.Order.Customer.Name
		}
		trips = append(trips, line)
	}
	return trips
}

func names(drops []road.Drop) (all []string) {
	for _, d := range drops {
		all = append(all, d.Order.Customer.Name)
	}
	return all
}

// Five stops in a line to the east, and two trucks of two cords each: what is far goes together.
func TestASaturdayOfFiveStopsWithTwoVehicles(t *testing.T) {
	l := newLot(t)
	_, err := l.road.SetYard(t.Context(), l.by(owner), road.YardRequest{Place: "44.0, -72.0", Version: 1})
	require.NoError(t, err)
	red, blue := l.vehicle("red truck", "4 ft", "24000 lb"), l.vehicle("blue truck", "4 ft", "24000 lb")
	l.order("Near", "1/2 cord", "28 November 2026, afternoon", 10)
	l.order("Far", "1/2 cord", "28 November 2026", 100)
	l.order("Farther", "1 cord", "28 November 2026", 110)
	l.order("Mid", "3/4 cord", "28 November 2026, morning", 20)
	l.order("Next", "1/2 cord", "28 November 2026", 30)
	l.order("Monday", "1 cord", "30 November 2026", 15)
	any := l.order("Anyday", "1/8 cord", "27 November 2026 to 4 December 2026", 12)
	l.order("Open", "1 cord", "", 12)

	before, err := l.road.Day(t.Context(), owner, day)
	require.NoError(t, err)
	assert.Equal(t, []string{"Mid", "Near", "Far", "Farther", "Next"}, names(before.Waiting), "by hour, then as they were taken")
	assert.Equal(t, []string{"Anyday"}, names(before.Along))

	d := l.arrange(road.ArrangeRequest{Vehicles: []string{red.ID, blue.ID}, Along: []string{any.ID}})
	require.True(t, d.Proven)
	require.Len(t, d.Trips, 2)
	assert.Empty(t, d.Waiting)
	assert.Empty(t, d.Along)
	far, near := d.Trips[0], d.Trips[1]
	if far.Way < near.Way {
		far, near = near, far
	}
	assert.ElementsMatch(t, []string{"Far", "Farther", "Next"}, names(far.Drops), "what is on the way goes along")
	assert.ElementsMatch(t, []string{"Mid", "Anyday", "Near"}, names(near.Drops))
	assert.Less(t, slices.Index(names(near.Drops), "Mid"), slices.Index(names(near.Drops), "Near"), "a morning comes before an afternoon")
	// one degree of longitude at 44° north is 80.0 km on a sphere of 6371 km: arithmetic
	assert.InDelta(t, 2*0.110*111.195*0.71934, far.Way.In(1000*measure.Metre), 0.02)
	assert.Equal(t, names(near.Drops)[0], names(near.Loading())[2], "first out is loaded last")
	for _, trip := range d.Trips {
		assert.False(t, trip.Over())
		for _, drop := range trip.Drops {
			assert.Equal(t, "Gate of "+drop.Order.Customer.Name, drop.Access)
			assert.Equal(t, drop.Order.Price.Total(), drop.Collect)
		}
	}
}

// Three cords on a truck that holds less than two and may carry less than one.
func TestAnOrderTooLargeIsPartedByWeight(t *testing.T) {
	l := newLot(t)
	light := l.vehicle("light truck", "4 ft", "15000 lb")
	o := l.order("Ada", "3 cords", "28 November 2026", 0)
	d := l.arrange(road.ArrangeRequest{Vehicles: []string{light.ID}})
	var sum measure.Volume
	for i, trip := range d.Trips {
		require.Len(t, trip.Drops, 1)
		assert.LessOrEqual(t, trip.Weight, 5000*wood.Pound)
		drop := trip.Drops[0]
		sum += drop.Wood.Volume
		if i < len(d.Trips)-1 {
			assert.Zero(t, drop.Collect.Minor)
			assert.Equal(t, len(d.Trips), drop.With, "what is paid is paid with the last")
			continue
		}
		assert.Equal(t, o.Price.Total(), drop.Collect)
	}
	assert.Equal(t, o.Quantity.Volume, sum)
	// red oak at 30 % with bark and snow: more than three times 5 000 lb for 3 cords, less than four
	assert.GreaterOrEqual(t, len(d.Trips), 3)
	assert.LessOrEqual(t, len(d.Trips), 4)
	assert.Equal(t, 1, d.Trips[0].Unplaced)
}

func TestWhatIsPlannedByHandStaysAndTooMuchIsAskedAbout(t *testing.T) {
	l := newLot(t)
	red := l.vehicle("red truck", "4 ft", "24000 lb")
	a, b := l.order("Ada", "1 cord", "28 November 2026", 10), l.order("Bram", "1 1/4 cords", "28 November 2026", 20)
	d := l.arrange(road.ArrangeRequest{Vehicles: []string{red.ID}})
	require.Len(t, d.Trips, 2)
	r := road.ChangeRequest{Version: d.Version, Drivers: []road.DriverRequest{{Vehicle: red.ID, Driver: "Wren"}},
		Stops: []road.StopRequest{{Order: a.ID, Trip: red.ID + " 1", Place: "2"}, {Order: b.ID, Trip: red.ID + " 1", Place: "1"}}}
	_, err := l.road.Change(t.Context(), l.by(owner), day, r)
	var asked *act.Error
	require.ErrorAs(t, err, &asked)
	require.Len(t, asked.Fields, 1)
	require.Equal(t, "confirmed", asked.Fields[0].Field)
	assert.Contains(t, asked.Fields[0].Reason.String(), "fuller than the line")
	r.Confirmed = asked.Fields[0].Accepts.String()
	d, err = l.road.Change(t.Context(), l.by(owner), day, r)
	require.NoError(t, err)
	assert.Equal(t, []string{"red truck: Bram Ada"}, stops(d))
	assert.True(t, d.ByHand)
	assert.True(t, d.Trips[0].Over())
	_, err = l.road.Change(t.Context(), l.by(owner), day, r)
	assert.Equal(t, act.Conflict, act.KindOf(err), "the version was another's")
	r.Version, r.Stops = d.Version, []road.StopRequest{{Order: b.ID, Trip: red.ID + " 1", Nanolitres: int64(measure.Cord)}, {Order: b.ID, Trip: red.ID + " 2", Nanolitres: int64(measure.Cord)}}
	_, err = l.road.Change(t.Context(), l.by(owner), day, r)
	require.ErrorAs(t, err, &asked)
	assert.Equal(t, "too-much", asked.Fields[0].Code)
	r.Stops = r.Stops[:1]
	d, err = l.road.Change(t.Context(), l.by(owner), day, r)
	require.NoError(t, err)
	assert.Equal(t, []string{"Ada", "Bram"}, names(d.Waiting), "Ada’s order, and what is left of Bram’s")
	assert.Equal(t, measure.Cord/4, d.Waiting[1].Wood.Volume)
}

// Two loads of one order that are as large: one is loaded, and stays the only one.
func TestOfTwoLoadsAlikeTheLoadedOneStaysLoaded(t *testing.T) {
	l := newLot(t)
	red := l.vehicle("red truck", "4 ft", "24000 lb")
	a := l.order("Ada", "2 cords", "28 November 2026", 10)
	cord := int64(measure.Cord)
	r := road.ChangeRequest{Stops: []road.StopRequest{{Order: a.ID, Nanolitres: cord, Trip: red.ID + " 1"}, {Order: a.ID, Nanolitres: cord, Trip: red.ID + " 2"}}}
	for loaded := range 2 {
		d, err := l.road.Change(t.Context(), l.by(owner), day, r)
		require.NoError(t, err)
		for trip := range 2 {
			ticked := road.LoadedRequest{Trip: int64(trip + 1), Version: d.Version}
			if trip == loaded {
				ticked.Loaded = []int64{1}
			}
			d, err = l.road.Load(t.Context(), l.by(owner), day, ticked)
			require.NoError(t, err)
		}
		r.Version, r.Drivers = d.Version, []road.DriverRequest{{Vehicle: red.ID, Driver: "Wren"}}
		d, err = l.road.Change(t.Context(), l.by(owner), day, r)
		require.NoError(t, err)
		require.Len(t, d.Trips, 2)
		for trip := range 2 {
			assert.Equal(t, trip == loaded, d.Trips[trip].Drops[0].Loaded, "loaded %d, trip %d", loaded, trip)
		}
		r.Version = d.Version
	}
}

func TestADriverSeesHisTripsAndTicksThem(t *testing.T) {
	l := newLot(t)
	red, blue := l.vehicle("red truck", "4 ft", "24000 lb"), l.vehicle("blue truck", "4 ft", "24000 lb")
	a, b := l.order("Ada", "1 cord", "28 November 2026", 10), l.order("Bram", "1 cord", "28 November 2026", 20)
	d, err := l.road.Change(t.Context(), l.by(owner), day, road.ChangeRequest{
		Drivers: []road.DriverRequest{{Vehicle: red.ID, Driver: "Wren"}, {Vehicle: blue.ID, Driver: "Sorrel"}},
		Stops:   []road.StopRequest{{Order: a.ID, Trip: red.ID + " 1"}, {Order: b.ID, Trip: blue.ID + " 1"}}})
	require.NoError(t, err)
	his, err := l.road.Day(t.Context(), driver, day)
	require.NoError(t, err)
	assert.Equal(t, []string{"red truck: Ada"}, stops(his))
	assert.Empty(t, his.Waiting)
	_, err = l.road.Load(t.Context(), l.by(driver), day, road.LoadedRequest{Trip: 2, Loaded: []int64{1}, Version: d.Version})
	assert.Equal(t, act.NotFound, act.KindOf(err), "another’s trip")
	his, err = l.road.Load(t.Context(), l.by(driver), day, road.LoadedRequest{Trip: 1, Loaded: []int64{1}, Version: d.Version})
	require.NoError(t, err)
	assert.True(t, his.Trips[0].Drops[0].Loaded)
	for name, may := range map[string]func(act.Actor) error{
		"park": func(who act.Actor) error { _, err := l.road.Park(t.Context(), who); return err },
		"arrange": func(who act.Actor) error {
			_, err := l.road.Arrange(t.Context(), l.by(who), day, road.ArrangeRequest{})
			return err
		},
		"change": func(who act.Actor) error {
			_, err := l.road.Change(t.Context(), l.by(who), day, road.ChangeRequest{})
			return err
		},
		"vehicle": func(who act.Actor) error {
			_, err := l.road.AddVehicle(t.Context(), l.by(who), road.VehicleRequest{})
			return err
		},
		"retire": func(who act.Actor) error { return l.road.RetireVehicle(t.Context(), l.by(who), red.ID) },
		"yard": func(who act.Actor) error {
			_, err := l.road.SetYard(t.Context(), l.by(who), road.YardRequest{})
			return err
		},
	} {
		assert.Equal(t, act.Forbidden, act.KindOf(may(driver)), name)
		assert.Equal(t, act.Forbidden, act.KindOf(may(auditor)), name)
	}
	_, err = l.road.Day(t.Context(), auditor, day)
	assert.Equal(t, act.Forbidden, act.KindOf(err))
	_, err = l.road.Load(t.Context(), l.by(auditor), day, road.LoadedRequest{})
	assert.Equal(t, act.Forbidden, act.KindOf(err))
}

func TestVehiclesAreReadWithAllFaults(t *testing.T) {
	l := newLot(t)
	red := l.vehicle("red truck", "4 ft", "24000 lb")
	_, err := l.road.AddVehicle(context.Background(), l.by(owner), road.VehicleRequest{Name: "Red  Truck", Bed: "none", TypedLimit: storage.TypedLimit{Gross: "9000 lb"}})
	var e *act.Error
	require.ErrorAs(t, err, &e)
	codes := map[string]string{}
	for _, f := range e.Fields {
		codes[f.Field] = f.Code
	}
	assert.Equal(t, map[string]string{"vehicle": "twice", "bed": "unknown", "scale": "missing"}, codes)
	_, err = l.road.SetYard(t.Context(), l.by(owner), road.YardRequest{Place: "north", Version: 1})
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "yard", e.Fields[0].Field)
	_, err = l.road.Arrange(t.Context(), l.by(owner), day, road.ArrangeRequest{})
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "vehicles", e.Fields[0].Field)
	l.order("Ada", "1 cord", "28 November 2026", 0)
	l.arrange(road.ArrangeRequest{Vehicles: []string{red.ID}})
	require.NoError(t, l.road.RetireVehicle(t.Context(), l.by(owner), red.ID))
	d, err := l.road.Day(t.Context(), owner, day)
	require.NoError(t, err)
	assert.Equal(t, []string{": Ada"}, stops(d), "its stops stay")
}

// A late order is for today; an order of a customer that is gone has no names on the road.
func TestLateOrdersAreForTodayAlone(t *testing.T) {
	l := newLot(t)
	l.order("Ada", "1 cord", "27 November 2026", 0)
	l.now = l.now.AddDate(0, 0, 1)
	for on, want := range map[act.Date][]string{day: {"Ada"}, friday: {"Ada"}, {Year: 2026, Month: 11, Day: 29}: nil} {
		d, err := l.road.Day(t.Context(), owner, on)
		require.NoError(t, err)
		assert.Equal(t, want, names(d.Waiting), "%s", on)
	}
}

func TestDaysAsTheyAreAskedFor(t *testing.T) {
	for text, want := range map[string]string{"": "2026-11-27", "2026-12-24": "2026-12-24", "friday": "2026-11-27", "Saturday": "2026-11-28", "Thursday": "2026-12-03", "tomorrow": "2026-11-28", "12 December": "2026-12-12"} {
		on, err := road.ReadDay(text, friday)
		require.NoError(t, err, text)
		assert.Equal(t, want, on.String(), text)
	}
	for _, text := range []string{"week of the 7th", "when it snows", "after the 3rd"} {
		_, err := road.ReadDay(text, friday)
		assert.Equal(t, act.Invalid, act.KindOf(err), text)
	}
}
