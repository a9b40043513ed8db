package act

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"encoding/hex"
	"strings"
)

// codeBytes are the random bytes of a link's secret code: 128 bits.
const codeBytes = 16

// NewCode makes the secret code of a link: 26 letters and digits in base 32. Only its
// hash is kept; the code is shown once and never logged.
func NewCode() (code, hash string, err error) {
	b := make([]byte, codeBytes)
	if _, err := rand.Read(b); err != nil {
		return "", "", err
	}
	code = base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b)
	return code, HashOfCode(code), nil
}

// HashOfCode is SHA-256 of a code in hex, the same in small letters and in capitals.
func HashOfCode(code string) string {
	sum := sha256.Sum256([]byte(strings.ToUpper(strings.TrimSpace(code))))
	return hex.EncodeToString(sum[:])
}
