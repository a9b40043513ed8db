// Package journal is what a shop's database writes down of each write: who, when, what it
// was about, and of each row that changed which fields and the hashes before and after. Each
// act's hash holds the one before it. It holds no values.
package journal

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"time"
)

// An Act is one write as the journal has it.
type Act struct {
	ID      int64 // from 1, without gaps
	At      time.Time
	Person  string // empty: the program by itself
	Session string // id; empty without one
	Verb    string
	Subject string // id or number of what it was done to; empty for what is new
	Request string // UUID; empty where it was none
	Rows    string // RowsHash of its changes
	Chain   string // hash of all of this and of the act before
}

// What was done to a row.
const (
	Begun   = "begun" // it was there when the journal began, or when the tables were last changed
	Added   = "added"
	Changed = "changed"
	Gone    = "gone"
)

// A Change is one row that an act changed.
type Change struct {
	Table, Key string
	Did        string
	Fields     string // names of those that are others than before, parted by commas; only of Changed
	Before     string // hash of the row before; empty where it was not there
	After      string // and after
}

// Verbs of acts that nobody asks for.
const (
	// Tables is the verb of what wrote down all rows, when the journal began or after the
	// tables were changed by a newer version of the program; its subject is their schema.
	Tables = "tables"
	// ByItself is the verb of what the program does unasked, such as noting when a session
	// was last seen.
	ByItself = "by itself"
)

// Link is the chain of an act, from that of the act before it; "" for the first.
func (a Act) Link(previous string) string {
	h := sha256.New()
	number(h, a.ID)
	number(h, a.At.UnixMicro())
	for _, text := range []string{previous, a.Person, a.Session, a.Verb, a.Subject, a.Request, a.Rows} {
		write(h, text)
	}
	return hex.EncodeToString(h.Sum(nil))
}

// A RowsHash takes the hash of an act's changes, in their order.
type RowsHash struct{ h hash.Hash }

// NewRowsHash is that of no changes yet.
func NewRowsHash() RowsHash { return RowsHash{sha256.New()} }

// Add adds a change.
func (r RowsHash) Add(c Change) {
	for _, text := range []string{c.Table, c.Key, c.Did, c.Fields, c.Before, c.After} {
		write(r.h, text)
	}
}

// Sum is the hash, hex.
func (r RowsHash) Sum() string { return hex.EncodeToString(r.h.Sum(nil)) }

func write(h hash.Hash, text string) {
	number(h, int64(len(text)))
	h.Write([]byte(text))
}

func number(h hash.Hash, n int64) {
	var b [8]byte
	binary.BigEndian.PutUint64(b[:], uint64(n))
	h.Write(b[:])
}

// Why something does not agree with the journal.
type Why string

// What can be wrong.
const (
	Altered  Why = "altered"  // a row holds something else than was written
	Unknown  Why = "unknown"  // a row is there that was never written, or is gone by the journal
	Missing  Why = "missing"  // a row that was written is gone
	Rewrote  Why = "rewrote"  // an act of the journal is not as it was written
	Lacks    Why = "lacks"    // acts of the journal are gone
	Astray   Why = "astray"   // a change belongs to no act
	Unsalted Why = "unsalted" // a row's newest change can't be held against it any more, or an older one still can
	Unbegun  Why = "unbegun"  // there is no journal
)

// A Fault is one thing that does not agree with the journal.
type Fault struct {
	Why        Why
	Table, Key string
	Fields     []string // that hold something else; of an altered row, as far as it can be told
	Of         string   // "order" and the like, of which Number is one
	Number     int64    // 0 where there is none
	Act        Act      // that wrote the row last, or that is wrong itself
	To         int64    // of acts that are gone, the last
}

// A Line is one act in the history of something.
type Line struct {
	At      time.Time `json:"at"`
	Person  string    `json:"person,omitempty"`
	Session string    `json:"session,omitempty"`
	Verb    string    `json:"verb"`
	// Rows are what it changed.
	Rows []Row `json:"rows"`
}

// A Row is one row that an act changed.
type Row struct {
	Table  string   `json:"table"`
	Did    string   `json:"did"`
	Fields []string `json:"fields,omitempty"`
}
