-- Readings that were taken before it was known which order they are of.

-- +goose Up

CREATE TABLE loose_readings (
  id      TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  kind    TEXT    NOT NULL,
  typed   TEXT    NOT NULL, -- the form's fields, as a query
  made_by TEXT    NOT NULL,
  created INTEGER NOT NULL
) STRICT;
