-- What the program is called that a session is the token of; empty: a browser's session.

-- +goose Up

ALTER TABLE sessions ADD COLUMN program TEXT NOT NULL DEFAULT '';
