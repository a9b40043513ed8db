-- Links by which a calendar program reads the deliveries; of the code only the hash is kept.

-- +goose Up

CREATE TABLE calendar_links (
  id          TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  code_sha256 TEXT    NOT NULL UNIQUE CHECK (length(code_sha256) = 64),
  person_id   TEXT REFERENCES people (id), -- null where nobody signs in
  person      TEXT    NOT NULL,
  made        INTEGER NOT NULL,
  withdrawn   INTEGER
) STRICT;
CREATE INDEX calendar_links_person ON calendar_links (person_id);
