-- Those who measure for an audit are called measurers.

-- +goose Up

ALTER TABLE audit_hands RENAME TO audit_measurers;
ALTER TABLE audit_readings RENAME COLUMN hand_id TO measurer_id;
