-- What an order's line says of how it is split, and whether it is to be stacked where it
-- goes; empty where that wasn't said.

-- +goose Up

ALTER TABLE orders ADD COLUMN split TEXT NOT NULL DEFAULT '';
ALTER TABLE orders ADD COLUMN stacking TEXT NOT NULL DEFAULT '';
