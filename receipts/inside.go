package receipts

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"io"
	"regexp"
	"strconv"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// MaxSheetBytes is the largest PDF that a tally is looked for in. A sheet of the largest
// tally has about a tenth of it.
const MaxSheetBytes = 8_000_000

// inside puts a tally document into the paper as a file, so that the readings can be
// measured again from the paper alone.
func (w *paper) inside(doc stack.Document) error {
	tally, err := json.Marshal(doc)
	if err != nil {
		return badTally(err)
	}
	w.sections = nil // the library counts the pages of an outline wrong behind a file
	w.pdf.SetAttachments([]gofpdf.Attachment{{Content: tally, Filename: "tally.json", Description: w.print.Heading("The readings, for measuring them again")}})
	return nil
}

// IsPDF tells whether a file begins as a PDF does.
func IsPDF(file []byte) bool { return bytes.HasPrefix(file, []byte("%PDF-")) }

// embedded is how a file begins inside a PDF that this package wrote.
var embedded = regexp.MustCompile(`<< /Type /EmbeddedFile /Length (\d+) /Filter /FlateDecode [^\n]*>>\n+stream\n`)

// TallyIn gives the tally document inside the PDF of a measurement sheet, as it was
// saved. It reads what this program wrote, and not what another made of it: a PDF that was
// printed or saved anew has lost the tally. The error is a *measure.InputError.
func TallyIn(pdf []byte) ([]byte, error) {
	if len(pdf) > MaxSheetBytes {
		return nil, noTally("too-large", measure.Say("it is larger than %d bytes", MaxSheetBytes))
	}
	at := embedded.FindSubmatchIndex(pdf)
	if at == nil {
		return nil, noTally("no-tally", measure.Say("no tally is inside this PDF"))
	}
	long, err := strconv.Atoi(string(pdf[at[2]:at[3]]))
	if err != nil || long > len(pdf)-at[1] {
		return nil, noTally("damaged", measure.Say("the tally inside this PDF is cut off"))
	}
	tally, err := inflate(pdf[at[1] : at[1]+long])
	if err != nil {
		return nil, noTally("damaged", measure.Say("the tally inside this PDF is damaged"))
	}
	return tally, nil
}

// inflate unpacks a file, and no more of it than tells that it is too long for a tally.
func inflate(packed []byte) ([]byte, error) {
	r, err := zlib.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(io.LimitReader(r, stack.MaxTallyBytes+1))
}

func noTally(code string, reason measure.Text) *measure.InputError {
	return &measure.InputError{Code: code, Reason: reason,
		Accepts: measure.Say("the PDF of a measurement sheet as it was downloaded, or a tally as JSON")}
}
