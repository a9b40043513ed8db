-- +goose Up
ALTER TABLE sessions ADD COLUMN program TEXT NOT NULL DEFAULT ''; -- what the program is called that this is the token of; empty: a browser's session
