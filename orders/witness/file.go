// Package witness keeps what was issued in a plain text file outside the database,
// best on another disk.
package witness

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/disk"
	"wellstowed/orders/ledger"
)

// A File is a witness on disk.
type File struct {
	path string
	mu   *sync.Mutex
}

var _ ledger.Witness = File{}

// At is the witness at path, whether the file is there or not.
func At(path string) File { return File{path: path, mu: &sync.Mutex{}} }

// Begin makes the file where there is none, and tells whether it did: a disk that is
// not in looks the same as a file not begun yet.
func (f File) Begin() (begun bool, err error) {
	content, err := os.ReadFile(f.path)
	if err == nil && (len(content) >= len(head) || !strings.HasPrefix(head, string(content))) {
		return false, nil
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return false, err
	}
	file, err := os.OpenFile(f.path, os.O_WRONLY|os.O_CREATE, 0o600)
	if err != nil {
		return false, err
	}
	_, err = file.WriteString(head) // over the beginning of itself, where it was cut short
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return false, err
	}
	return true, disk.SyncFolder(filepath.Dir(f.path))
}

// Lines are those of the file; a last line cut short is left out. Conflict says that
// a line cannot be understood.
func (f File) Lines() ([]ledger.Line, error) {
	content, err := os.ReadFile(f.path)
	if err != nil {
		return nil, err
	}
	lines, faults := Parse(whole(content))
	if len(faults) > 0 {
		return nil, &act.Error{Kind: act.Conflict, Message: measure.Say("%s.", faults[0].Error())}
	}
	return lines, nil
}

// whole is content up to its last line end: what comes after is a line that was cut
// short when it was written.
func whole(content []byte) []byte { return content[:bytes.LastIndexByte(content, '\n')+1] }

// Append adds lines and makes them last. A last line cut short is written over; the
// file is never made anew, since its disk may not be in.
func (f File) Append(lines []ledger.Line) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	file, err := os.OpenFile(f.path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(appendTo(file, lines), file.Close())
}

func appendTo(file *os.File, lines []ledger.Line) error {
	content, err := os.ReadFile(file.Name())
	if err != nil {
		return err
	}
	end := int64(len(whole(content)))
	if err := file.Truncate(end); err != nil {
		return err
	}
	if _, err := file.WriteAt(format(lines), end); err != nil {
		return err
	}
	return file.Sync()
}
