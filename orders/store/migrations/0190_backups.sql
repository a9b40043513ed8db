-- Backups that were made and held: when, of which file, and who asked for it. The number in
-- the file's head says that a program leaves the file without a log when it closes it, so
-- that a copy that was taken without its log can be told.

-- +goose Up

PRAGMA application_id = 1467184177;

CREATE TABLE backups (
  id     INTEGER PRIMARY KEY NOT NULL,
  at     INTEGER NOT NULL,
  path   TEXT    NOT NULL CHECK (path <> ''),
  person TEXT    NOT NULL
) STRICT;
