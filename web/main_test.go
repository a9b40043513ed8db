package web_test

import (
	"os"
	"runtime/debug"
	"testing"

	"wellstowed/receipts/words"
	"wellstowed/receipts/words/spanish"
)

// TestMain lets the heap grow further than a server would before it is collected: tests
// are short, and collecting took a fifth of their time.
func TestMain(m *testing.M) {
	words.AddLanguage(spanish.Tag, spanish.Text)
	debug.SetGCPercent(400)
	code := m.Run()
	closeBrowser()
	os.Exit(code)
}
