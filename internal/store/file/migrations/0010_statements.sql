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
