-- What became of a photo: the digest of its file in FILE.photos, or NULL when
-- it cannot be had. One without a row is still to be fetched.
CREATE TABLE picture (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  n       INTEGER NOT NULL,
  digest  BLOB CHECK (digest IS NULL OR length(digest) = 32),
  PRIMARY KEY (machine, seq, n),
  FOREIGN KEY (machine, seq, n) REFERENCES attachment (machine, seq, n)
) STRICT, WITHOUT ROWID;
