-- The id of the batch that wood is set aside from for an order; empty where none is.

-- +goose Up

ALTER TABLE orders ADD COLUMN set_aside TEXT NOT NULL DEFAULT '' CHECK (length(set_aside) IN (0, 36));
