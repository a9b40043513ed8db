-- What names were erased of, besides receipts and sheets: orders, places that were
-- dropped from the waiting list, buyers' own records, and audits.

-- +goose Up

CREATE TABLE erased_records (
  kind       TEXT NOT NULL CHECK (kind IN ('order', 'place', 'case', 'audit')),
  id         TEXT NOT NULL CHECK (length(id) = 36),
  erasure_id TEXT NOT NULL REFERENCES erasures (id),
  PRIMARY KEY (kind, id)
) STRICT;

CREATE INDEX erased_records_erasure ON erased_records (erasure_id);

INSERT INTO erased_records (kind, id, erasure_id)
SELECT 'order', r.order_id, min(x.erasure_id)
FROM erased_papers x JOIN receipts r ON x.paper = 'receipt' AND r.number = x.number GROUP BY r.order_id;

-- What an erasure left in orders before: it is taken out now, and the file is to be
-- rewritten again.
UPDATE payments SET reference = '', reason = '' WHERE order_id IN (SELECT id FROM erased_records);
UPDATE settlements SET reason = '' WHERE order_id IN (SELECT id FROM erased_records);
UPDATE wish_ends SET reason = '' WHERE order_id IN (SELECT id FROM erased_records);
UPDATE wishes SET request = json_set(json_remove(request, '$.customer_address', '$.customer_phone', '$.notes', '$.origin', '$.certificate',
    '$.other_fee_for', '$.tax_exempt', '$.confirmed'), '$.customer_name', 'Names erased')
  WHERE id IN (SELECT wish_id FROM wish_ends WHERE order_id IN (SELECT id FROM erased_records));
UPDATE case_accounts SET words = '', account = json_remove(account, '$.wood', '$.seller', '$.buyer', '$.vehicle')
  WHERE case_id IN (SELECT c.id FROM cases c JOIN receipts r ON r.number = c.receipt WHERE r.order_id IN (SELECT id FROM erased_records));
UPDATE orders SET fees = (SELECT json_group_array(json_remove(value, '$.words')) FROM json_each(fees)) WHERE id IN (SELECT id FROM erased_records);
UPDATE orders SET tax = json_set(tax, '$.exempt', 'Names erased')
  WHERE id IN (SELECT id FROM erased_records) AND tax <> '' AND tax ->> '$.exempt' <> '';
UPDATE erasures SET cleared = NULL;
