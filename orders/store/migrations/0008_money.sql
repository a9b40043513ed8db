-- Payments on orders. They are added and never changed: a counter-entry takes one back.

-- +goose Up

CREATE TABLE payments (
  id        TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id  TEXT    NOT NULL REFERENCES orders (id),
  amount    INTEGER NOT NULL CHECK (amount <> 0), -- below 0: given or taken back
  currency  TEXT    NOT NULL CHECK (length(currency) = 3),
  method    TEXT    NOT NULL CHECK (method IN ('cash', 'cheque', 'card', 'transfer', 'voucher')),
  reference TEXT    NOT NULL,
  paid_on   TEXT    NOT NULL CHECK (length(paid_on) = 10),
  reverses  TEXT    UNIQUE REFERENCES payments (id), -- null but in a counter-entry
  reason    TEXT    NOT NULL,
  person    TEXT    NOT NULL,
  created   INTEGER NOT NULL
) STRICT;

CREATE INDEX payments_order ON payments (order_id, created);

-- What the shop charges besides the wood; an order's road and tax, empty where there is none.
ALTER TABLE shop ADD COLUMN charges TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(charges));
ALTER TABLE orders ADD COLUMN distance INTEGER NOT NULL DEFAULT 0 CHECK (distance >= 0);
ALTER TABLE orders ADD COLUMN tax TEXT NOT NULL DEFAULT '';

-- The signed copies of vouchers that came back.
CREATE TABLE payment_copies (
  payment_id  TEXT    NOT NULL PRIMARY KEY REFERENCES payments (id),
  received_on TEXT    NOT NULL CHECK (length(received_on) = 10),
  person      TEXT    NOT NULL,
  created     INTEGER NOT NULL
) STRICT;

-- What is owed of a delivery and how it is settled, as agreed. What is done about it is
-- in steps, each with its receipt.
CREATE TABLE settlements (
  id         TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  order_id   TEXT    NOT NULL REFERENCES orders (id),
  receipt    INTEGER NOT NULL REFERENCES receipts (number),
  sheet      INTEGER NOT NULL CHECK (sheet >= 0), -- that found it; 0: granted without
  owed       INTEGER NOT NULL CHECK (owed > 0),
  basis      TEXT    NOT NULL CHECK (basis IN ('ranked', 'loose', 'container')),
  pieces     TEXT    NOT NULL CHECK (json_valid(pieces)),
  worth      INTEGER NOT NULL CHECK (worth >= 0),
  currency   TEXT    NOT NULL CHECK (length(currency) = 3),
  choice     TEXT    NOT NULL CHECK (choice IN ('wood', 'money')),
  agreed_on  TEXT    NOT NULL CHECK (length(agreed_on) = 10),
  agreed_how TEXT    NOT NULL CHECK (agreed_how IN ('word', 'writing')),
  reason     TEXT    NOT NULL,
  replaces   TEXT    UNIQUE REFERENCES settlements (id), -- null for the first
  person     TEXT    NOT NULL,
  created    INTEGER NOT NULL
) STRICT;

CREATE INDEX settlements_order ON settlements (order_id, created);
CREATE INDEX settlements_receipt ON settlements (receipt);

CREATE TABLE settlement_steps (
  receipt       INTEGER NOT NULL UNIQUE REFERENCES receipts (number),
  settlement_id TEXT    NOT NULL REFERENCES settlements (id),
  brought       INTEGER NOT NULL CHECK (brought >= 0),
  given         INTEGER NOT NULL CHECK (given >= 0),
  closes        INTEGER NOT NULL CHECK (closes IN (0, 1)),
  done_on       TEXT    NOT NULL CHECK (length(done_on) = 10),
  person        TEXT    NOT NULL,
  created       INTEGER NOT NULL
) STRICT;

CREATE INDEX settlement_steps_of ON settlement_steps (settlement_id);

-- Wood that somebody wants and nobody is promised: the order as it was typed. How it
-- ended stands beside it: in an order, or dropped with a reason.
CREATE TABLE wishes (
  id         TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  request    TEXT    NOT NULL CHECK (json_valid(request)),
  wanted_by  TEXT    NOT NULL CHECK (length(wanted_by) IN (0, 10)),
  wanted_for TEXT    NOT NULL,
  person     TEXT    NOT NULL,
  created    INTEGER NOT NULL
) STRICT;

CREATE TABLE wish_ends (
  wish_id  TEXT    NOT NULL PRIMARY KEY REFERENCES wishes (id),
  order_id TEXT    UNIQUE REFERENCES orders (id), -- null where it was dropped
  reason   TEXT    NOT NULL,
  person   TEXT    NOT NULL,
  created  INTEGER NOT NULL
) STRICT;
