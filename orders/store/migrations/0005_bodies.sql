-- Bodies of trucks and trailers, taped once up to a line.

-- +goose Up

CREATE TABLE bodies (
  id       TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  name     TEXT    NOT NULL CHECK (name <> ''),
  line     TEXT    NOT NULL CHECK (line <> ''),
  stack    TEXT    NOT NULL CHECK (json_valid(stack)),
  volume   INTEGER NOT NULL CHECK (volume > 0),
  basis    TEXT    NOT NULL CHECK (basis IN ('ranked', 'loose')),
  taped_on TEXT    NOT NULL CHECK (length(taped_on) = 10),
  taped_by TEXT    NOT NULL CHECK (taped_by <> ''),
  created  INTEGER NOT NULL,
  retired  INTEGER NOT NULL CHECK (retired IN (0, 1))
) STRICT;
