package store

import (
	"errors"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"

	"wellstowed/measure"
	"wellstowed/orders/act"
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
		return &act.Error{Kind: act.Conflict, Err: err, Message: measure.Say("somebody else saved the same first; look again and repeat it")}
	case foreignKeyFailed:
		return &act.Error{Kind: act.Conflict, Err: err, Message: measure.Say("what this belongs to is not there, or something else belongs to it")}
	case checkFailed:
		return &act.Error{Kind: act.Invalid, Err: err, Message: measure.Say("a value is out of its range; nothing was saved")}
	}
	return err
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
