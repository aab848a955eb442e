-- What the books of a machine were after some of its closes, so that what is taken
-- back later and what is asked of the past is worked out from there and not from the
-- first entry. They follow from the entries like the running state: none is in any
-- chain, and those from a corrected entry on are dropped with the correction. day is
-- when the entry was recorded, in UTC: of the newest few all are kept, then the first
-- of each week, then of each month.
CREATE TABLE checkpoint (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  day     TEXT    NOT NULL,
  body    TEXT    NOT NULL,
  PRIMARY KEY (machine, seq)
) STRICT, WITHOUT ROWID;
