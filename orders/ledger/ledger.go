// Package ledger is what papers are kept by: bytes written one way only, chained by their
// hashes, sealed, numbered without gaps, and told to a witness outside the database.
package ledger

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"
)

// Canonical is the one way data is written for hashing: JSON in the order of the
// struct's fields, without spaces, line end or escapes for HTML.
func Canonical(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

// Lasting is Canonical for what is kept for good: it is read back before it is written,
// since nobody could mend what cannot be read once it is under a seal.
func Lasting(v any) ([]byte, error) {
	b, err := Canonical(v)
	if err != nil {
		return nil, err
	}
	back := reflect.New(reflect.TypeOf(v))
	if err := json.Unmarshal(b, back.Interface()); err != nil {
		return nil, fmt.Errorf("what is to be kept cannot be read back: %w", err)
	}
	again, err := Canonical(back.Elem().Interface())
	if err != nil || !bytes.Equal(b, again) {
		return nil, errors.Join(fmt.Errorf("what is to be kept reads back as something else: %s", again), err)
	}
	return b, nil
}

// Hash is SHA-256 over all parts in turn, in hex.
func Hash(parts ...[]byte) string {
	h := sha256.New()
	for _, p := range parts {
		h.Write(p)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Chain is SHA-256 over the previous chain, none for the first receipt, the hash
// of the facts and the hash of salt and personal part; all in hex, hashed as the
// bytes they stand for.
func Chain(previous, factsHash, personalHash string) (string, error) {
	var parts [][]byte
	for _, text := range []string{previous, factsHash, personalHash} {
		part, err := hex.DecodeString(text)
		if err != nil {
			return "", fmt.Errorf("chain: %w", err)
		}
		parts = append(parts, part)
	}
	return Hash(parts...), nil
}

// sealDigits are base 32 without the letters I, L, O and U, as Douglas Crockford
// proposed, so that a seal can be read out and copied by hand.
const sealDigits = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// Seal is the first 60 bits of the chain, as printed: XXXX-XXXX-XXXX.
func Seal(chain string) (string, error) {
	b, err := hex.DecodeString(chain)
	if err != nil || len(b) != sha256.Size {
		return "", fmt.Errorf("chain %q isn’t a hash", chain)
	}
	s := base32.NewEncoding(sealDigits).EncodeToString(b)
	return s[0:4] + "-" + s[4:8] + "-" + s[8:12], nil
}

// SealAsRead is a printed seal without what a reader may get wrong: case, hyphens,
// spaces, O for 0, I or L for 1.
func SealAsRead(seal string) string {
	return strings.NewReplacer("-", "", " ", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(seal))
}

// saltSize keeps a name from being guessed from its hash.
const saltSize = 16

// Salt is random bytes to be hashed with what is personal.
func Salt() ([]byte, error) {
	salt := make([]byte, saltSize)
	_, err := rand.Read(salt)
	return salt, err
}

// A Sealed paper is what is kept of it: what it says, what of that is personal beside it,
// and the hashes that outlast both.
type Sealed struct {
	Bytes        []byte
	Hash         string // SHA-256 of Bytes, hex
	Personal     []byte
	Salt         []byte
	PersonalHash string // SHA-256 of Salt and Personal, hex
	Chain        string
}

// Close writes a paper and what of it is personal, and chains it to the paper before it,
// empty for the first. Both are read back first.
func Close(facts, personal any, previous string) (s Sealed, err error) {
	if s.Bytes, err = Lasting(facts); err != nil {
		return Sealed{}, err
	}
	if s.Personal, err = Lasting(personal); err != nil {
		return Sealed{}, err
	}
	if s.Salt, err = Salt(); err != nil {
		return Sealed{}, err
	}
	s.Hash, s.PersonalHash = Hash(s.Bytes), Hash(s.Salt, s.Personal)
	s.Chain, err = Chain(previous, s.Hash, s.PersonalHash)
	return s, err
}
