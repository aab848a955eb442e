-- What is left of each claim, in ten-thousandths of the money, the day it is due and whether
-- something was paid for it repeat what body says, so that claims are found and added up
-- without reading all. A machine's claims are written anew when it is folded anew.
ALTER TABLE claim ADD COLUMN remains INTEGER NOT NULL DEFAULT 0;
ALTER TABLE claim ADD COLUMN due     TEXT    NOT NULL DEFAULT '';
ALTER TABLE claim ADD COLUMN paid    INTEGER NOT NULL DEFAULT 0;
CREATE INDEX claim_still ON claim (machine, seq) WHERE remains > 0;
CREATE INDEX claim_over ON claim (machine, seq) WHERE remains < 0;
CREATE INDEX claim_left ON claim (machine, remains, seq) WHERE remains > 0;
CREATE INDEX claim_most ON claim (machine, remains DESC, seq) WHERE remains > 0;
CREATE INDEX claim_age ON claim (machine, day, remains) WHERE remains > 0;
CREATE INDEX claim_due ON claim (machine, due, remains) WHERE remains > 0;
CREATE INDEX claim_paid ON claim (machine, seq) WHERE paid = 1;
