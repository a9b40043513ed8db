-- When an order is to be delivered: its first and last day, empty where none was said, and
-- the part of the day or its hours ("15:04").

-- +goose Up

ALTER TABLE orders ADD COLUMN day_from TEXT NOT NULL DEFAULT '' CHECK (length(day_from) IN (0, 10));
ALTER TABLE orders ADD COLUMN day_to TEXT NOT NULL DEFAULT '' CHECK (length(day_to) IN (0, 10));
ALTER TABLE orders ADD COLUMN day_part TEXT NOT NULL DEFAULT '';
ALTER TABLE orders ADD COLUMN day_after TEXT NOT NULL DEFAULT '';
ALTER TABLE orders ADD COLUMN day_before TEXT NOT NULL DEFAULT '';
