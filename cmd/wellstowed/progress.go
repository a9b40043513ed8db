package main

import (
	"fmt"
	"io"
	"os"
)

// A progress tells on a terminal how far a long run has come; the zero one is
// silent, as in a pipe.
type progress struct{ terminal io.Writer }

// progressEvery is how many lines lie between two words of progress.
const progressEvery = 1000

// progress is for standard error where that is a terminal.
func (m machine) progress() progress {
	file, ok := m.err.(*os.File)
	if !ok {
		return progress{}
	}
	if info, err := file.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return progress{}
	}
	return progress{file}
}

func (p progress) at(line int) {
	if p.terminal != nil && line%progressEvery == 0 {
		fmt.Fprintf(p.terminal, "\r%d lines read", line)
	}
}

// done clears the line.
func (p progress) done() {
	if p.terminal != nil {
		fmt.Fprint(p.terminal, "\r\x1b[K")
	}
}
