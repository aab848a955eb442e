-- Statements of banks that people sent. ask says how one is to be read next;
-- NULL: it is read, and what is in it went to its chat. digest names the file
-- beside this one once it was fetched.
CREATE TABLE statement (
  id     INTEGER NOT NULL PRIMARY KEY,
  chat   TEXT    NOT NULL,
  shop   INTEGER NOT NULL,
  person INTEGER NOT NULL,
  sent   INTEGER NOT NULL,
  photo  TEXT    NOT NULL,
  same   TEXT    NOT NULL,
  digest BLOB CHECK (digest IS NULL OR length(digest) = 32),
  turn   INTEGER NOT NULL,
  ask    TEXT
) STRICT;
CREATE INDEX statement_unread ON statement (id) WHERE ask IS NOT NULL;

-- Months of a shop that were finished, with the last entry of each of its machines
-- that is in them. Each has its entry in the chain of the shop.
CREATE TABLE month (
  shop      INTEGER NOT NULL,
  month     TEXT    NOT NULL,
  by_person INTEGER NOT NULL,
  finished  INTEGER NOT NULL,
  upto      TEXT    NOT NULL,
  PRIMARY KEY (shop, month)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER month_update BEFORE UPDATE ON month
BEGIN SELECT RAISE(ABORT, 'a finished month is never changed'); END;
CREATE TRIGGER month_delete BEFORE DELETE ON month
BEGIN SELECT RAISE(ABORT, 'a finished month is never deleted'); END;
