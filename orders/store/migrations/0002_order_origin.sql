-- The county and state an order's wood was cut in, for laws that ask for it.

-- +goose Up

ALTER TABLE orders ADD COLUMN origin TEXT NOT NULL DEFAULT '';
