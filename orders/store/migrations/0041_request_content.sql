-- What a request sent, hashed, so that the same id with other content is told from a
-- repetition. Empty for requests from before, and once names were erased.

-- +goose Up
ALTER TABLE requests ADD COLUMN content TEXT NOT NULL DEFAULT '';
