-- Sheets are chained as receipts are. Those made before have no hash of their own,
-- and hold their purchaser in their bytes.

-- +goose Up

ALTER TABLE sheets ADD COLUMN sheet_sha256    TEXT NOT NULL DEFAULT '';
ALTER TABLE sheets ADD COLUMN personal        BLOB NOT NULL DEFAULT x'';
ALTER TABLE sheets ADD COLUMN salt            BLOB NOT NULL DEFAULT x'';
ALTER TABLE sheets ADD COLUMN personal_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE sheets ADD COLUMN chain           TEXT NOT NULL DEFAULT '';
