package store

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/disk"
	server "wellstowed/orders/postgres"
)

// Primary result codes of SQLite (sqlite.org/rescode.html) that say what is wrong with the
// file, its disk or its neighbours, and not with what was asked.
const (
	isBusy     = 5
	isLocked   = 6
	isReadOnly = 8
	isIO       = 10
	isCorrupt  = 11
	isFull     = 13
	cantOpen   = 14
	notADB     = 26
)

// Codes of PostgreSQL (its manual, appendix A) that say that a lock was waited for in vain,
// and that what is on the disk is damaged.
var (
	serverBusy    = []string{"55P03", "55006"}
	serverDamaged = []string{"XX001", "XX002"}
)

// told puts a fault of the file or its disk into words; other errors stay as they are.
func told(err error) error {
	var known *act.Error
	if err == nil || errors.As(err, &known) {
		return err
	}
	said := func(key string) error {
		return &act.Error{Kind: act.Unavailable, Err: err, Message: measure.Say(key)}
	}
	switch {
	case coded(err, isBusy), coded(err, isLocked):
		return said("Another program holds the shop’s file. Nothing was saved; send it again in a minute.")
	case coded(err, isReadOnly):
		return said("The shop’s file can’t be written to: it, its folder or its disk only lets itself be read. Nothing was saved; once that is changed, send it again.")
	case coded(err, isFull), errors.Is(err, syscall.ENOSPC):
		return said("The disk is full. Nothing was saved; make room on it and send it again.")
	case coded(err, isIO), coded(err, cantOpen), errors.As(err, new(*fs.PathError)):
		return said("The disk with the shop’s file doesn’t answer. Nothing was saved; see whether it is in and has room, and send it again.")
	case coded(err, isCorrupt), coded(err, notADB):
		return said("The shop’s file is damaged. Nothing was saved; stop the program, keep the file, and restore the newest backup.")
	case errors.As(err, new(unsaved)):
		return said("The database server doesn’t answer. Nothing was saved; send it again once it does.")
	case server.Lost(err):
		return said("The database server doesn’t answer. Whether it was saved isn’t known: look for it before you send it again.")
	case slices.Contains(serverBusy, server.State(err)):
		return said("Another program holds the shop’s database. Nothing was saved; send it again in a minute.")
	case server.Undone(err):
		return said("Others saved at the same moment, again and again. Nothing was saved; send it again.")
	case server.State(err) == "25006":
		return said("The shop’s database can’t be written to: its server only lets itself be read. Nothing was saved; once that is changed, send it again.")
	case server.State(err) == "53100":
		return said("The disk of the database server is full. Nothing was saved; make room on it and send it again.")
	case server.State(err) == "53300", server.State(err) == "53200":
		return said("The database server has too much to do. Nothing was saved; send it again in a minute.")
	case slices.Contains(serverDamaged, server.State(err)):
		return said("The shop’s database is damaged. Nothing was saved; stop the program, keep the server’s files, and restore the newest backup.")
	case errors.Is(err, context.DeadlineExceeded):
		return said("It took too long, since the program was busy. Nothing was saved; send it again.")
	}
	return err
}

// stays tells whether the file is still the one that was opened: one that was moved,
// deleted or replaced would be written to on and lost.
func (db *DB) stays() error {
	if db.opened == nil {
		return nil
	}
	now, err := os.Stat(db.path)
	if err == nil && os.SameFile(now, db.opened) {
		return nil
	}
	return &act.Error{Kind: act.Unavailable, Err: err, Message: measure.Say("The shop’s file isn’t where it was: it was moved, deleted or replaced while the program uses it. " +
		"Nothing was saved; put it back, or stop the program and restore a backup.")}
}

// roomToWork is about what a delivery with its receipt takes of a disk, in bytes.
const roomToWork = 256 << 10

// Writable tells whether something can be saved. Where the last write failed because of the
// file or its disk, it tries: a disk that takes a small write may be too full for an order.
func (db *DB) Writable(ctx context.Context) error {
	if err := db.stays(); err != nil || !db.failing.Load() {
		return err
	}
	if db.says != postgresSQL {
		if err := disk.Fits(filepath.Dir(db.path), roomToWork); err != nil {
			return told(err)
		}
	}
	return whole{db}.Write(ctx, func(t tx) error { return t.db.Exec("UPDATE shop SET version = version").Error })
}
