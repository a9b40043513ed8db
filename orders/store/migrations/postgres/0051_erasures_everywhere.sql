-- What names were erased of, besides receipts and sheets. There is no database on a server
-- from before this, so nothing is taken out of older rows.

-- +goose Up

CREATE TABLE erased_records (
  kind       TEXT COLLATE "C" NOT NULL CHECK (kind IN ('order', 'place', 'case', 'audit')),
  id         TEXT COLLATE "C" NOT NULL CHECK (length(id) = 36),
  erasure_id TEXT COLLATE "C" NOT NULL REFERENCES erasures (id),
  PRIMARY KEY (kind, id)
);

CREATE INDEX erased_records_erasure ON erased_records (erasure_id);
