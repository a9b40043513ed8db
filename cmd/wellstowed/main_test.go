package main

import (
	"fmt"
	"os"
	"runtime/debug"
	"testing"

	"wellstowed/receipts/words"
	"wellstowed/receipts/words/spanish"
)

// kept is a folder for what is made once for all tests.
var kept string

// TestMain lets the heap grow further than a server would before it is collected: tests
// are short, and collecting took a fifth of their time.
func TestMain(m *testing.M) {
	words.AddLanguage(spanish.Tag, spanish.Text)
	debug.SetGCPercent(400)
	var err error
	if kept, err = os.MkdirTemp("", "wellstowed"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	_ = os.RemoveAll(kept)
	os.Exit(code)
}
