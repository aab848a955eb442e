-- fold is by which version of the arithmetic the running state was folded; one
-- of an older version is folded anew at the next start.
ALTER TABLE machine ADD COLUMN fold INTEGER NOT NULL DEFAULT 0;

-- What the bank owes or owed, by the number of its settlement: part of what the
-- fold over the entries gives, kept apart since years of it may be open. open
-- and day repeat what body says, so that it is found without reading all.
CREATE TABLE claim (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  open    INTEGER NOT NULL,
  day     TEXT    NOT NULL,
  body    TEXT    NOT NULL,
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
CREATE INDEX claim_open ON claim (machine, seq) WHERE open = 1;
CREATE INDEX claim_day ON claim (machine, day);
