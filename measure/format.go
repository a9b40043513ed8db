package measure

import (
	"strconv"
	"strings"
)

// mixed writes n/parts in lowest terms as a mixed number: "3 1/2", "3", "1/2".
func mixed(n, parts uint64) string {
	whole, over := n/parts, n%parts
	if over == 0 {
		return strconv.FormatUint(whole, 10)
	}
	common := divisor(over, parts)
	fraction := strconv.FormatUint(over/common, 10) + "/" + strconv.FormatUint(parts/common, 10)
	if whole == 0 {
		return fraction
	}
	return strconv.FormatUint(whole, 10) + " " + fraction
}

// divisor is the greatest common divisor of a and b.
func divisor(a, b uint64) uint64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// decimals writes whole and rest, which counts units of the given decimal place,
// without zeros at the end.
func decimals(whole, rest uint64, places int) string {
	text := strconv.FormatUint(whole, 10)
	if rest == 0 {
		return text
	}
	digits := strconv.FormatUint(rest, 10)
	digits = strings.Repeat("0", places-len(digits)) + digits
	return text + "." + strings.TrimRight(digits, "0")
}
