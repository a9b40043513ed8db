-- The price list: each line is the price of something from a day on, or that it isn't
-- offered from then on. Lines are only ever added.

-- +goose Up

CREATE TABLE price_lines (
  id           TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  kind         TEXT    NOT NULL CHECK (kind IN ('wood', 'delivery', 'stacking', 'least')),
  species      TEXT    NOT NULL,
  piece_length INTEGER NOT NULL CHECK (piece_length >= 0),
  seasoning    TEXT    NOT NULL CHECK (seasoning IN ('', 'green', 'seasoned', 'kiln-dried')),
  quantity     INTEGER NOT NULL CHECK (quantity >= 0), -- that the price is for
  basis        TEXT    NOT NULL CHECK (basis IN ('', 'ranked', 'loose', 'container')),
  place        TEXT    NOT NULL,
  price        INTEGER NOT NULL CHECK (price >= 0),
  currency     TEXT    NOT NULL,
  from_on      TEXT    NOT NULL CHECK (length(from_on) = 10),
  ended        INTEGER NOT NULL CHECK (ended IN (0, 1)),
  written_by   TEXT    NOT NULL CHECK (written_by <> ''),
  created      INTEGER NOT NULL
) STRICT;
