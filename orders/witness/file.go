// Package witness keeps what was issued in a plain text file outside the database,
// best on another disk.
package witness

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"wellstowed/orders"
)

// A File is a witness on disk.
type File struct {
	path string
	mu   *sync.Mutex
}

var _ orders.Witness = File{}

// Open gives the witness at path and begins it where there is none, and tells
// whether it did: a disk that is not in looks the same as a file not begun yet.
func Open(path string) (f File, begun bool, err error) {
	f = File{path: path, mu: &sync.Mutex{}}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		_, err := f.Lines()
		return f, false, err
	}
	if err != nil {
		return File{}, false, err
	}
	_, err = file.WriteString(head)
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return File{}, false, err
	}
	return f, true, syncFolder(filepath.Dir(path))
}

// syncFolder makes the name of a new file last.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}

// Lines are those of the file; a last line cut short is left out.
func (f File) Lines() ([]orders.WitnessLine, error) {
	content, err := os.ReadFile(f.path)
	if err != nil {
		return nil, err
	}
	return Parse(whole(content))
}

// whole is content up to its last line end: what comes after is a line that was cut
// short when it was written.
func whole(content []byte) []byte { return content[:bytes.LastIndexByte(content, '\n')+1] }

// Append adds lines and makes them last. A last line cut short is written over; the
// file is never made anew, since its disk may not be in.
func (f File) Append(lines []orders.WitnessLine) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	file, err := os.OpenFile(f.path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(appendTo(file, lines), file.Close())
}

func appendTo(file *os.File, lines []orders.WitnessLine) error {
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
