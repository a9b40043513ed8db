package store

import (
	"errors"

	"gorm.io/driver/postgres"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"

	"wellstowed/measure"
	"wellstowed/orders/act"
	server "wellstowed/orders/postgres"
)

// dialector is gorm's SQLite with constraint errors told apart.
type dialector struct{ *sqlite.Dialector }

// Extended result codes of SQLite (sqlite.org/rescode.html).
const (
	checkFailed      = 275
	foreignKeyFailed = 787
	primaryKeyFailed = 1555
	uniqueFailed     = 2067
)

// Translate turns a broken constraint into an *act.Error. The service checks
// everything before it writes, so these are the last line of defence.
func (dialector) Translate(err error) error {
	var coded interface{ Code() int }
	if !errors.As(err, &coded) {
		return err
	}
	switch coded.Code() {
	case primaryKeyFailed, uniqueFailed:
		return savedFirst(err)
	case foreignKeyFailed:
		return notThere(err)
	case checkFailed:
		return outOfRange(err)
	}
	return err
}

// serverDialector is gorm's PostgreSQL with the same told apart.
type serverDialector struct{ *postgres.Dialector }

// Translate is as the other's, by the server's codes (PostgreSQL manual, appendix A).
func (serverDialector) Translate(err error) error {
	switch server.State(err) {
	case "23505":
		return savedFirst(err)
	case "23503":
		return notThere(err)
	case "23514", "23502", "22P02", "22001", "22003", "22021": // out of a check, null, no JSON, too long, too large, no text
		return outOfRange(err)
	}
	return err
}

func savedFirst(err error) error {
	return &act.Error{Kind: act.Conflict, Err: err, Message: measure.Say("somebody else saved the same first; look again and repeat it")}
}

func notThere(err error) error {
	return &act.Error{Kind: act.Conflict, Err: err, Message: measure.Say("what this belongs to is not there, or something else belongs to it")}
}

func outOfRange(err error) error {
	return &act.Error{Kind: act.Invalid, Err: err, Message: measure.Say("a value is out of its range; nothing was saved")}
}

// busy tells that another holds the file's lock (primary result code 5).
func busy(err error) bool { return coded(err, 5) }

// coded tells whether an error is SQLite's with that primary result code.
func coded(err error, primary int) bool {
	var coded interface{ Code() int }
	return errors.As(err, &coded) && coded.Code()&0xff == primary
}

// missing turns "no row" into NotFound.
func missing(err error, key string, args ...any) error {
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return &act.Error{Kind: act.NotFound, Message: measure.Say(key, args...)}
	}
	return err
}

// stale tells that a row was not at the version that was seen.
func stale() error {
	return &act.Error{Kind: act.Conflict, Message: measure.Say("somebody else changed it first; look at it as it is now and change it again")}
}
