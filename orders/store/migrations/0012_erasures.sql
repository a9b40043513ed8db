-- Erasures of names: who, when, and of which papers. A paper named here has no personal
-- part, no salt and no PDF; its hashes stay. cleared is when the file was rewritten
-- since, null until then.

-- +goose Up

CREATE TABLE erasures (
  id      TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  person  TEXT    NOT NULL,
  at      INTEGER NOT NULL,
  cleared INTEGER
) STRICT;

CREATE TABLE erased_papers (
  paper      TEXT    NOT NULL CHECK (paper IN ('receipt', 'sheet')),
  number     INTEGER NOT NULL CHECK (number >= 1),
  erasure_id TEXT    NOT NULL REFERENCES erasures (id),
  PRIMARY KEY (paper, number)
) STRICT;

CREATE INDEX erased_papers_erasure ON erased_papers (erasure_id);

CREATE VIEW erased AS
SELECT p.paper, p.number, e.at FROM erased_papers p JOIN erasures e ON e.id = p.erasure_id;
