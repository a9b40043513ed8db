-- What the tax office knows the shop by, as its receipts print it; empty where none is.

-- +goose Up

ALTER TABLE shop ADD COLUMN tax_number TEXT NOT NULL DEFAULT '';
