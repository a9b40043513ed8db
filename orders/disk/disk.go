// Package disk makes files last.
package disk

import (
	"errors"
	"io"
	"os"
)

// SyncFolder makes the names of new files last.
func SyncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close())
}

// CopyFile copies a file to a new one, readable by its owner only. One that is there is
// left alone.
func CopyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Sync(), out.Close())
}

// Fits tells whether so many bytes more go on the disk of a folder: it writes them to a
// file of its own and takes it away again.
func Fits(folder string, bytes int) error {
	file, err := os.CreateTemp(folder, ".room-*")
	if err != nil {
		return err
	}
	_, err = file.Write(make([]byte, bytes))
	return errors.Join(err, file.Sync(), file.Close(), os.Remove(file.Name()))
}
