-- A price for one unit of sale where the rules know no cord; null where there is none.

-- +goose Up

ALTER TABLE orders ADD COLUMN per_unit INTEGER CHECK (per_unit >= 0);
ALTER TABLE orders ADD COLUMN price_unit TEXT NOT NULL DEFAULT '';
