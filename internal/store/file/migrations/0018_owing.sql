-- How many claims are still to come and how much, in ten-thousandths of the money, by the month
-- and the year of their days and of the days they are due: what years leave unpaid is added up
-- without reading it.
CREATE TABLE owing (
	machine INTEGER NOT NULL,
	kind    TEXT    NOT NULL, -- of what day and how long: day-month, day-year, due-month, due-year
	span    TEXT    NOT NULL, -- a month or a year
	n       INTEGER NOT NULL,
	remains INTEGER NOT NULL,
	PRIMARY KEY (machine, kind, span)
) WITHOUT ROWID;
CREATE TRIGGER owing_begun AFTER INSERT ON claim WHEN NEW.remains > 0
BEGIN
	INSERT INTO owing (machine, kind, span, n, remains)
		VALUES (NEW.machine, 'day-month', substr(NEW.day, 1, 7), 1, NEW.remains),
			(NEW.machine, 'day-year', substr(NEW.day, 1, 4), 1, NEW.remains),
			(NEW.machine, 'due-month', substr(NEW.due, 1, 7), 1, NEW.remains),
			(NEW.machine, 'due-year', substr(NEW.due, 1, 4), 1, NEW.remains)
		ON CONFLICT (machine, kind, span) DO UPDATE SET n = n + 1, remains = remains + excluded.remains;
END;
CREATE TRIGGER owing_more AFTER UPDATE ON claim WHEN NEW.remains > 0
BEGIN
	INSERT INTO owing (machine, kind, span, n, remains)
		VALUES (NEW.machine, 'day-month', substr(NEW.day, 1, 7), 1, NEW.remains),
			(NEW.machine, 'day-year', substr(NEW.day, 1, 4), 1, NEW.remains),
			(NEW.machine, 'due-month', substr(NEW.due, 1, 7), 1, NEW.remains),
			(NEW.machine, 'due-year', substr(NEW.due, 1, 4), 1, NEW.remains)
		ON CONFLICT (machine, kind, span) DO UPDATE SET n = n + 1, remains = remains + excluded.remains;
END;
CREATE TRIGGER owing_less AFTER UPDATE ON claim WHEN OLD.remains > 0
BEGIN
	UPDATE owing SET n = n - 1, remains = remains - OLD.remains WHERE machine = OLD.machine AND (kind, span) IN
		(VALUES ('day-month', substr(OLD.day, 1, 7)), ('day-year', substr(OLD.day, 1, 4)),
			('due-month', substr(OLD.due, 1, 7)), ('due-year', substr(OLD.due, 1, 4)));
END;
CREATE TRIGGER owing_ended AFTER DELETE ON claim WHEN OLD.remains > 0
BEGIN
	UPDATE owing SET n = n - 1, remains = remains - OLD.remains WHERE machine = OLD.machine AND (kind, span) IN
		(VALUES ('day-month', substr(OLD.day, 1, 7)), ('day-year', substr(OLD.day, 1, 4)),
			('due-month', substr(OLD.due, 1, 7)), ('due-year', substr(OLD.due, 1, 4)));
END;
INSERT INTO owing (machine, kind, span, n, remains)
	SELECT machine, 'day-month', substr(day, 1, 7), count(*), sum(remains) FROM claim WHERE remains > 0
		GROUP BY 1, 2, 3
	UNION ALL SELECT machine, 'day-year', substr(day, 1, 4), count(*), sum(remains) FROM claim WHERE remains > 0
		GROUP BY 1, 2, 3
	UNION ALL SELECT machine, 'due-month', substr(due, 1, 7), count(*), sum(remains) FROM claim WHERE remains > 0
		GROUP BY 1, 2, 3
	UNION ALL SELECT machine, 'due-year', substr(due, 1, 4), count(*), sum(remains) FROM claim WHERE remains > 0
		GROUP BY 1, 2, 3;
