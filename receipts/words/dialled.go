package words

import "strings"

// Dialled is a telephone number as a phone dials it (RFC 3966): its figures, and the plus
// before them; empty where it has too few to be one.
func Dialled(phone string) string {
	const least = 3
	phone = strings.TrimSpace(phone)
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, phone)
	if len(digits) < least {
		return ""
	}
	if strings.HasPrefix(phone, "+") {
		digits = "+" + digits
	}
	return digits
}
