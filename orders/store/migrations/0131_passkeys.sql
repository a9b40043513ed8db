-- Passkeys: what is public of them, by which a person shows who it is. The secret never
-- leaves the device.

-- +goose Up

CREATE TABLE passkeys (
  id         TEXT PRIMARY KEY CHECK (length(id) = 36),
  person_id  TEXT NOT NULL REFERENCES people (id),
  device     TEXT NOT NULL,
  credential TEXT NOT NULL,
  added      INTEGER NOT NULL
) STRICT;

CREATE INDEX passkeys_person ON passkeys (person_id);
