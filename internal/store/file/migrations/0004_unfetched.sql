-- Photos that are still to be fetched, so that looking for them every few
-- seconds reads nothing else. One is added with its attachment and taken away
-- when it is known what became of it.
CREATE TABLE unfetched (
  machine INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  n       INTEGER NOT NULL,
  PRIMARY KEY (machine, seq, n)
) STRICT, WITHOUT ROWID;
INSERT INTO unfetched (machine, seq, n)
  SELECT a.machine, a.seq, a.n FROM attachment a WHERE a.photo IS NOT NULL AND NOT EXISTS (
    SELECT 1 FROM picture p WHERE p.machine = a.machine AND p.seq = a.seq AND p.n = a.n);

CREATE TRIGGER unfetched_begun AFTER INSERT ON attachment WHEN NEW.photo IS NOT NULL
BEGIN INSERT INTO unfetched (machine, seq, n) VALUES (NEW.machine, NEW.seq, NEW.n); END;
CREATE TRIGGER unfetched_erased AFTER UPDATE OF photo ON attachment WHEN NEW.photo IS NULL
BEGIN DELETE FROM unfetched WHERE machine = NEW.machine AND seq = NEW.seq AND n = NEW.n; END;
CREATE TRIGGER unfetched_ended AFTER INSERT ON picture
BEGIN DELETE FROM unfetched WHERE machine = NEW.machine AND seq = NEW.seq AND n = NEW.n; END;
