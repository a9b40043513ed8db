package store

import (
	"database/sql"
	"fmt"
	"strings"

	"gorm.io/gorm"
)

// A dialect is which SQL the database speaks. What its methods give is all that SQLite and
// PostgreSQL say differently, besides the migrations (migrate_server.go) and what each says
// of itself (journal_table.go).
type dialect int

const (
	sqliteSQL dialect = iota
	postgresSQL
)

// bytes is a text of ASCII as bytes; none for "".
func (d dialect) bytes(text string) string {
	if d == postgresSQL {
		return fmt.Sprintf(`'\x%x'::bytea`, text)
	}
	return fmt.Sprintf("x'%x'", text)
}

// textOf is the text that bytes are.
func (d dialect) textOf(column string) string {
	if d == postgresSQL {
		return "convert_from(" + column + ", 'UTF8')"
	}
	return "CAST(" + column + " AS TEXT)"
}

// bytesOf are the bytes of a text.
func (d dialect) bytesOf(text string) string {
	if d == postgresSQL {
		return "convert_to(" + text + ", 'UTF8')"
	}
	return "CAST(" + text + " AS BLOB)"
}

// without is a text of JSON less some members of its object.
func (d dialect) without(text string, members ...string) string {
	if d == postgresSQL {
		return "(" + text + "::jsonb - '{" + strings.Join(members, ",") + "}'::text[])::text"
	}
	return "json_remove(" + text + ", '$." + strings.Join(members, "', '$.") + "')"
}

// with is a text of JSON with a member of its object set to a JSON value, as text and json
// give one.
func (d dialect) with(text, member, value string) string {
	if d == postgresSQL {
		return "jsonb_set(" + text + "::jsonb, '{" + member + "}', " + value + ")::text"
	}
	return "json_set(" + text + ", '$." + member + "', " + value + ")"
}

// text is a text as a JSON value.
func (d dialect) text(value string) string {
	if d == postgresSQL {
		return "to_jsonb(CAST(" + value + " AS TEXT))"
	}
	return value
}

// json is JSON that is written out.
func (d dialect) json(literal string) string {
	if d == postgresSQL {
		return "'" + literal + "'::jsonb"
	}
	return "json('" + literal + "')"
}

// member is a member of a text of JSON as text, by the members that lead to it; null where
// it isn't there.
func (d dialect) member(text string, path ...string) string {
	if d == postgresSQL {
		return text + "::jsonb #>> '{" + strings.Join(path, ",") + "}'"
	}
	return text + " ->> '$." + strings.Join(path, ".") + "'"
}

// whole is a text that is a whole number, as one.
func whole64(text string) string { return "CAST(" + text + " AS BIGINT)" }

// elements are the elements of a text of JSON, each a row named e with the element as text
// in its column j.
func (d dialect) elements(text string) string {
	if d == postgresSQL {
		return "(SELECT value::text AS j FROM jsonb_array_elements(" + text + "::jsonb)) e"
	}
	return "(SELECT value AS j FROM json_each(" + text + ")) e"
}

// list is a text of JSON with all rows of a group; of texts of JSON where they are such.
func (d dialect) list(value string, ofJSON bool) string {
	switch {
	case d == postgresSQL && ofJSON:
		return "coalesce(jsonb_agg(" + value + "::jsonb), '[]')::text"
	case d == postgresSQL:
		return "coalesce(jsonb_agg(" + value + "), '[]')::text"
	}
	return "json_group_array(" + value + ")"
}

// alone makes a transaction the only one that writes, also among programs: PostgreSQL's by a
// lock on the shop's row, which all of them take first; SQLite's have the file's.
func (d dialect) alone(g *gorm.DB) error {
	if d != postgresSQL {
		return nil
	}
	return g.Exec(lockShop).Error
}

const lockShop = `SELECT id FROM shop WHERE id = 1 FOR UPDATE`

// exists asks for how many tables there are of a name.
func (d dialect) exists() string {
	if d == postgresSQL {
		return `SELECT count(*) FROM pg_tables WHERE schemaname = current_schema() AND tablename = ?`
	}
	return `SELECT count(*) FROM sqlite_schema WHERE name = ?`
}

// reading is a transaction that sees all as it is at one instant and changes nothing.
func (d dialect) reading() *sql.TxOptions {
	if d == postgresSQL {
		return &sql.TxOptions{ReadOnly: true, Isolation: sql.LevelRepeatableRead}
	}
	return &sql.TxOptions{ReadOnly: true}
}
