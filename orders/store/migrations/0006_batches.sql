-- Batches of wood, what was written down of them later, the loads drawn from them
-- and their moisture readings; and heat-treatment certificates.

-- +goose Up

-- A batch as it was put up; an empty day is not known.
CREATE TABLE batches (
  id           TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  name         TEXT    NOT NULL CHECK (name <> ''),
  species      TEXT    NOT NULL CHECK (species <> ''),
  quantity     INTEGER NOT NULL CHECK (quantity > 0),
  basis        TEXT    NOT NULL CHECK (basis IN ('ranked', 'loose')),
  piece_length INTEGER NOT NULL CHECK (piece_length > 0),
  cut_on       TEXT    NOT NULL CHECK (length(cut_on) IN (0, 10)),
  split_on     TEXT    NOT NULL CHECK (length(split_on) IN (0, 10)),
  origin       TEXT    NOT NULL,
  certificate  TEXT    NOT NULL,
  notes        TEXT    NOT NULL,
  put_up_by    TEXT    NOT NULL CHECK (put_up_by <> ''),
  created      INTEGER NOT NULL
) STRICT;

-- What was written down later; entries are only ever added.
CREATE TABLE batch_entries (
  id         TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  batch_id   TEXT    NOT NULL REFERENCES batches (id),
  seq        INTEGER NOT NULL CHECK (seq >= 1),
  kind       TEXT    NOT NULL CHECK (kind IN ('corrected', 'recounted', 'used up')),
  facts      TEXT    CHECK (json_valid(facts)), -- of a correction
  remaining  INTEGER NOT NULL CHECK (remaining >= 0), -- of a recount
  after      INTEGER NOT NULL CHECK (after >= 0), -- the last receipt's number then
  written_on TEXT    NOT NULL CHECK (length(written_on) = 10),
  reason     TEXT    NOT NULL CHECK (reason <> ''),
  written_by TEXT    NOT NULL CHECK (written_by <> ''),
  created    INTEGER NOT NULL,
  UNIQUE (batch_id, seq)
) STRICT;

ALTER TABLE loads ADD COLUMN batch_id TEXT REFERENCES batches (id);

CREATE INDEX loads_batch ON loads (batch_id, receipt);

ALTER TABLE orders ADD COLUMN certificate TEXT NOT NULL DEFAULT '';

-- Readings belong to an order or to a batch.
CREATE TABLE readings (
  id       TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id TEXT    REFERENCES orders (id),
  batch_id TEXT    REFERENCES batches (id),
  readings TEXT    NOT NULL CHECK (json_valid(readings)),
  season   TEXT    NOT NULL CHECK (json_valid(season)),
  read_by  TEXT    NOT NULL CHECK (read_by <> ''),
  read_on  TEXT    NOT NULL CHECK (length(read_on) = 10),
  created  INTEGER NOT NULL,
  CHECK ((order_id IS NULL) <> (batch_id IS NULL))
) STRICT;

INSERT INTO readings (id, order_id, readings, season, read_by, read_on, created)
SELECT id, order_id, readings, season, read_by, read_on, created FROM moistures;

DROP TABLE moistures;

ALTER TABLE readings RENAME TO moistures;

CREATE INDEX moistures_order ON moistures (order_id, created);
CREATE INDEX moistures_batch ON moistures (batch_id, created);
