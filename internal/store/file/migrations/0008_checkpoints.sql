-- What the books of a machine were after some of its closes, so that what is taken
-- back or corrected later is worked out from there and not from the first entry.
-- They follow from the entries like the running state: none is in any chain, and
-- those from a corrected entry on are dropped with the correction. month is when
-- the entry was recorded: the first of each month is kept, and the newest few.
CREATE TABLE checkpoint (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  month   TEXT    NOT NULL,
  body    TEXT    NOT NULL,
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
