//go:build !wasm

package words

import "strings"

// typedUnits are the ways that a quantity is written for a field (rules.Set.Spell), by what
// follows its number.
func typedUnits() map[string]string {
	return map[string]string{
		"cord": "%s cord", "cords": "%s cords", "cu ft": "%s cu ft", "cu ft stacked": "%s cu ft stacked", "cu ft loose": "%s cu ft loose",
		"m³ stacked": "%s m³ stacked", "m³ loose": "%s m³ loose",
	}
}

// Typed words a quantity that is written as it would be typed, to be read and not typed
// again: as short, in the reader's language. What it isn't sure of stays as it is.
func (p *Printer) Typed(text string) string {
	at := strings.IndexFunc(text, func(r rune) bool { return 'a' <= r && r <= 'z' })
	if at < 1 {
		return text
	}
	if key, known := typedUnits()[text[at:]]; known {
		return p.say(key, strings.TrimSpace(text[:at]))
	}
	return text
}
