-- Instants are UTC microseconds. Volumes are nanolitres, lengths nanometres,
-- amounts minor units of the currency beside them. Days are text "2006-01-02".
-- Ids are UUIDv7 text.

-- +goose Up

-- One row: a database is a shop.
CREATE TABLE shop (
  id       INTEGER NOT NULL PRIMARY KEY CHECK (id = 1),
  version  INTEGER NOT NULL CHECK (version >= 1),
  name     TEXT    NOT NULL,
  address  TEXT    NOT NULL,
  phone    TEXT    NOT NULL,
  currency TEXT    NOT NULL CHECK (length(currency) = 3),
  zone     TEXT    NOT NULL CHECK (zone <> ''),
  paper    TEXT    NOT NULL CHECK (paper IN ('letter', 'a4')),
  units    TEXT    NOT NULL CHECK (units IN ('imperial', 'metric')),
  language TEXT    NOT NULL CHECK (language <> ''),
  rule_set TEXT    NOT NULL CHECK (rule_set <> '')
) STRICT;

INSERT INTO shop (id, version, name, address, phone, currency, zone, paper, units, language, rule_set)
VALUES (1, 1, '', '', '', 'USD', 'UTC', 'letter', 'imperial', 'en', 'us-model');

-- The last number given of what is numbered without gaps.
CREATE TABLE counters (
  name TEXT    NOT NULL PRIMARY KEY CHECK (name IN ('order', 'receipt', 'sheet')),
  last INTEGER NOT NULL CHECK (last >= 0)
) STRICT;

INSERT INTO counters (name, last) VALUES ('order', 0), ('receipt', 0), ('sheet', 0);

-- What each request did, so that the same id again is answered, not repeated.
CREATE TABLE requests (
  id      TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  verb    TEXT    NOT NULL CHECK (verb <> ''),
  subject TEXT    NOT NULL,
  result  TEXT    NOT NULL,
  person  TEXT    NOT NULL,
  at      INTEGER NOT NULL
) STRICT;

CREATE TABLE customers (
  id            TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  version       INTEGER NOT NULL CHECK (version >= 1),
  name          TEXT    NOT NULL CHECK (name <> ''),
  address       TEXT    NOT NULL,
  phone         TEXT    NOT NULL,
  print_name    TEXT    NOT NULL,
  print_address TEXT    NOT NULL
) STRICT;

CREATE TABLE orders (
  id           TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  number       INTEGER NOT NULL UNIQUE CHECK (number >= 1),
  version      INTEGER NOT NULL CHECK (version >= 1),
  customer_id  TEXT    NOT NULL REFERENCES customers (id),
  words        TEXT    NOT NULL,
  quantity     INTEGER NOT NULL CHECK (quantity > 0),
  basis        TEXT    NOT NULL CHECK (basis IN ('ranked', 'loose', 'container')),
  species      TEXT    NOT NULL,
  piece_length INTEGER NOT NULL CHECK (piece_length > 0),
  seasoning    TEXT    NOT NULL CHECK (seasoning IN ('', 'green', 'seasoned', 'kiln-dried')),
  currency     TEXT    NOT NULL CHECK (length(currency) = 3),
  per_cord     INTEGER CHECK (per_cord >= 0), -- null where a sum was agreed
  wood         INTEGER NOT NULL CHECK (wood >= 0),
  fees         TEXT    NOT NULL CHECK (json_valid(fees)),
  deposit      INTEGER NOT NULL CHECK (deposit >= 0),
  notes        TEXT    NOT NULL,
  cancelled    INTEGER, -- null unless cancelled
  created      INTEGER NOT NULL,
  changed      INTEGER NOT NULL
) STRICT;

CREATE INDEX orders_customer ON orders (customer_id);

-- Receipts as written; the bytes are what was hashed.
CREATE TABLE receipts (
  number          INTEGER NOT NULL PRIMARY KEY CHECK (number >= 1),
  order_id        TEXT    NOT NULL REFERENCES orders (id),
  issued          INTEGER NOT NULL,
  facts           BLOB    NOT NULL,
  facts_sha256    TEXT    NOT NULL CHECK (length(facts_sha256) = 64),
  personal        BLOB    NOT NULL,
  salt            BLOB    NOT NULL CHECK (length(salt) = 16),
  personal_sha256 TEXT    NOT NULL CHECK (length(personal_sha256) = 64),
  chain           TEXT    NOT NULL UNIQUE CHECK (length(chain) = 64),
  seal            TEXT    NOT NULL CHECK (length(seal) = 14),
  pdf             BLOB    NOT NULL,
  pdf_sha256      TEXT    NOT NULL CHECK (length(pdf_sha256) = 64)
) STRICT;

CREATE INDEX receipts_order ON receipts (order_id);

CREATE TABLE loads (
  id           TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id     TEXT    NOT NULL REFERENCES orders (id),
  quantity     INTEGER NOT NULL CHECK (quantity > 0),
  basis        TEXT    NOT NULL CHECK (basis IN ('ranked', 'loose', 'container')),
  delivered_on TEXT    NOT NULL CHECK (length(delivered_on) = 10),
  receipt      INTEGER NOT NULL UNIQUE REFERENCES receipts (number),
  created      INTEGER NOT NULL
) STRICT;

CREATE INDEX loads_order ON loads (order_id);

-- Measurement sheets as written.
CREATE TABLE sheets (
  number     INTEGER NOT NULL PRIMARY KEY CHECK (number >= 1),
  order_id   TEXT    NOT NULL REFERENCES orders (id),
  issued     INTEGER NOT NULL,
  sheet      BLOB    NOT NULL,
  pdf        BLOB    NOT NULL,
  pdf_sha256 TEXT    NOT NULL CHECK (length(pdf_sha256) = 64)
) STRICT;

CREATE INDEX sheets_order ON sheets (order_id);

CREATE TABLE tallies (
  id       TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id TEXT    NOT NULL REFERENCES orders (id),
  look     INTEGER NOT NULL CHECK (look >= 1),
  document BLOB    NOT NULL,
  result   BLOB    NOT NULL,
  model    INTEGER NOT NULL CHECK (model >= 1),
  outcome  TEXT    NOT NULL, -- the finding's word
  sheet    INTEGER NOT NULL UNIQUE REFERENCES sheets (number),
  read_by  TEXT    NOT NULL CHECK (read_by <> ''),
  created  INTEGER NOT NULL,
  UNIQUE (order_id, look)
) STRICT;
