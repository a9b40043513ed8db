-- Photos of an order: of the load, the stack, a ticket, or where it was put.

-- +goose Up

CREATE TABLE order_photos (
  id       TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id TEXT    NOT NULL REFERENCES orders (id),
  sheet    INTEGER REFERENCES sheets (number), -- that names it
  facts    TEXT    NOT NULL CHECK (json_valid(facts)), -- photos.Kept
  sha256   TEXT    NOT NULL CHECK (length(sha256) = 64),
  original BLOB    NOT NULL,
  shown    BLOB    NOT NULL, -- a copy without what is hidden in the original
  added    INTEGER NOT NULL
) STRICT;

CREATE INDEX order_photos_order ON order_photos (order_id);
CREATE INDEX order_photos_sheet ON order_photos (sheet);
