package act

import (
	"strconv"
	"time"

	"github.com/google/uuid"
)

// A Verb names what an act did. Whoever does it declares it.
type Verb string

// A Done act is kept so that its request sent again is answered, not repeated.
type Done struct {
	Request string // UUID
	Verb    Verb
	Subject string `names:"program"` // id of what it was done to; empty where there was none
	Result  string `names:"program"` // id or number of what came of it
	Person  string `names:"staff"`
	Session string `names:"program"` // id of the session it was sent in; empty without one
	At      time.Time
	// Content is SHA-256 of what was sent, hex; empty for an act from before it was
	// kept, or from before names were erased, and then it is not compared.
	Content string `names:"erased"`
}

// Requests keeps what requests did.
type Requests interface {
	// Done returns nil for a request not seen before.
	Done(request string) (*Done, error)
	AddDone(d Done) error
}

// A Counter names what is numbered without gaps.
type Counter string

// Counters keeps the last number given of each counter, 0 before the first.
type Counters interface {
	LastNumber(c Counter) (int64, error)
	// NextNumber raises the counter by one and returns it.
	NextNumber(c Counter) (int64, error)
}

// NewID is a UUIDv7.
func NewID() (string, error) {
	id, err := uuid.NewV7()
	return id.String(), err
}

// FormatNumber is a number as a result or a subject.
func FormatNumber(n int64) string { return strconv.FormatInt(n, 10) }

// ParseNumber reads what FormatNumber writes.
func ParseNumber(text string) (int64, error) { return strconv.ParseInt(text, 10, 64) }
