-- Words and photos are added with the newest entry, are never changed, and go
-- only as a whole: erasing one leaves nothing of it but its digest.
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

-- A movement belongs to the entry just written; an older one gets none.
DROP TRIGGER move_insert;
CREATE TRIGGER move_insert BEFORE INSERT ON move
WHEN NEW.seq IS NOT (SELECT max(seq) FROM entry WHERE machine = NEW.machine)
  OR EXISTS (SELECT 1 FROM move
  WHERE machine = NEW.machine AND period = NEW.period AND seq = NEW.seq AND n = NEW.n)
BEGIN SELECT RAISE(ABORT, 'movements are only added with the newest entry'); END;

-- Tells the file from those of other programs.
PRAGMA application_id = 1936221804;
