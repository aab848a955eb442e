-- One chat may belong to several shops; used tells which it talks about: the
-- one used last. A frozen account is that of a lost phone. A shared one is the
-- phone on the counter.
CREATE TABLE account_new (
  chat   TEXT    NOT NULL,
  shop   INTEGER NOT NULL,
  person INTEGER NOT NULL,
  used   INTEGER NOT NULL DEFAULT 0,
  frozen INTEGER NOT NULL DEFAULT 0,
  shared INTEGER NOT NULL DEFAULT 0,
  PRIMARY KEY (chat, shop)
) STRICT, WITHOUT ROWID;
INSERT INTO account_new (chat, shop, person) SELECT chat, shop, person FROM account;
DROP TABLE account;
ALTER TABLE account_new RENAME TO account;
CREATE INDEX account_shop ON account (shop, person);

-- Names stand apart from the settings, which are never changed, so that one can
-- be erased: name is NULL then. pin is what is left of a personal code.
CREATE TABLE person (
  shop INTEGER NOT NULL,
  id   INTEGER NOT NULL,
  name TEXT,
  salt BLOB,
  pin  BLOB,
  PRIMARY KEY (shop, id)
) STRICT, WITHOUT ROWID;
INSERT OR IGNORE INTO person (shop, id, name)
  SELECT s.shop, json_extract(p.value, '$.id'), json_extract(p.value, '$.name')
  FROM settings s, json_each(s.body, '$.people') p;

-- Links that let somebody in, once and until they expire. Only the hash of a
-- code is kept; it holds 128 random bits, so that it needs no salt.
CREATE TABLE code (
  hash    BLOB    NOT NULL PRIMARY KEY CHECK (length(hash) = 32),
  shop    INTEGER NOT NULL, -- 0: a shop of its own
  person  INTEGER NOT NULL, -- 0: somebody new
  role    TEXT    NOT NULL,
  name    TEXT    NOT NULL,
  by_person INTEGER NOT NULL,
  expires INTEGER NOT NULL,
  used    INTEGER NOT NULL DEFAULT 0 -- when; -1: taken back
) STRICT, WITHOUT ROWID;

-- Wrong codes, counted for each chat or person and for all together.
CREATE TABLE attempt (
  who   TEXT    NOT NULL PRIMARY KEY,
  since INTEGER NOT NULL,
  n     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
