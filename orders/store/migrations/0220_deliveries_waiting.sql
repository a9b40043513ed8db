-- Deliveries that can still be taken back: their receipt is numbered a minute later, and the
-- row goes.

-- +goose Up

CREATE TABLE deliveries_waiting (
  order_id TEXT    NOT NULL PRIMARY KEY REFERENCES orders (id),
  body     TEXT    NOT NULL CHECK (json_valid(body)), -- minute.Delivery
  due      INTEGER NOT NULL
) STRICT;
