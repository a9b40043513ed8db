package customers

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/lists"
)

func TestWhoIsTheSame(t *testing.T) {
	ada := Record{Name: "Ada Corwin", Address: "14 Orchard Steps\nHollin Gap", Phone: "(555) 0142"}
	for _, row := range []struct {
		name, address, phone string
		same                 bool
	}{
		{"Ada Corwin", "14 Orchard Steps\nHollin Gap", "(555) 0142", true},
		{" ada  CORWIN ", "", "555 0142", true},
		{"Ada Corwin", "14 orchard steps\nhollin gap", "", true},
		{"Ada Corwin", "14 Orchard Steps\nHollin Gap", "555 0199", false}, // two of one name at one house
		{"Ada Corwin", "2 Mill Road", "", false},
		{"Ida Corwin", "14 Orchard Steps\nHollin Gap", "(555) 0142", false}, // one telephone, two people
		{"Ada Corwin", "", "", false},
	} {
		assert.Equal(t, row.same, ada.Same(row.name, row.address, row.phone), "%+v", row)
	}
	assert.True(t, Record{Name: "Bram"}.Same("bram", "", ""), "nothing else is known of either")
}

func TestFindingByParts(t *testing.T) {
	ada := Record{Name: "Ada Corwin", Address: "14 Orchard Steps\nHollin Gap", Phone: "(555) 0142"}
	for text, found := range map[string]bool{"": true, "ada": true, "CORW": true, "orchard 14": true, "5550142": true, "555-01": true, "0142": true,
		"ada mill": false, "99": false, "ida": false} {
		assert.Equal(t, found, ada.Holds(strings.Fields(text)), "%q", text)
	}
}

func TestJoiningKeepsBothNotes(t *testing.T) {
	joined := join(Record{ID: "1", Name: "Ada Corwin", Phone: "555 0142", Access: "Gate is 9 ft wide"},
		Record{ID: "2", Name: "A. Corwin", Address: "14 Orchard Steps", Phone: "555 0199", Access: "Low wire at the shed", Place: "44.051200,-72.203400"})
	assert.Equal(t, Record{ID: "1", Name: "Ada Corwin", Address: "14 Orchard Steps", Phone: "555 0142", Access: "Gate is 9 ft wide\nLow wire at the shed", Place: "44.051200,-72.203400"}, joined)
}

func TestPlaces(t *testing.T) {
	for text, want := range map[string]string{"": "", "44.0512, -72.2034": "44.051200,-72.203400", " -33.9 18.4 ": "-33.900000,18.400000", "90;180": "90.000000,180.000000"} {
		got, err := ParsePlace(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"44.05", "91, 0", "0, 181", "north, west", "NaN, 0", "0, Inf", "1,2,3"} {
		_, err := ParsePlace(text)
		assert.ErrorContains(t, err, "44.0512, -72.2034", text)
	}
}

func FuzzParsePlace(f *testing.F) {
	f.Add("44.0512, -72.2034")
	f.Fuzz(func(t *testing.T, text string) {
		place, err := ParsePlace(text)
		if err != nil {
			return
		}
		again, err := ParsePlace(place)
		require.NoError(t, err)
		require.Equal(t, place, again)
	})
}

func TestListsInTheShapesThatSpreadsheetsWrite(t *testing.T) {
	want := Request{Name: "Ada Corwin", Address: "14 Orchard Steps\nHollin Gap, VT 05999", Phone: "555 0142", Access: "Gate, 9 ft\nlow wire"}
	for name, list := range map[string]string{
		"commas":     "Name,Street,Town,State,Zip,Phone,How to get in\nAda Corwin,14 Orchard Steps,Hollin Gap,VT,05999,555 0142,\"Gate, 9 ft\nlow wire\"\n",
		"semicolons": "\uFEFFname;street;city;state;postal code;telephone;notes\r\nAda Corwin;14 Orchard Steps;Hollin Gap;VT;05999;555 0142;\"Gate, 9 ft\nlow wire\"\r\n\r\n",
		"tabs":       "First name\tLast name\tStreet\tTown\tState\tZip\tCell\tDirections\nAda\tCorwin\t14 Orchard Steps\tHollin Gap\tVT\t05999\t555 0142\t\"Gate, 9 ft\nlow wire\"",
	} {
		t.Run(name, func(t *testing.T) {
			sent, err := readList([]byte(list))
			require.NoError(t, err)
			require.Len(t, sent.Lines, 1)
			assert.Equal(t, 2, sent.Lines[0].Number)
			assert.Equal(t, want, request(sent.Lines[0]))
			assert.Empty(t, sent.Unused)
		})
	}
}

func TestListsThatCannotBeRead(t *testing.T) {
	for list, says := range map[string]string{
		"":                           "the list is empty",
		"phone,address\n1,2":         "no column of its first line is called “name”",
		"name\n\"open":               "line 2: its quotes don’t close as CSV asks",
		"name\nJos\xe9":              "not text in UTF-8",
		strings.Repeat("a\n", 1<<20): "larger than 1 MB",
		"name" + strings.Repeat("\na", lists.MostLines+1): "more than 10000 lines",
	} {
		_, err := readList([]byte(list))
		require.ErrorContains(t, err, says)
	}
}

func FuzzReadList(f *testing.F) {
	f.Add([]byte("name,phone\nAda,1\n"))
	f.Add([]byte("name;x\n\"a;b\";2"))
	f.Fuzz(func(t *testing.T, list []byte) {
		sent, err := readList(list)
		if err != nil {
			return
		}
		for _, l := range sent.Lines {
			require.Positive(t, l.Number)
			_, _ = read(Record{}, request(l))
		}
	})
}
