package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"wellstowed/orders/disk"
)

// CopyTo writes all that is saved to a new file, as it is at one instant and whole in
// itself, while others read and write on. Nothing that was deleted is in it. A file that
// is there is left alone; one that was begun and failed is removed.
func (db *DB) CopyTo(ctx context.Context, path string) error {
	if db.says == postgresSQL {
		return errors.New("a database on a server isn’t a file that can be copied")
	}
	full, err := filepath.Abs(path)
	if err != nil {
		return err
	}
	file, err := os.OpenFile(full, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer file.Close()
	_, err = db.pool.ExecContext(ctx, "VACUUM INTO ?", full)
	if err == nil {
		err = errors.Join(file.Sync(), disk.SyncFolder(filepath.Dir(full)))
	}
	if err != nil {
		return errors.Join(fmt.Errorf("copying to %s: %w", path, err), os.Remove(full))
	}
	return nil
}

// Damage is what SQLite finds wrong with the file: its own check of all pages and indexes,
// and rows that name another that isn't there.
func (t tx) Damage() ([]string, error) {
	if t.says == postgresSQL {
		return t.serverDamage()
	}
	var found []string
	var pages []string
	if err := t.db.Raw("PRAGMA integrity_check(20)").Scan(&pages).Error; err != nil {
		return nil, err
	}
	if len(pages) != 1 || pages[0] != "ok" {
		found = append(found, pages...)
	}
	var orphans []struct {
		Table  string `gorm:"column:table"`
		RowID  int64  `gorm:"column:rowid"`
		Parent string
	}
	if err := t.db.Raw(`SELECT "table", rowid, parent FROM pragma_foreign_key_check LIMIT 20`).Scan(&orphans).Error; err != nil {
		return nil, err
	}
	for _, o := range orphans {
		found = append(found, fmt.Sprintf("row %d of %s names a row of %s that is not there", o.RowID, o.Table, o.Parent))
	}
	return found, nil
}
