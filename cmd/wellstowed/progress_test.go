package main

import (
	"bytes"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestProgressIsForATerminalAlone(t *testing.T) {
	var terminal bytes.Buffer
	p := progress{&terminal}
	for line := 1; line <= 2000; line++ {
		p.at(line)
	}
	p.done()
	assert.Equal(t, "\r1000 lines read\r2000 lines read\r\x1b[K", terminal.String())

	pipe, other, err := os.Pipe()
	require.NoError(t, err)
	defer pipe.Close()
	defer other.Close()
	assert.Equal(t, progress{}, machine{err: other}.progress(), "silent in a pipe")
	assert.Equal(t, progress{}, machine{err: &terminal}.progress())
}
