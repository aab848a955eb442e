-- The bounds of a row's status as a comparison: a list of three made SQLite build a table of
-- them for every row that came in.
CREATE TABLE inbox_next (
  id       INTEGER NOT NULL PRIMARY KEY,
  source   TEXT    NOT NULL,
  key      TEXT    NOT NULL,
  hash     BLOB,
  chat     TEXT,
  at       INTEGER NOT NULL,
  body     TEXT,
  status   INTEGER NOT NULL CHECK (status BETWEEN 0 AND 2), -- waiting, done, parked
  attempts INTEGER NOT NULL DEFAULT 0,
  UNIQUE (source, key)
) STRICT;
INSERT INTO inbox_next SELECT id, source, key, hash, chat, at, body, status, attempts FROM inbox;
DROP TABLE inbox;
ALTER TABLE inbox_next RENAME TO inbox;
CREATE INDEX inbox_waiting ON inbox (id) WHERE status = 0;
