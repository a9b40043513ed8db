-- Who works with the shop, how they are let in, and the log of it. Of tokens and codes
-- only the SHA-256 is kept, of passwords argon2id. Two people of one name, capitals or not,
-- are kept apart by an index, since a column has no such rule here.

-- +goose Up

CREATE TABLE people (
  id       TEXT COLLATE "C" PRIMARY KEY CHECK (length(id) = 36),
  name     TEXT COLLATE "C" NOT NULL CHECK (name <> ''),
  role     TEXT COLLATE "C" NOT NULL CHECK (role IN ('owner', 'driver', 'auditor')),
  state    TEXT COLLATE "C" NOT NULL CHECK (state IN ('in', 'out')),
  password TEXT COLLATE "C" NOT NULL,
  version  BIGINT NOT NULL,
  created  BIGINT NOT NULL
);

CREATE UNIQUE INDEX people_name ON people (lower(name));

CREATE TABLE sessions (
  id           TEXT COLLATE "C" PRIMARY KEY CHECK (length(id) = 36),
  token_sha256 TEXT COLLATE "C" NOT NULL UNIQUE CHECK (length(token_sha256) = 64),
  person_id    TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  own          BIGINT NOT NULL CHECK (own IN (0, 1)),
  device       TEXT COLLATE "C" NOT NULL,
  begun        BIGINT NOT NULL,
  seen         BIGINT NOT NULL,
  sure         BIGINT NOT NULL,
  ended        BIGINT
);

CREATE INDEX sessions_person ON sessions (person_id);

CREATE TABLE entry_codes (
  code_sha256 TEXT COLLATE "C" PRIMARY KEY CHECK (length(code_sha256) = 64),
  purpose     TEXT COLLATE "C" NOT NULL CHECK (purpose IN ('phone', 'owner')),
  person_id   TEXT COLLATE "C" REFERENCES people (id),
  made        BIGINT NOT NULL,
  until       BIGINT NOT NULL,
  used        BIGINT
);

CREATE INDEX entry_codes_person ON entry_codes (person_id);

CREATE TABLE recovery_codes (
  code_sha256 TEXT COLLATE "C" PRIMARY KEY CHECK (length(code_sha256) = 64),
  person_id   TEXT COLLATE "C" NOT NULL REFERENCES people (id),
  used        BIGINT NOT NULL CHECK (used IN (0, 1))
);

CREATE INDEX recovery_codes_person ON recovery_codes (person_id);

CREATE TABLE people_log (
  id        BIGINT PRIMARY KEY NOT NULL,
  at        BIGINT NOT NULL,
  what      TEXT COLLATE "C" NOT NULL,
  name      TEXT COLLATE "C" NOT NULL,
  by        TEXT COLLATE "C" NOT NULL,
  came_from TEXT COLLATE "C" NOT NULL
);
