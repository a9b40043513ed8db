-- Who works with the shop, how they are let in, and the log of it. Of tokens and codes
-- only the SHA-256 is kept, of passwords argon2id.

-- +goose Up

CREATE TABLE people (
  id       TEXT PRIMARY KEY CHECK (length(id) = 36),
  name     TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (name <> ''),
  role     TEXT NOT NULL CHECK (role IN ('owner', 'driver', 'auditor')),
  state    TEXT NOT NULL CHECK (state IN ('in', 'out')),
  password TEXT NOT NULL,
  version  INTEGER NOT NULL,
  created  INTEGER NOT NULL
) STRICT;

CREATE TABLE sessions (
  id           TEXT PRIMARY KEY CHECK (length(id) = 36),
  token_sha256 TEXT NOT NULL UNIQUE CHECK (length(token_sha256) = 64),
  person_id    TEXT NOT NULL REFERENCES people (id),
  own          INTEGER NOT NULL CHECK (own IN (0, 1)),
  device       TEXT NOT NULL,
  begun        INTEGER NOT NULL,
  seen         INTEGER NOT NULL,
  sure         INTEGER NOT NULL,
  ended        INTEGER
) STRICT;

CREATE INDEX sessions_person ON sessions (person_id);

CREATE TABLE entry_codes (
  code_sha256 TEXT PRIMARY KEY CHECK (length(code_sha256) = 64),
  purpose     TEXT NOT NULL CHECK (purpose IN ('phone', 'owner')),
  person_id   TEXT REFERENCES people (id),
  made        INTEGER NOT NULL,
  until       INTEGER NOT NULL,
  used        INTEGER
) STRICT;

CREATE INDEX entry_codes_person ON entry_codes (person_id);

CREATE TABLE recovery_codes (
  code_sha256 TEXT PRIMARY KEY CHECK (length(code_sha256) = 64),
  person_id   TEXT NOT NULL REFERENCES people (id),
  used        INTEGER NOT NULL CHECK (used IN (0, 1))
) STRICT;

CREATE INDEX recovery_codes_person ON recovery_codes (person_id);

CREATE TABLE people_log (
  id        INTEGER PRIMARY KEY NOT NULL,
  at        INTEGER NOT NULL,
  what      TEXT NOT NULL,
  name      TEXT NOT NULL,
  by        TEXT NOT NULL,
  came_from TEXT NOT NULL
) STRICT;
