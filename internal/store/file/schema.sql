-- What the migrations make of an empty file. What each table is for stands there.
-- It is written by: go test ./internal/store/file -run TestNewFile -update
CREATE TABLE migration (
	number INTEGER NOT NULL PRIMARY KEY, name TEXT NOT NULL, checksum TEXT NOT NULL, applied INTEGER NOT NULL
) STRICT;
CREATE TABLE settings (
  shop    INTEGER NOT NULL,
  version INTEGER NOT NULL CHECK (version > 0),
  since   INTEGER NOT NULL,
  body    TEXT    NOT NULL CHECK (json_valid(body)),
  hash    BLOB    NOT NULL CHECK (length(hash) = 32),
  PRIMARY KEY (shop, version)
) STRICT, WITHOUT ROWID;
CREATE TABLE machine (
  id   INTEGER NOT NULL PRIMARY KEY,
  shop INTEGER NOT NULL,
  seq  INTEGER NOT NULL,
  head BLOB    NOT NULL CHECK (length(head) = 32),
  body TEXT    NOT NULL
, fold INTEGER NOT NULL DEFAULT 0) STRICT;
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
CREATE TABLE "account" (
  chat   TEXT    NOT NULL,
  shop   INTEGER NOT NULL,
  person INTEGER NOT NULL,
  used   INTEGER NOT NULL DEFAULT 0,
  frozen INTEGER NOT NULL DEFAULT 0,
  shared INTEGER NOT NULL DEFAULT 0, mark BLOB,
  PRIMARY KEY (chat, shop)
) STRICT, WITHOUT ROWID;
CREATE INDEX account_shop ON account (shop, person);
CREATE TABLE person (
  shop INTEGER NOT NULL,
  id   INTEGER NOT NULL,
  name TEXT,
  salt BLOB,
  pin  BLOB, mark BLOB,
  PRIMARY KEY (shop, id)
) STRICT, WITHOUT ROWID;
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
CREATE TABLE attempt (
  who   TEXT    NOT NULL PRIMARY KEY,
  since INTEGER NOT NULL,
  n     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE picture (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  n       INTEGER NOT NULL,
  digest  BLOB CHECK (digest IS NULL OR length(digest) = 32),
  PRIMARY KEY (machine, seq, n),
  FOREIGN KEY (machine, seq, n) REFERENCES attachment (machine, seq, n)
) STRICT, WITHOUT ROWID;
CREATE TABLE unfetched (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  n       INTEGER NOT NULL,
  PRIMARY KEY (machine, seq, n)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER unfetched_begun AFTER INSERT ON attachment WHEN NEW.photo IS NOT NULL
BEGIN INSERT INTO unfetched (machine, seq, n) VALUES (NEW.machine, NEW.seq, NEW.n); END;
CREATE TRIGGER unfetched_erased AFTER UPDATE OF photo ON attachment WHEN NEW.photo IS NULL
BEGIN DELETE FROM unfetched WHERE machine = NEW.machine AND seq = NEW.seq AND n = NEW.n; END;
CREATE TRIGGER unfetched_ended AFTER INSERT ON picture
BEGIN DELETE FROM unfetched WHERE machine = NEW.machine AND seq = NEW.seq AND n = NEW.n; END;
CREATE TRIGGER attachment_update BEFORE UPDATE ON attachment
WHEN NEW.salt IS NOT NULL OR NEW.words IS NOT NULL OR NEW.photo IS NOT NULL OR NEW.same IS NOT NULL
  OR NEW.machine <> OLD.machine OR NEW.seq <> OLD.seq OR NEW.n <> OLD.n OR NEW.digest <> OLD.digest
BEGIN SELECT RAISE(ABORT, 'attachments are never changed, only erased as a whole'); END;
CREATE TRIGGER attachment_delete BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'attachments are never deleted, only erased'); END;
CREATE TRIGGER attachment_insert BEFORE INSERT ON attachment
WHEN NEW.seq IS NOT (SELECT max(seq) FROM entry WHERE machine = NEW.machine)
  OR EXISTS (SELECT 1 FROM attachment WHERE machine = NEW.machine AND seq = NEW.seq AND n = NEW.n)
BEGIN SELECT RAISE(ABORT, 'attachments are only added with the newest entry'); END;
CREATE TRIGGER move_insert BEFORE INSERT ON move
WHEN NEW.seq IS NOT (SELECT max(seq) FROM entry WHERE machine = NEW.machine)
  OR EXISTS (SELECT 1 FROM move
  WHERE machine = NEW.machine AND period = NEW.period AND seq = NEW.seq AND n = NEW.n)
BEGIN SELECT RAISE(ABORT, 'movements are only added with the newest entry'); END;
CREATE TABLE claim (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  open    INTEGER NOT NULL,
  day     TEXT    NOT NULL,
  body    TEXT    NOT NULL, remains INTEGER NOT NULL DEFAULT 0, due     TEXT    NOT NULL DEFAULT '', paid    INTEGER NOT NULL DEFAULT 0,
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
CREATE INDEX claim_open ON claim (machine, seq) WHERE open = 1;
CREATE INDEX claim_day ON claim (machine, day);
CREATE TABLE shop_entry (
  shop     INTEGER NOT NULL,
  seq      INTEGER NOT NULL,
  kind     TEXT    NOT NULL,
  key      TEXT    NOT NULL,
  by_person INTEGER NOT NULL,
  recorded INTEGER NOT NULL,
  row      BLOB CHECK (row IS NULL OR length(row) = 32),
  prev     BLOB    NOT NULL CHECK (length(prev) = 32),
  hash     BLOB    NOT NULL CHECK (length(hash) = 32),
  PRIMARY KEY (shop, seq)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER shop_entry_update BEFORE UPDATE ON shop_entry
BEGIN SELECT RAISE(ABORT, 'what was told of a shop is never changed'); END;
CREATE TRIGGER shop_entry_delete BEFORE DELETE ON shop_entry
BEGIN SELECT RAISE(ABORT, 'what was told of a shop is never deleted'); END;
CREATE TRIGGER shop_entry_insert BEFORE INSERT ON shop_entry
WHEN NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM shop_entry WHERE shop = NEW.shop)
BEGIN SELECT RAISE(ABORT, 'what is told of a shop is only added at the end'); END;
CREATE TABLE checkpoint (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  day     TEXT    NOT NULL,
  body    TEXT    NOT NULL,
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
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
CREATE TABLE missed (
  shop  INTEGER NOT NULL,
  text  TEXT    NOT NULL,
  times INTEGER NOT NULL,
  last  INTEGER NOT NULL,
  PRIMARY KEY (shop, text)
) STRICT, WITHOUT ROWID;
CREATE INDEX missed_last ON missed (last);
CREATE TABLE phrase (
  shop  INTEGER NOT NULL,
  text  TEXT    NOT NULL,
  means TEXT    NOT NULL,
  PRIMARY KEY (shop, text)
) STRICT, WITHOUT ROWID;
CREATE INDEX claim_still ON claim (machine, seq) WHERE remains > 0;
CREATE INDEX claim_over ON claim (machine, seq) WHERE remains < 0;
CREATE INDEX claim_left ON claim (machine, remains, seq) WHERE remains > 0;
CREATE INDEX claim_most ON claim (machine, remains DESC, seq) WHERE remains > 0;
CREATE INDEX claim_age ON claim (machine, day, remains) WHERE remains > 0;
CREATE INDEX claim_due ON claim (machine, due, remains) WHERE remains > 0;
CREATE INDEX claim_paid ON claim (machine, seq) WHERE paid = 1;
CREATE TABLE owing (
	machine INTEGER NOT NULL,
	kind    TEXT    NOT NULL, -- of what day and how long: day-month, day-year, due-month, due-year
	span    TEXT    NOT NULL, -- a month or a year
	n       INTEGER NOT NULL,
	remains INTEGER NOT NULL,
	PRIMARY KEY (machine, kind, span)
) WITHOUT ROWID;
CREATE TRIGGER owing_begun AFTER INSERT ON claim WHEN NEW.remains > 0
BEGIN
	INSERT INTO owing (machine, kind, span, n, remains)
		VALUES (NEW.machine, 'day-month', substr(NEW.day, 1, 7), 1, NEW.remains),
			(NEW.machine, 'day-year', substr(NEW.day, 1, 4), 1, NEW.remains),
			(NEW.machine, 'due-month', substr(NEW.due, 1, 7), 1, NEW.remains),
			(NEW.machine, 'due-year', substr(NEW.due, 1, 4), 1, NEW.remains)
		ON CONFLICT (machine, kind, span) DO UPDATE SET n = n + 1, remains = remains + excluded.remains;
END;
CREATE TRIGGER owing_more AFTER UPDATE ON claim WHEN NEW.remains > 0
BEGIN
	INSERT INTO owing (machine, kind, span, n, remains)
		VALUES (NEW.machine, 'day-month', substr(NEW.day, 1, 7), 1, NEW.remains),
			(NEW.machine, 'day-year', substr(NEW.day, 1, 4), 1, NEW.remains),
			(NEW.machine, 'due-month', substr(NEW.due, 1, 7), 1, NEW.remains),
			(NEW.machine, 'due-year', substr(NEW.due, 1, 4), 1, NEW.remains)
		ON CONFLICT (machine, kind, span) DO UPDATE SET n = n + 1, remains = remains + excluded.remains;
END;
CREATE TRIGGER owing_less AFTER UPDATE ON claim WHEN OLD.remains > 0
BEGIN
	UPDATE owing SET n = n - 1, remains = remains - OLD.remains WHERE machine = OLD.machine AND (kind, span) IN
		(VALUES ('day-month', substr(OLD.day, 1, 7)), ('day-year', substr(OLD.day, 1, 4)),
			('due-month', substr(OLD.due, 1, 7)), ('due-year', substr(OLD.due, 1, 4)));
END;
CREATE TRIGGER owing_ended AFTER DELETE ON claim WHEN OLD.remains > 0
BEGIN
	UPDATE owing SET n = n - 1, remains = remains - OLD.remains WHERE machine = OLD.machine AND (kind, span) IN
		(VALUES ('day-month', substr(OLD.day, 1, 7)), ('day-year', substr(OLD.day, 1, 4)),
			('due-month', substr(OLD.due, 1, 7)), ('due-year', substr(OLD.due, 1, 4)));
END;
CREATE TABLE learnt (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  newest  INTEGER NOT NULL,
  body    TEXT    NOT NULL,
  PRIMARY KEY (machine, seq)
) STRICT;
CREATE TABLE "inbox" (
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
CREATE INDEX inbox_waiting ON inbox (id) WHERE status = 0;
PRAGMA application_id = 1936221804;
