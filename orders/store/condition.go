package store

import (
	"encoding/binary"
	"errors"
	"io"
	"os"
	"time"
)

// A condition says where what was saved in a database is: SQLite's file format, section
// 1.3 (sqlite.org/fileformat2.html), gives the head of the file.
type condition int

const (
	inTheFile condition = iota // all of it: a program closed the file, or it is a backup
	inTheLog                   // what was saved last is in the log beside it
	logGone                    // the file was in use when it was copied, and its log is not beside it
	logUntold                  // as logGone, or closed by a version that left the file so
)

// applicationID stands in the head of files that are closed as Close does: its migration
// writes it. It reads "Wst1".
const applicationID = 1467184177

// Places and values in the head of a file.
const (
	headBytes     = 100
	writeVersion  = 18 // 2 while there is a write-ahead log
	applicationAt = 68
	withLog       = 2
)

// conditionOf reads the head of a file and looks for its log.
func conditionOf(path string) (condition, error) {
	file, err := os.Open(path)
	if err != nil {
		return inTheFile, err
	}
	defer file.Close()
	head := make([]byte, headBytes)
	if _, err := io.ReadFull(file, head); err != nil || head[writeVersion] != withLog {
		return inTheFile, nil // too short to be one: opening it says so
	}
	if _, err := os.Stat(path + "-wal"); !errors.Is(err, os.ErrNotExist) {
		return inTheLog, err
	}
	if binary.BigEndian.Uint32(head[applicationAt:]) != applicationID {
		return logUntold, nil
	}
	return logGone, nil
}

// settledCondition is the condition that stays: a program that opens or closes the file
// meanwhile leaves it without its log for a moment.
func settledCondition(path string) (condition, error) {
	for tries := 1; ; tries++ {
		now, err := conditionOf(path)
		if err != nil || now != logGone || tries == triesForLog {
			return now, err
		}
		time.Sleep(betweenTries)
	}
}

const triesForLog = 10
