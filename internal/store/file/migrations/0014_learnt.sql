-- What each machine's records tell advice, up to an entry: it follows from them like the
-- running state and is in no chain. It is written with each close, goes back with a record
-- that changes what was, and is made anew at a start where it is not there.
CREATE TABLE learnt (
  machine INTEGER NOT NULL PRIMARY KEY,
  seq     INTEGER NOT NULL,
  body    TEXT    NOT NULL
) STRICT;
