-- Draws of samples of packaged lots: every seed that was drawn for a lot. lot_key is the
-- lot's name in small letters with single blanks.

-- +goose Up

CREATE TABLE lot_draws (
  id      TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  lot_key TEXT    NOT NULL,
  lot     TEXT    NOT NULL CHECK (lot <> ''),
  size    INTEGER NOT NULL CHECK (size >= 1),
  seed    TEXT    NOT NULL CHECK (seed <> ''), -- a whole number of up to 64 bits
  typed   INTEGER NOT NULL CHECK (typed IN (0, 1)),
  person  TEXT    NOT NULL,
  at      INTEGER NOT NULL
) STRICT;

CREATE INDEX lot_draws_lot ON lot_draws (lot_key, at);
