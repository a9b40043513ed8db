-- What a receipt is for and which one it names. A receipt corrected or made void is
-- left as it is: the one that names it ends it.

-- +goose Up

ALTER TABLE receipts ADD COLUMN kind TEXT NOT NULL DEFAULT '' CHECK (kind IN ('', 'correction', 'void', 'settlement'));
ALTER TABLE receipts ADD COLUMN of_receipt INTEGER REFERENCES receipts (number); -- null on a delivery's own

CREATE INDEX receipts_of ON receipts (of_receipt);
CREATE UNIQUE INDEX receipts_ended ON receipts (of_receipt) WHERE kind IN ('correction', 'void');

-- The loads that count: those whose receipt was neither corrected nor made void. A
-- correction brings a load of its own.
CREATE VIEW standing_loads AS
SELECT l.* FROM loads l
WHERE NOT EXISTS (SELECT 1 FROM receipts r WHERE r.of_receipt = l.receipt AND r.kind IN ('correction', 'void'));
