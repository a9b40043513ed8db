-- What is kept of each customer, apart from the name and address that each order was taken
-- with. Orders of the same name, address and telephone number begin as one customer's.

-- +goose Up

CREATE TABLE customer_records (
  id       TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  version  INTEGER NOT NULL CHECK (version >= 1),
  name     TEXT    NOT NULL CHECK (name <> ''),
  name_key TEXT    NOT NULL, -- as it is compared
  address  TEXT    NOT NULL,
  phone    TEXT    NOT NULL,
  access   TEXT    NOT NULL,
  stacking TEXT    NOT NULL,
  place    TEXT    NOT NULL,
  created  INTEGER NOT NULL
) STRICT;
CREATE INDEX customer_records_name ON customer_records (name_key);

ALTER TABLE customers ADD COLUMN record_id TEXT REFERENCES customer_records (id) DEFERRABLE INITIALLY DEFERRED;
CREATE INDEX customers_record ON customers (record_id);

INSERT INTO customer_records
SELECT min(c.id), 1, c.name, lower(trim(c.name)), c.address, c.phone, '', '', '', min(o.created)
FROM customers c JOIN orders o ON o.customer_id = c.id
WHERE NOT EXISTS (SELECT 1 FROM erased_records x WHERE x.kind = 'order' AND x.id = o.id)
GROUP BY c.name, c.address, c.phone;

UPDATE customers SET record_id = (
  SELECT r.id FROM customer_records r WHERE r.name = customers.name AND r.address = customers.address AND r.phone = customers.phone)
WHERE id IN (SELECT o.customer_id FROM orders o WHERE NOT EXISTS (SELECT 1 FROM erased_records x WHERE x.kind = 'order' AND x.id = o.id));
