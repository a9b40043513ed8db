package main

import (
	"bufio"
	"bytes"
	"io"
	"runtime"
	"runtime/debug"
	"sync"
)

// How many lines, or bytes of them, are handed out at once: enough that handing out
// costs nothing beside measuring, few enough that little of a file is held.
const (
	batchLines = 64
	batchBytes = 64 << 10
)

// garbage is how much of what is kept may lie about before it is swept up, in per cent:
// little is kept here, and sweeping as often as usual costs a fifth of all the time.
const garbage = 400

// A batch is lines that one worker measures, and what is printed about them.
type batch struct {
	lines   []numbered
	size    int
	printed bytes.Buffer
	refused bool
	done    chan struct{}
}

// A numbered line of the input, from 1.
type numbered struct {
	n    int
	text []byte
}

func newBatch() *batch { return &batch{done: make(chan struct{})} }

func (b *batch) add(n int, line []byte) {
	b.lines, b.size = append(b.lines, numbered{n, line}), b.size+len(line)
}

func (b *batch) full() bool { return len(b.lines) == batchLines || b.size >= batchBytes }

// everyLine measures each line as one tally, once document has made one of it, on as many
// processors as there are, and prints the answers in the order of the lines. It holds a
// few batches of lines at a time.
func (a answerer) everyLine(in *bufio.Reader, before int, document func([]byte) ([]byte, error)) error {
	defer a.progress.done()
	defer debug.SetGCPercent(debug.SetGCPercent(garbage))
	workers := runtime.GOMAXPROCS(0)
	work, inOrder := make(chan *batch), make(chan *batch, workers)
	var working, printing sync.WaitGroup
	for range workers {
		working.Go(func() {
			for b := range work {
				a.measureBatch(b, document)
			}
		})
	}
	var refused error
	printing.Go(func() {
		for b := range inOrder {
			<-b.done
			_, _ = a.out.Write(b.printed.Bytes()) // a bufio.Writer tells of a failed write when it is flushed
			if b.refused {
				refused = errRefused
			}
		}
	})
	err := a.handOut(in, before, func(b *batch) {
		inOrder <- b
		work <- b
	})
	close(work)
	working.Wait()
	close(inOrder)
	printing.Wait()
	if err != nil {
		return err
	}
	return refused
}

// handOut reads lines and hands them out in batches.
func (a answerer) handOut(in *bufio.Reader, before int, out func(*batch)) error {
	b := newBatch()
	for n := before + 1; ; n++ {
		line, err := readLine(in)
		if err != nil {
			if len(b.lines) > 0 {
				out(b)
			}
			if err == io.EOF {
				return nil
			}
			return err
		}
		a.progress.at(n)
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		if b.add(n, line); b.full() {
			out(b)
			b = newBatch()
		}
	}
}

// measureBatch measures the lines of a batch, and prints into it.
func (a answerer) measureBatch(b *batch, document func([]byte) ([]byte, error)) {
	defer close(b.done)
	a.out = bufio.NewWriter(&b.printed)
	defer a.out.Flush()
	for _, line := range b.lines {
		if err := a.oneLine(line.n, line.text, document); err != nil {
			b.refused = true
			a.badLine(line.n, err)
		}
	}
}
