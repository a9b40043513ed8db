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

-- The signed copies of vouchers that came back.
CREATE TABLE payment_copies (
  payment_id  TEXT    NOT NULL PRIMARY KEY REFERENCES payments (id),
  received_on TEXT    NOT NULL CHECK (length(received_on) = 10),
  person      TEXT    NOT NULL,
  created     INTEGER NOT NULL
) STRICT;
