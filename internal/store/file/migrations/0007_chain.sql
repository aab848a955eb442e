-- All that was told of a shop beside its records: each version of the settings,
-- each name, account, code and photo as it stood then. row is the digest of the
-- row that is told of, with a salt that goes with the row; NULL: it is gone.
-- Every record of the shop's machines names the newest one, so that one check
-- word covers both.
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

-- Salts that keep a name and a chat from being guessed by their digests once they are gone.
ALTER TABLE person ADD COLUMN mark BLOB;
ALTER TABLE account ADD COLUMN mark BLOB;
