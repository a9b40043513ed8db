-- Whether a person said where the shop is: its time zone and its currency. A shop that is
-- in UTC, as a new one is, was not asked before this.

-- +goose Up

ALTER TABLE shop ADD COLUMN located INTEGER NOT NULL DEFAULT 0 CHECK (located IN (0, 1));
UPDATE shop SET located = 1 WHERE zone <> 'UTC';
