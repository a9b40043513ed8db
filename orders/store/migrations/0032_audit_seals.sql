-- Readings handed in for an audit are sealed, with when, as what and with which tape they
-- were read; that a measurer's link was opened is kept.

-- +goose Up

-- circumstances, salt and seal are empty in drafts, and in readings from before.
ALTER TABLE audit_readings ADD COLUMN circumstances TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(circumstances));
ALTER TABLE audit_readings ADD COLUMN salt BLOB NOT NULL DEFAULT x'';
ALTER TABLE audit_readings ADD COLUMN seal TEXT NOT NULL DEFAULT '';

-- Which of a measurer's links holds, from 1.
ALTER TABLE audit_measurers ADD COLUMN link INTEGER NOT NULL DEFAULT 1 CHECK (link >= 1);
UPDATE audit_measurers SET link = 2 WHERE renewed IS NOT NULL;

CREATE TABLE audit_link_openings (
  measurer_id TEXT    NOT NULL REFERENCES audit_measurers (id),
  at          INTEGER NOT NULL,
  link        INTEGER NOT NULL CHECK (link >= 1),
  PRIMARY KEY (measurer_id, link, at)
) STRICT;
