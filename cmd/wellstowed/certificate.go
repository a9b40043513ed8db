package main

import (
	"crypto/tls"
	"errors"
	"os"
	"sync"
	"time"
)

// certFiles are a certificate and its key in files. They are read again once one of them
// changed, so that whatever renews them need not stop the program.
type certFiles struct {
	cert, key string

	mu      sync.Mutex
	held    *tls.Certificate
	changed time.Time // the files that are held
}

// forHello gives the certificate as it is now; one that can't be read leaves the one
// that is held.
func (f *certFiles) forHello(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	held, err := f.read()
	if held != nil {
		return held, nil
	}
	return nil, err
}

// read reads the files where they changed since, and gives what is held.
func (f *certFiles) read() (*tls.Certificate, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	changed, err := lastChange(f.cert, f.key)
	if err != nil || f.held != nil && changed.Equal(f.changed) {
		return f.held, err
	}
	pair, err := tls.LoadX509KeyPair(f.cert, f.key)
	if err != nil {
		return f.held, err
	}
	f.held, f.changed = &pair, changed
	return f.held, nil
}

func lastChange(files ...string) (last time.Time, faults error) {
	for _, name := range files {
		info, err := os.Stat(name)
		if err != nil {
			faults = errors.Join(faults, err)
		} else if info.ModTime().After(last) {
			last = info.ModTime()
		}
	}
	return last, faults
}
