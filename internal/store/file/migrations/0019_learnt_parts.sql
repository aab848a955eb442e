-- What each machine's records tell advice stands in parts, so that a close changes the last one
-- alone: seq is the last entry that is in a part, newest when its newest closed period was
-- counted, in seconds. It is made anew at a start where it is not there.
DROP TABLE learnt;
CREATE TABLE learnt (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  newest  INTEGER NOT NULL,
  body    TEXT    NOT NULL,
  PRIMARY KEY (machine, seq)
) STRICT;
