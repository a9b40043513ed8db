package orders

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
)

// canonical is the one way data is written for hashing: JSON in the order of the
// struct's fields, without spaces, line end or escapes for HTML.
func canonical(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// lasting is canonical for what is kept for good: it is read back before it is written,
// since nobody could mend what cannot be read once it is under a seal.
func lasting(v any) ([]byte, error) {
	b, err := canonical(v)
	if err != nil {
		return nil, err
	}
	back := reflect.New(reflect.TypeOf(v))
	if err := json.Unmarshal(b, back.Interface()); err != nil {
		return nil, fmt.Errorf("what is to be kept cannot be read back: %w", err)
	}
	again, err := canonical(back.Elem().Interface())
	if err != nil || !bytes.Equal(b, again) {
		return nil, errors.Join(fmt.Errorf("what is to be kept reads back as something else: %s", again), err)
	}
	return b, nil
}

// hashOf is SHA-256 over all parts in turn, in hex.
func hashOf(parts ...[]byte) string {
	h := sha256.New()
	for _, p := range parts {
		h.Write(p)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// chainOf is SHA-256 over the previous chain, none for the first receipt, the hash
// of the facts and the hash of salt and personal part; all in hex, hashed as the
// bytes they stand for.
func chainOf(previous, factsHash, personalHash string) (string, error) {
	var parts [][]byte
	for _, text := range []string{previous, factsHash, personalHash} {
		part, err := hex.DecodeString(text)
		if err != nil {
			return "", fmt.Errorf("chain: %w", err)
		}
		parts = append(parts, part)
	}
	return hashOf(parts...), nil
}

// sealDigits are base 32 without the letters I, L, O and U, as Douglas Crockford
// proposed, so that a seal can be read out and copied by hand.
const sealDigits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// sealOf is the first 60 bits of the chain, as printed: XXXX-XXXX-XXXX.
func sealOf(chain string) (string, error) {
	b, err := hex.DecodeString(chain)
	if err != nil || len(b) != sha256.Size {
		return "", fmt.Errorf("chain %q is no hash", chain)
	}
	s := base32.NewEncoding(sealDigits).EncodeToString(b)
	return s[0:4] + "-" + s[4:8] + "-" + s[8:12], nil
}

// sealAsRead is a printed seal without what a reader may get wrong: case, hyphens,
// spaces, O for 0, I or L for 1.
func sealAsRead(seal string) string {
	return strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(seal))
}
