-- Times are milliseconds since 1970-01-01 UTC. People are random numbers.

-- What a shop has laid down, one row a version. Machines' ids stand in the body.
CREATE TABLE settings (
  shop    INTEGER NOT NULL,
  version INTEGER NOT NULL CHECK (version > 0),
  since   INTEGER NOT NULL,
  body    TEXT    NOT NULL CHECK (json_valid(body)),
  hash    BLOB    NOT NULL CHECK (length(hash) = 32),
  PRIMARY KEY (shop, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE account (
  chat   TEXT    NOT NULL PRIMARY KEY,
  shop   INTEGER NOT NULL,
  person INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX account_shop ON account (shop, person);

-- The running state of a machine's books: what the fold over its entries gives.
CREATE TABLE machine (
  id   INTEGER NOT NULL PRIMARY KEY,
  shop INTEGER NOT NULL,
  seq  INTEGER NOT NULL,
  head BLOB    NOT NULL CHECK (length(head) = 32),
  body TEXT    NOT NULL
) STRICT;

-- The ledger. hash covers every column and the entry's movements; prev is the
-- hash of the entry before.
CREATE TABLE entry (
  machine   INTEGER NOT NULL REFERENCES machine (id),
  seq       INTEGER NOT NULL,
  period    INTEGER NOT NULL,
  kind      TEXT    NOT NULL,
  by_person INTEGER NOT NULL,
  settings  INTEGER NOT NULL,
  happened  INTEGER NOT NULL,
  recorded  INTEGER NOT NULL,
  cause     INTEGER NOT NULL,
  cause_n   INTEGER NOT NULL,
  body      TEXT    NOT NULL,
  digest    BLOB,
  prev      BLOB    NOT NULL CHECK (length(prev) = 32),
  hash      BLOB    NOT NULL CHECK (length(hash) = 32),
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX entry_cause ON entry (cause, cause_n);

CREATE TABLE move (
  machine    INTEGER NOT NULL,
  period     INTEGER NOT NULL,
  seq        INTEGER NOT NULL,
  n          INTEGER NOT NULL,
  from_place TEXT    NOT NULL,
  to_place   TEXT    NOT NULL CHECK (to_place <> from_place),
  face       TEXT    NOT NULL,
  notes      INTEGER NOT NULL CHECK (notes > 0),
  PRIMARY KEY (machine, period, seq, n),
  FOREIGN KEY (machine, seq) REFERENCES entry (machine, seq)
) STRICT, WITHOUT ROWID;

-- Words and photos kept with an entry. Erasing sets everything but digest to
-- NULL; the entry's digest is over these digests, so the chain still holds.
CREATE TABLE attachment (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  n       INTEGER NOT NULL,
  digest  BLOB    NOT NULL CHECK (length(digest) = 32),
  salt    BLOB,
  words   TEXT,
  photo   TEXT,
  same    TEXT,
  PRIMARY KEY (machine, seq, n),
  FOREIGN KEY (machine, seq) REFERENCES entry (machine, seq)
) STRICT, WITHOUT ROWID;

-- Entries, movements and settings are only ever added. REPLACE runs no delete
-- trigger, so an insert that would push a row out is refused before it does.
CREATE TRIGGER settings_update BEFORE UPDATE ON settings
BEGIN SELECT RAISE(ABORT, 'settings are never changed, a new version is added'); END;
CREATE TRIGGER settings_delete BEFORE DELETE ON settings
BEGIN SELECT RAISE(ABORT, 'settings are never deleted'); END;
CREATE TRIGGER settings_insert BEFORE INSERT ON settings
WHEN NEW.version <> (SELECT coalesce(max(version), 0) + 1 FROM settings WHERE shop = NEW.shop)
BEGIN SELECT RAISE(ABORT, 'settings are only added at the end'); END;

CREATE TRIGGER entry_update BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entry_delete BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never deleted'); END;
CREATE TRIGGER entry_insert BEFORE INSERT ON entry
WHEN NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM entry WHERE machine = NEW.machine)
  OR EXISTS (SELECT 1 FROM entry WHERE cause = NEW.cause AND cause_n = NEW.cause_n)
BEGIN SELECT RAISE(ABORT, 'entries are only added at the end, once for each cause'); END;

CREATE TRIGGER move_update BEFORE UPDATE ON move
BEGIN SELECT RAISE(ABORT, 'movements are never changed'); END;
CREATE TRIGGER move_delete BEFORE DELETE ON move
BEGIN SELECT RAISE(ABORT, 'movements are never deleted'); END;
CREATE TRIGGER move_insert BEFORE INSERT ON move
WHEN EXISTS (SELECT 1 FROM move
  WHERE machine = NEW.machine AND period = NEW.period AND seq = NEW.seq AND n = NEW.n)
BEGIN SELECT RAISE(ABORT, 'movements are only added'); END;

-- What is remembered of a chat. flow to person repeat what state says, so that
-- dialogs under way at a machine are found without reading every state.
CREATE TABLE chat (
  chat     TEXT    NOT NULL PRIMARY KEY,
  state    TEXT,
  machine  INTEGER NOT NULL DEFAULT 0,
  flow     TEXT    NOT NULL DEFAULT '',
  blind    INTEGER NOT NULL DEFAULT 0,
  since    INTEGER NOT NULL DEFAULT 0,
  person   INTEGER NOT NULL DEFAULT 0,
  lang     TEXT    NOT NULL DEFAULT '',
  gone     INTEGER NOT NULL DEFAULT 0,
  answered INTEGER NOT NULL DEFAULT 0
) STRICT, WITHOUT ROWID;
CREATE INDEX chat_underway ON chat (machine) WHERE flow <> '';

-- Everything that happens comes in here, once for each source and key. body is
-- NULL as soon as it has been handled. The newest row is never removed, so that
-- no id is used again.
CREATE TABLE inbox (
  id       INTEGER NOT NULL PRIMARY KEY,
  source   TEXT    NOT NULL,
  key      TEXT    NOT NULL,
  hash     BLOB,
  chat     TEXT,
  at       INTEGER NOT NULL,
  body     TEXT,
  status   INTEGER NOT NULL CHECK (status IN (0, 1, 2)), -- waiting, done, parked
  attempts INTEGER NOT NULL DEFAULT 0,
  UNIQUE (source, key)
) STRICT;
CREATE INDEX inbox_waiting ON inbox (id) WHERE status = 0;

-- Messages to send. id is cause * 1024 + n, which makes a message unique to
-- the n-th reply of its cause. body is NULL once it needs no sending any more.
CREATE TABLE outbox (
  id         INTEGER NOT NULL PRIMARY KEY,
  chat       TEXT    NOT NULL,
  at         INTEGER NOT NULL,
  body       TEXT,
  key        TEXT,
  edits      INTEGER NOT NULL DEFAULT 0, -- row whose message this replaces
  retires    INTEGER NOT NULL DEFAULT 0, -- row whose buttons are dead from now on
  message_id INTEGER NOT NULL DEFAULT 0  -- the message this became; 0: none
) STRICT;
CREATE INDEX outbox_key ON outbox (chat, key) WHERE key IS NOT NULL;

CREATE TABLE deadline (
  machine INTEGER NOT NULL,
  name    TEXT    NOT NULL,
  chat    TEXT    NOT NULL,
  due_at  INTEGER NOT NULL,
  PRIMARY KEY (machine, name)
) STRICT, WITHOUT ROWID;
CREATE INDEX deadline_due ON deadline (due_at);
