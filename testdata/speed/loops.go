package main

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mathext"

	"wellstowed/measure/stack"
)

// loops are what a process may run over a file.
func loops() map[string]func(file string) error {
	return map[string]func(file string) error{
		"bare": bare,
		"read": func(file string) error { return eachLine(file, func([]byte) error { return nil }) },
		"json": func(file string) error { return eachLine(file, decode) },
		"parse": func(file string) error {
			return eachLine(file, func(doc []byte) error {
				_, err := stack.ParseTally(doc)
				return err
			})
		},
		"measure": func(file string) error {
			return eachLine(file, func(doc []byte) error {
				tally, err := stack.ParseTally(doc)
				if err == nil {
					_, err = stack.Measure(tally)
				}
				return err
			})
		},
	}
}

func eachLine(name string, do func([]byte) error) error {
	file, err := os.Open(name)
	if err != nil {
		return err
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		if err := do(lines.Bytes()); err != nil {
			return err
		}
	}
	return lines.Err()
}

// decode is what the library does with the structs of a tally, nothing checked.
func decode(doc []byte) error {
	var d stack.Document
	var rows stack.RowsDocument
	if err := json.Unmarshal(doc, &d); err != nil {
		return err
	}
	return json.Unmarshal(d.Stack, &rows)
}

// bare works out the volume, a budget of seven parts, its degrees of freedom, U and the
// probability of a shortage, and checks and explains nothing.
func bare(name string) error {
	file, err := os.Open(name)
	if err != nil {
		return err
	}
	defer file.Close()
	out := bufio.NewWriter(os.Stdout)
	defer out.Flush()
	rows := csv.NewReader(file)
	rows.ReuseRecord = true
	if _, err := rows.Read(); err != nil {
		return err
	}
	const sold = 128. * 1728 / 3
	for {
		row, err := rows.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		pieces, err := numbers(row[1])
		if err != nil {
			return err
		}
		length, err := strconv.ParseFloat(row[2], 64)
		if err != nil {
			return err
		}
		heights, err := numbers(row[3])
		if err != nil {
			return err
		}
		piece, uPiece := mean(pieces)
		height, uHeight := mean(heights)
		v := piece * length * height
		fourPieces, fourHeights := float64(len(pieces)-1), float64(len(heights)-1)
		a, b := uPiece*length*height, uHeight*length*piece
		squares, tail := a*a+b*b, a*a*a*a/fourPieces+b*b*b*b/fourHeights
		for _, judged := range [...]float64{0.02 * v, 1.5 / math.Sqrt(3) * length * piece, 0.5 / math.Sqrt(3) * height * piece, 0.01 / math.Sqrt(3) * v, 0.006 / math.Sqrt(3) * v} {
			squares += judged * judged
		}
		u, degrees := math.Sqrt(squares), squares*squares/tail
		t := (v - sold) / u
		p := mathext.RegIncBeta(degrees/2, 0.5, degrees/(degrees+t*t)) / 2
		if t > 0 {
			p = 1 - p
		}
		fmt.Fprintf(out, "%.2f ± %.2f, %.4f, %.2f\n", v/1728, quantile(0.975, degrees)*u/1728, p, quantile(0.95, degrees)*u/1728)
	}
}

func quantile(p, degrees float64) float64 {
	y := mathext.InvRegIncBeta(degrees/2, 0.5, 2*(1-p))
	return math.Sqrt(degrees * (1 - y) / y)
}

func numbers(cell string) (all []float64, err error) {
	for part := range strings.SplitSeq(cell, ";") {
		x, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil {
			return nil, err
		}
		all = append(all, x)
	}
	return all, nil
}

// mean is the mean of a sample, and its standard uncertainty.
func mean(sample []float64) (m, u float64) {
	for _, x := range sample {
		m += x
	}
	n := float64(len(sample))
	m /= n
	var squares float64
	for _, x := range sample {
		squares += (x - m) * (x - m)
	}
	return m, math.Sqrt(squares / (n - 1) / n)
}
