-- Buyers' cases: what a buyer says, measures and writes of one delivery. All of it is
-- only ever added to. A link to a case is kept as the hash of its code.

-- +goose Up

CREATE TABLE cases (
  id      TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  receipt INTEGER UNIQUE REFERENCES receipts (number), -- null: bought elsewhere
  created INTEGER NOT NULL
) STRICT;

CREATE TABLE case_accounts (
  case_id TEXT    NOT NULL REFERENCES cases (id),
  version INTEGER NOT NULL CHECK (version >= 1),
  words   TEXT    NOT NULL, -- the quantity as said; stays inside
  account TEXT    NOT NULL CHECK (json_valid(account)),
  at      INTEGER NOT NULL,
  PRIMARY KEY (case_id, version)
) STRICT;

CREATE TABLE case_tallies (
  case_id  TEXT    NOT NULL REFERENCES cases (id),
  look     INTEGER NOT NULL CHECK (look >= 1),
  document BLOB    NOT NULL,
  result   BLOB    NOT NULL,
  model    INTEGER NOT NULL CHECK (model >= 1),
  read_by  TEXT    NOT NULL CHECK (read_by <> ''),
  created  INTEGER NOT NULL,
  PRIMARY KEY (case_id, look)
) STRICT;

CREATE TABLE case_entries (
  id      TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  case_id TEXT    NOT NULL REFERENCES cases (id),
  kind    TEXT    NOT NULL CHECK (kind IN ('claim', 'answer', 'reply', 'office')),
  party   TEXT    NOT NULL CHECK (party IN ('buyer', 'seller')),
  by      TEXT    NOT NULL,
  text    TEXT    NOT NULL,
  remedy  TEXT    NOT NULL CHECK (remedy IN ('', 'wood', 'money', 'together', 'disagree')),
  accepts TEXT    NOT NULL CHECK (accepts IN ('', 'yes', 'no')),
  at      INTEGER NOT NULL
) STRICT;

CREATE INDEX case_entries_case ON case_entries (case_id);

CREATE TABLE buyer_links (
  id          TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  receipt     INTEGER NOT NULL REFERENCES receipts (number),
  code_sha256 TEXT    NOT NULL UNIQUE CHECK (length(code_sha256) = 64),
  made        INTEGER NOT NULL,
  made_by     TEXT    NOT NULL,
  withdrawn   INTEGER -- null while it holds
) STRICT;

CREATE INDEX buyer_links_receipt ON buyer_links (receipt);
CREATE UNIQUE INDEX buyer_links_one_holds ON buyer_links (receipt) WHERE withdrawn IS NULL;
