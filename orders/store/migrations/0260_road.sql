-- The road: vehicles with what their papers let them carry, where they start, and which order
-- goes on which of them on a day. A plan names orders and vehicles by their ids; weights are
-- micrograms, 0 where the papers don't say.

-- +goose Up

CREATE TABLE vehicles (
  id         TEXT    NOT NULL PRIMARY KEY CHECK (length(id) = 36),
  name       TEXT    NOT NULL CHECK (name <> ''),
  bed_id     TEXT    NOT NULL REFERENCES bodies (id),
  placard    INTEGER NOT NULL CHECK (placard >= 0),
  people     INTEGER NOT NULL CHECK (people >= 0),
  gross      INTEGER NOT NULL CHECK (gross >= 0),
  registered INTEGER NOT NULL CHECK (registered >= 0),
  scale      INTEGER NOT NULL CHECK (scale >= 0),
  created    INTEGER NOT NULL,
  retired    INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1))
) STRICT;
CREATE INDEX vehicles_bed ON vehicles (bed_id);

CREATE TABLE road_yard (
  id      INTEGER NOT NULL PRIMARY KEY CHECK (id = 1),
  version INTEGER NOT NULL CHECK (version >= 1),
  place   TEXT    NOT NULL
) STRICT;
INSERT INTO road_yard VALUES (1, 1, '');

CREATE TABLE road_plans (
  day     TEXT    NOT NULL PRIMARY KEY CHECK (length(day) = 10),
  version INTEGER NOT NULL CHECK (version >= 1),
  by_hand INTEGER NOT NULL CHECK (by_hand IN (0, 1)),
  proven  INTEGER NOT NULL CHECK (proven IN (0, 1)),
  trips   TEXT    NOT NULL CHECK (json_valid(trips)),
  changed INTEGER NOT NULL
) STRICT;
