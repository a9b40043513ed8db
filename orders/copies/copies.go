// Package copies makes backups of a shop's database while it is used, holds each against
// what it should be, and keeps the newest few.
package copies

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/disk"
)

// A Source is a database that can be copied while it is used.
type Source interface {
	// CopyTo writes all that was saved to a new file.
	CopyTo(ctx context.Context, path string) error
}

// A Keeper makes copies of one database in one folder.
type Keeper struct {
	Folder string // has to be there: that of a disk which isn't in is not made on another
	Stem   string // what its copies' names begin with
	Keep   int    // how many good copies stay, from 1; 0: all
	// Beside are the files that belong to a database, by what is added to its name, such
	// as ".ca.key"; one that isn't there is left out.
	Beside map[string]string
	// Check holds a copy against what it should be and gives what doesn't agree.
	Check func(ctx context.Context, path string) ([]measure.Text, error)
	Now   func() time.Time
}

// A Copy is one that was made.
type Copy struct {
	Path   string
	At     time.Time // what was saved by then is in it
	With   []string  // the files beside it
	Faults []measure.Text
	Gone   []string // older copies that were removed for it
}

const (
	stamp    = "20060102T150405Z"
	ending   = ".db"
	unheld   = ".part"   // not whole yet
	disputed = ".faulty" // held, and found not to agree
)

// Make makes one copy with the files that belong to it. It is named only once it was
// written whole and held against what it should be, and older ones go only then. One that
// doesn't agree is kept under a name that says so, and then none goes.
func (k Keeper) Make(ctx context.Context, from Source) (Copy, error) {
	if info, err := os.Stat(k.Folder); err != nil || !info.IsDir() {
		return Copy{}, fmt.Errorf("the folder %s isn’t there; see whether its disk is in, or make the folder first", k.Folder)
	}
	c := Copy{At: k.Now().UTC()}
	part := filepath.Join(k.Folder, k.Stem+"-"+c.At.Format(stamp)+unheld)
	if err := k.clean(c.At.Add(-leftAfter).Format(stamp)); err != nil {
		return Copy{}, err
	}
	with, err := k.lay(part) // before the database, so that a witness never knows more than the copy
	if err == nil {
		err = from.CopyTo(ctx, part)
	}
	if err == nil {
		c.Faults, err = k.Check(ctx, part)
	}
	if err != nil {
		return Copy{}, errors.Join(err, k.drop(filepath.Base(part)))
	}
	if err := k.name(&c, part, with); err != nil {
		return Copy{}, err
	}
	if len(c.Faults) == 0 {
		c.Gone, err = k.thin()
	}
	return c, err
}

// lay copies the files that belong to the database beside a copy of it, and gives what is
// added to its name for each.
func (k Keeper) lay(part string) (with []string, err error) {
	for added, path := range k.Beside {
		err := disk.CopyFile(path, part+added)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		with = append(with, added)
	}
	slices.Sort(with)
	return with, nil
}

// name gives a copy its name, the database last.
func (k Keeper) name(c *Copy, part string, with []string) error {
	c.Path = strings.TrimSuffix(part, unheld)
	if len(c.Faults) > 0 {
		c.Path += disputed
	}
	c.Path += ending
	if _, err := os.Lstat(c.Path); err == nil {
		return fmt.Errorf("%s is there already and is left as it is", c.Path)
	}
	for _, added := range append(with, "") {
		if err := os.Rename(part+added, c.Path+added); err != nil {
			return err
		}
		if added != "" {
			c.With = append(c.With, c.Path+added)
		}
	}
	return disk.SyncFolder(k.Folder)
}

// leftAfter is when a copy that isn't whole yet is taken for one that was cut short: another
// program may be making one.
const leftAfter = 24 * time.Hour

// clean removes what is left of copies that were begun by then and are not whole.
func (k Keeper) clean(until string) error {
	names, err := k.named(func(begun, rest string) bool { return begun <= until && strings.HasPrefix(rest, unheld) })
	return errors.Join(err, k.remove(names))
}

// drop removes a copy with what lies beside it.
func (k Keeper) drop(name string) error {
	all, err := k.named(func(begun, rest string) bool { return strings.HasPrefix(k.Stem+"-"+begun+rest, name) })
	return errors.Join(err, k.remove(all))
}

func (k Keeper) remove(names []string) (err error) {
	for _, name := range names {
		err = errors.Join(err, os.Remove(filepath.Join(k.Folder, name)))
	}
	return err
}

// thin removes the oldest good copies beyond those that are kept, with what lies beside
// them.
func (k Keeper) thin() (gone []string, err error) {
	good, err := k.named(func(_, rest string) bool { return rest == ending })
	if err != nil || k.Keep == 0 || len(good) <= k.Keep {
		return nil, err
	}
	for _, name := range good[:len(good)-k.Keep] {
		if err := k.drop(name); err != nil {
			return gone, err
		}
		gone = append(gone, name)
	}
	return gone, disk.SyncFolder(k.Folder)
}

// Newest is when the newest good copy was made; zero where there is none.
func (k Keeper) Newest() (time.Time, error) {
	good, err := k.named(func(_, rest string) bool { return rest == ending })
	if err != nil || len(good) == 0 {
		return time.Time{}, err
	}
	last := good[len(good)-1]
	return time.Parse(stamp, last[len(k.Stem)+1:len(k.Stem)+1+len(stamp)])
}

// named are the files of the folder that are this database's copies or lie beside one, by
// age, as far as wanted tells by the time in a name and what follows it.
func (k Keeper) named(wanted func(begun, rest string) bool) (names []string, err error) {
	files, err := os.ReadDir(k.Folder)
	if err != nil {
		return nil, err
	}
	for _, file := range files {
		rest, ours := strings.CutPrefix(file.Name(), k.Stem+"-")
		if !ours || len(rest) < len(stamp) {
			continue
		}
		if _, err := time.Parse(stamp, rest[:len(stamp)]); err == nil && wanted(rest[:len(stamp)], rest[len(stamp):]) {
			names = append(names, file.Name())
		}
	}
	return names, nil // ReadDir sorts by name, which begins with the time
}
