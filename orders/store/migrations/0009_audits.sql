-- Audits: a delivery checked by others than its seller and buyer. What is written down
-- of one is only ever added to. A hand's link is kept as the hash of its code.

-- +goose Up

CREATE TABLE counters_now (
  name TEXT    NOT NULL PRIMARY KEY CHECK (name IN ('order', 'receipt', 'sheet', 'audit', 'case')),
  last INTEGER NOT NULL CHECK (last >= 0)
) STRICT;

INSERT INTO counters_now (name, last) SELECT name, last FROM counters;
INSERT INTO counters_now (name, last) VALUES ('audit', 0), ('case', 0);
DROP TABLE counters;
ALTER TABLE counters_now RENAME TO counters;

-- Besides the head, what lists and series are read by: seller_key is the seller's name
-- in small letters with single blanks; word and result are empty until it is closed.
CREATE TABLE audits (
  id         TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  number     INTEGER NOT NULL UNIQUE CHECK (number >= 1),
  version    INTEGER NOT NULL CHECK (version >= 1),
  receipt    INTEGER REFERENCES receipts (number), -- null for a load with no order
  subject    TEXT    NOT NULL CHECK (json_valid(subject)),
  capacity   TEXT    NOT NULL CHECK (json_valid(capacity)),
  seller     TEXT    NOT NULL,
  seller_key TEXT    NOT NULL,
  sold       INTEGER NOT NULL CHECK (sold > 0),
  basis      TEXT    NOT NULL CHECK (basis IN ('ranked', 'loose', 'container')),
  delivered  TEXT    NOT NULL CHECK (length(delivered) = 10),
  opened_by  TEXT    NOT NULL CHECK (opened_by <> ''),
  opened     INTEGER NOT NULL,
  closed     INTEGER, -- null while it is open
  word       TEXT    NOT NULL,
  result     TEXT    NOT NULL CHECK (result = '' OR json_valid(result))
) STRICT;

CREATE INDEX audits_receipt ON audits (receipt);
CREATE INDEX audits_seller ON audits (seller_key, number);

CREATE TABLE audit_entries (
  audit_id TEXT    NOT NULL REFERENCES audits (id),
  n        INTEGER NOT NULL CHECK (n >= 1),
  kind     TEXT    NOT NULL CHECK (kind IN ('notice', 'attendance', 'hold', 'plan', 'item', 'note')),
  body     TEXT    NOT NULL CHECK (json_valid(body)),
  person   TEXT    NOT NULL CHECK (person <> ''),
  written  INTEGER NOT NULL,
  PRIMARY KEY (audit_id, n)
) STRICT;

CREATE TABLE audit_hands (
  id          TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  audit_id    TEXT    NOT NULL REFERENCES audits (id),
  n           INTEGER NOT NULL CHECK (n >= 1),
  name        TEXT    NOT NULL CHECK (name <> ''),
  code_sha256 TEXT    NOT NULL UNIQUE CHECK (length(code_sha256) = 64),
  added       INTEGER NOT NULL,
  renewed     INTEGER, -- null where the first link still holds
  UNIQUE (audit_id, n)
) STRICT;

CREATE TABLE audit_readings (
  hand_id  TEXT    NOT NULL REFERENCES audit_hands (id),
  n        INTEGER NOT NULL CHECK (n >= 1),
  typed    BLOB    NOT NULL, -- the form as it was filled in; empty where a program sent it
  document BLOB    NOT NULL,
  created  INTEGER NOT NULL,
  handed   INTEGER NOT NULL CHECK (handed IN (0, 1)), -- 0: a draft
  struck   INTEGER, -- null unless a correction struck it
  reason   TEXT    NOT NULL, -- why it was struck
  PRIMARY KEY (hand_id, n)
) STRICT;

CREATE TABLE audit_photos (
  id          TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  audit_id    TEXT    NOT NULL REFERENCES audits (id),
  facts       TEXT    NOT NULL CHECK (json_valid(facts)),
  sha256      TEXT    NOT NULL CHECK (length(sha256) = 64),
  original    BLOB    NOT NULL,
  shown       BLOB    NOT NULL, -- a copy without what is hidden in the original
  added       INTEGER NOT NULL
) STRICT;

CREATE INDEX audit_photos_audit ON audit_photos (audit_id);

-- The report as written when the audit was closed.
CREATE TABLE audit_reports (
  audit_id      TEXT    NOT NULL PRIMARY KEY REFERENCES audits (id),
  issued        INTEGER NOT NULL,
  report        BLOB    NOT NULL,
  report_sha256 TEXT    NOT NULL CHECK (length(report_sha256) = 64),
  pdf           BLOB    NOT NULL,
  pdf_sha256    TEXT    NOT NULL CHECK (length(pdf_sha256) = 64)
) STRICT;
