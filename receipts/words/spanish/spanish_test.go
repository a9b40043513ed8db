package spanish_test

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/receipts/words"
	"wellstowed/receipts/words/spanish"
)

var verb = regexp.MustCompile(`%(\[(\d+)\])?([-+#0]*[\d.]*[a-zA-Z%])`)

// verbs are the figures and names that a text has room for, in the order they are given.
func verbs(text string) (list []string) {
	at := 0
	for _, m := range verb.FindAllStringSubmatch(text, -1) {
		if m[3] == "%" {
			continue
		}
		at++
		if n, err := strconv.Atoi(m[2]); err == nil {
			at = n
		}
		list = append(list, strconv.Itoa(at)+m[3])
	}
	slices.Sort(list)
	return list
}

// A text that has room for less than its key, or for another kind of figure, would print
// nonsense in the middle of a sentence.
func TestTextsHaveRoomForWhatTheirKeysGive(t *testing.T) {
	doc, err := os.ReadFile("words.json")
	require.NoError(t, err)
	var texts map[string]string
	require.NoError(t, json.Unmarshal(doc, &texts))
	require.Greater(t, len(texts), 5000)
	for key, text := range texts {
		assert.Equal(t, verbs(key), verbs(text), "%q: %q", key, text)
		if !strings.HasSuffix(text, " m.") { // of a clock
			assert.Equal(t, strings.HasSuffix(key, "."), strings.HasSuffix(text, "."), "%q: %q", key, text)
		}
	}
}

func TestSpanishDatesAndFigures(t *testing.T) {
	require.Equal(t, orders.Spanish, spanish.Tag)
	words.AddLanguage(spanish.Tag, spanish.Text)
	p := words.New(spanish.Tag, act.Imperial)
	assert.Equal(t, "12 de marzo de 2026", p.Date(act.Date{Year: 2026, Month: time.March, Day: 12}))
	assert.Equal(t, "3 de mayo de 2026, 14:05 UTC", p.Time(time.Date(2026, 5, 3, 14, 5, 0, 0, time.UTC), "UTC"))
	assert.Equal(t, "1.5 puntos (desviación estándar)", p.Say(measure.Say("%.1f points (standard deviation)", 1.5)))
	assert.Equal(t, "$1,234.50", p.Money(money.Money{Minor: 123450, Currency: "USD"}))
}
