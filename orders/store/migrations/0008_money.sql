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
