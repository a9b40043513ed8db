package orders

import (
	"crypto/rand"
	"encoding/base32"
	"strings"
)

// codeBytes are the random bytes of a link's secret code: 128 bits.
const codeBytes = 16

// newCode makes the secret code of a link: 26 letters and digits in base 32. Only its
// hash is kept; the code is shown once and never logged.
func newCode() (code, hash string, err error) {
	b := make([]byte, codeBytes)
	if _, err := rand.Read(b); err != nil {
		return "", "", err
	}
	code = base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b)
	return code, hashOfCode(code), nil
}

// hashOfCode is SHA-256 of a code in hex, the same in small letters and in capitals.
func hashOfCode(code string) string {
	return hashOf([]byte(strings.ToUpper(strings.TrimSpace(code))))
}
