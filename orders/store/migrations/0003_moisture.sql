-- Moisture readings of an order's wood, as read, and what they came to.

-- +goose Up

CREATE TABLE moistures (
  id       TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id TEXT    NOT NULL REFERENCES orders (id),
  readings TEXT    NOT NULL CHECK (json_valid(readings)),
  season   TEXT    NOT NULL CHECK (json_valid(season)),
  read_by  TEXT    NOT NULL CHECK (read_by <> ''),
  read_on  TEXT    NOT NULL CHECK (length(read_on) = 10),
  created  INTEGER NOT NULL
) STRICT;

CREATE INDEX moistures_order ON moistures (order_id, created);
