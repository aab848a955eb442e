-- What people of a shop typed that was not understood at once: without names, figures
-- and codes, how often, and when last. It is forgotten after some weeks.
CREATE TABLE missed (
  shop  INTEGER NOT NULL,
  text  TEXT    NOT NULL,
  times INTEGER NOT NULL,
  last  INTEGER NOT NULL,
  PRIMARY KEY (shop, text)
) STRICT, WITHOUT ROWID;
CREATE INDEX missed_last ON missed (last);

-- What a manager said such words mean in their shop: a reading by its name, or none.
CREATE TABLE phrase (
  shop  INTEGER NOT NULL,
  text  TEXT    NOT NULL,
  means TEXT    NOT NULL,
  PRIMARY KEY (shop, text)
) STRICT, WITHOUT ROWID;
