package witness

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"wellstowed/orders/ledger"
)

// head is the first line of a witness: its format and number.
const head = "wellstowed-witness 1\n"

// noSeal stands where a paper has none.
const noSeal = "-"

var sealed = regexp.MustCompile(`^[0-9A-HJKMNP-TV-Z]{4}(-[0-9A-HJKMNP-TV-Z]{4}){2}$`)

// format writes lines as Parse reads them.
func format(lines []ledger.Line) []byte {
	var b bytes.Buffer
	for _, l := range lines {
		seal := l.Seal
		if seal == "" {
			seal = noSeal
		}
		fmt.Fprintf(&b, "%s %d %s %s %s %s\n", l.Paper, l.Number, l.Issued.UTC().Format(time.RFC3339Nano), orDash(l.Chain), seal, l.PDFHash)
	}
	return b.Bytes()
}

func orDash(text string) string {
	if text == "" {
		return noSeal
	}
	return text
}

// Parse reads a witness: the head, then one line a paper of six fields parted by one
// blank: what it is, its number, when it was issued, its chain, its seal, and the
// hash of its PDF; "-" for a chain or seal that a sheet lacks. A line of the journal has the
// number of a write, its time and chain, and the hash of what it changed. Every line ends in a
// line end and reads back as it was written. The faults name each line that is not
// so, what was read and what is wrong; the other lines are read all the same.
func Parse(content []byte) (lines []ledger.Line, faults []error) {
	for n, line := range strings.SplitAfter(string(content), "\n") {
		text, ended := strings.CutSuffix(line, "\n")
		switch {
		case n == 0 && line != head:
			faults = append(faults, fmt.Errorf("line 1: the file is no witness; it begins with %q", strings.TrimSpace(head)))
		case n == 0 || line == "":
		case !ended:
			faults = append(faults, fmt.Errorf("line %d: it is cut short; the next issue or start writes it again", n+1))
		default:
			read, err := parseLine(text)
			if err != nil {
				faults = append(faults, fmt.Errorf("line %d: read %.200q: %w", n+1, text, err))
				continue
			}
			read.At = n + 1
			lines = append(lines, read)
		}
	}
	return lines, faults
}

func parseLine(line string) (l ledger.Line, err error) {
	parts := strings.Split(line, " ")
	if len(parts) != 6 {
		return l, fmt.Errorf("it has %d fields, where 6 are expected", len(parts))
	}
	l.Paper = ledger.Paper(parts[0])
	if l.Paper != ledger.Receipt && l.Paper != ledger.Sheet && l.Paper != ledger.Journal {
		return l, fmt.Errorf("%q is neither receipt, sheet nor journal", parts[0])
	}
	if l.Number, err = strconv.ParseInt(parts[1], 10, 64); err != nil || l.Number < 1 {
		return l, fmt.Errorf("%q isn’t a number of a paper", parts[1])
	}
	if l.Issued, err = time.Parse(time.RFC3339Nano, parts[2]); err != nil {
		return l, fmt.Errorf("%q isn’t a time", parts[2])
	}
	l.Issued = l.Issued.UTC()
	l.Chain, l.Seal, l.PDFHash = parts[3], parts[4], parts[5]
	sheet := l.Paper != ledger.Receipt // has no seal
	if l.Chain == noSeal && l.Paper == ledger.Sheet {
		l.Chain = ""
	} else if !isHash(l.Chain) {
		return l, fmt.Errorf("%q isn’t a chain", l.Chain)
	}
	if l.Seal == noSeal && sheet {
		l.Seal = ""
	} else if sheet || !sealed.MatchString(l.Seal) {
		return l, fmt.Errorf("%q isn’t a seal", l.Seal)
	}
	if !isHash(l.PDFHash) {
		return l, fmt.Errorf("%q isn’t a hash of a PDF", l.PDFHash)
	}
	if string(format([]ledger.Line{l})) != line+"\n" {
		return l, fmt.Errorf("it is not written as the program writes it")
	}
	return l, nil
}

func isHash(text string) bool {
	b, err := hex.DecodeString(text)
	return err == nil && len(b) == 32 && strings.ToLower(text) == text
}
