-- The journal: one act for each write, each holding the hash of the one before, and the
-- rows that it changed. Of a row only hashes are kept, salted: the salt of the newest change
-- stands beside it, and goes when the row is changed again, so that nothing of what a row
-- held before can be guessed.

-- +goose Up

CREATE TABLE journal_acts (
  id          INTEGER PRIMARY KEY NOT NULL,
  at          INTEGER NOT NULL,
  person      TEXT    NOT NULL,
  session     TEXT    NOT NULL,
  verb        TEXT    NOT NULL CHECK (verb <> ''),
  subject     TEXT    NOT NULL,
  request     TEXT    NOT NULL,
  rows_sha256 TEXT    NOT NULL CHECK (length(rows_sha256) = 64),
  chain       TEXT    NOT NULL CHECK (length(chain) = 64)
) STRICT;

CREATE INDEX journal_acts_subject ON journal_acts (subject) WHERE subject <> '';
CREATE INDEX journal_acts_tables ON journal_acts (id) WHERE verb = 'tables';

CREATE TABLE journal_rows (
  id         INTEGER PRIMARY KEY NOT NULL,
  act_id     INTEGER NOT NULL REFERENCES journal_acts (id),
  of_table   TEXT    NOT NULL,
  key        TEXT    NOT NULL,
  did        TEXT    NOT NULL CHECK (did IN ('begun', 'added', 'changed', 'gone')),
  fields     TEXT    NOT NULL,
  before     TEXT    NOT NULL,
  after      TEXT    NOT NULL,
  salt       BLOB, -- null once the row changed again, or where it is gone
  marks      BLOB    NOT NULL -- the beginning of each field's hash, to tell which differs; empty without salt
) STRICT;

CREATE INDEX journal_rows_act ON journal_rows (act_id);
CREATE INDEX journal_rows_key ON journal_rows (of_table, key, id);

ALTER TABLE requests ADD COLUMN session TEXT NOT NULL DEFAULT '';
