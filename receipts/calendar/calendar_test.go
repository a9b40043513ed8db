package calendar_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/calendar"
	"wellstowed/orders/day"
	ics "wellstowed/receipts/calendar"
)

// delivery is a cord for a day.
func delivery(number int64, s day.Span, species, address string) orders.Stop {
	cord := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	return orders.Stop{Due: cord, Order: orders.Order{
		ID: "0193a1b2-0000-7000-8000-00000000000" + string(rune('0'+number)), Number: number, Version: 3, Species: species, Quantity: cord, Day: s,
		Customer: orders.Customer{Name: "Zephyrine Ostrak", Address: address, Phone: "555-0199"}, Notes: "ring twice",
		Changed: time.Date(2026, 11, 20, 15, 4, 5, 678_000_000, time.UTC),
	}}
}

func feed(stops ...orders.Stop) calendar.Feed {
	return calendar.Feed{Shop: orders.Shop{Name: "Hollin Gap; Firewood, Ltd", Zone: "America/New_York", Language: "en", Units: act.Imperial}, Stops: stops}
}

func written(t require.TestingT, f calendar.Feed) []byte {
	var out bytes.Buffer
	require.NoError(t, ics.Write(&out, f, rules.Set{}, "https://yard.example"))
	return out.Bytes()
}

func on(y int, m time.Month, d int) act.Date { return act.Date{Year: y, Month: m, Day: d} }

// parser reads a calendar by Debian's python3-icalendar, which shares nothing with what wrote it.
const parser = `
import icalendar, json, sys
c = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
out = []
for e in c.walk("VEVENT"):
    out.append([str(e["UID"]), e["DTSTART"].dt.isoformat(), e["DTEND"].dt.isoformat(), str(e["SUMMARY"]), str(e.get("LOCATION", "")), str(e.get("URL", "")), int(e["SEQUENCE"]), e["DTSTAMP"].dt.isoformat()])
json.dump([str(c["NAME"]), str(c["VERSION"]), out], sys.stdout)
`

// python finds one that has the package: Debian's own stands beside others.
func python(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(name, "-c", "import icalendar").Run() == nil {
			return name
		}
	}
	const missing = "no python3 with icalendar here (Debian: python3-icalendar)"
	if os.Getenv("CI") == "true" {
		t.Fatal(missing)
	}
	t.Skip(missing)
	return ""
}

func parse(t *testing.T, file []byte) (name string, events [][]any) {
	t.Helper()
	cmd := exec.Command(python(t), "-c", parser)
	cmd.Stdin, cmd.Stderr = bytes.NewReader(file), os.Stderr
	out, err := cmd.Output()
	require.NoError(t, err)
	var read []json.RawMessage
	require.NoError(t, json.Unmarshal(out, &read))
	require.NoError(t, json.Unmarshal(read[0], &name))
	var version string
	require.NoError(t, json.Unmarshal(read[1], &version))
	require.Equal(t, "2.0", version)
	require.NoError(t, json.Unmarshal(read[2], &events))
	return name, events
}

// Noon in New York is 17:00 in UTC in November and 16:00 in July (RFC 9636's own zone, from
// memory). The end of whole days is the day after (RFC 5545, 3.6.1).
func TestAnotherProgramReadsTheDeliveries(t *testing.T) {
	odd := "14; Orchard\\Steps, rear\n“Höllin” Gap, VT 05999"
	name, events := parse(t, written(t, feed(
		delivery(1, day.Span{From: on(2026, 11, 28), To: on(2026, 11, 28)}, "red oak", odd),
		delivery(2, day.Span{From: on(2026, 12, 7), To: on(2026, 12, 13)}, "", ""),
		delivery(3, day.Span{From: on(2026, 11, 30), To: on(2026, 11, 30), Hours: day.Hours{Part: day.Afternoon}}, "red oak", "2 Mill Road"),
		delivery(4, day.Span{From: on(2027, 7, 1), To: on(2027, 7, 1), Hours: day.Hours{After: "12:00", Before: "12:00"}}, "red oak", "2 Mill Road"),
		delivery(5, day.Span{From: on(2026, 12, 24)}, "red oak", "2 Mill Road"),
		delivery(6, day.Span{}, "red oak", "2 Mill Road"),
		delivery(7, day.Span{From: on(2026, 12, 1), To: on(2026, 12, 1), Hours: day.Hours{Before: "09:30"}}, "red oak", "2 Mill Road"),
	)))
	assert.Equal(t, "Deliveries, Hollin Gap; Firewood, Ltd", name)
	require.Len(t, events, 6, "an order without a day isn’t in a calendar")
	assert.Equal(t, []any{"0193a1b2-0000-7000-8000-000000000001", "2026-11-28", "2026-11-29", "1 cord (128 ft³) red oak, order 1",
		"14; Orchard\\Steps, rear, “Höllin” Gap, VT 05999", "https://yard.example/orders/0193a1b2-0000-7000-8000-000000000001", 3.0, "2026-11-20T15:04:05+00:00"}, events[0])
	for i, want := range [][3]string{{"2026-12-07", "2026-12-14", "1 cord (128 ft³), order 2"},
		{"2026-11-30T17:00:00+00:00", "2026-11-30T22:00:00+00:00", "1 cord (128 ft³) red oak, in the afternoon, order 3"},
		{"2027-07-01T16:00:00+00:00", "2027-07-01T17:00:00+00:00", "1 cord (128 ft³) red oak, at 12 pm, order 4"},
		{"2026-12-24", "2026-12-25", "1 cord (128 ft³) red oak, order 5"},
		{"2026-12-01T13:30:00+00:00", "2026-12-01T14:30:00+00:00", "1 cord (128 ft³) red oak, before 9:30 am, order 7"}} {
		assert.Equal(t, []any{want[0], want[1], want[2]}, events[i+1][1:4])
	}
}

func TestNoNamesAreInACalendar(t *testing.T) {
	text := string(written(t, feed(delivery(1, day.Span{From: on(2026, 11, 28), To: on(2026, 11, 28)}, "red oak", "2 Mill Road"))))
	assert.Contains(t, text, "REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n")
	for _, kept := range []string{"Zephyrine", "Ostrak", "555-0199", "ring twice"} {
		assert.NotContains(t, text, kept)
	}
}

// Lines end in CRLF, none is longer than 75 octets, and none is cut within a letter (RFC 5545,
// 3.1); unfolded, a text comes back as it was.
func TestLinesAreFolded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		address := rapid.StringMatching(`[ -~“”äöü木村☃,;\\]{0,300}`).Draw(t, "address")
		file := written(t, feed(delivery(1, day.Span{From: on(2026, 11, 28), To: on(2026, 11, 28)}, "red oak", address)))
		require.True(t, bytes.HasSuffix(file, []byte("END:VCALENDAR\r\n")))
		for _, line := range strings.Split(strings.TrimSuffix(string(file), "\r\n"), "\r\n") {
			require.LessOrEqual(t, len(line), 75, "%q", line)
			require.True(t, utf8.ValidString(line), "%q", line)
			require.NotContains(t, line, "\n")
		}
		whole := strings.ReplaceAll(string(file), "\r\n ", "")
		_, rest, found := strings.Cut(whole, "\r\nLOCATION:")
		require.Equal(t, address != "", found)
		said, _, _ := strings.Cut(rest, "\r\n")
		require.Equal(t, address, strings.NewReplacer(`\\`, `\`, `\,`, `,`, `\;`, `;`).Replace(said))
	})
}
