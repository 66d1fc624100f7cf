"""The tables of what was done on visits: a step of the versions in `schema`."""

VISITS = """
CREATE TABLE visits (
  id INTEGER PRIMARY KEY,
  student TEXT NOT NULL CHECK (student <> ''),
  day TEXT NOT NULL,
  misconceptions TEXT NOT NULL,
  note TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  at TEXT NOT NULL
) STRICT;

CREATE TRIGGER visit_comes AFTER INSERT ON visits
BEGIN
  SELECT RAISE(ABORT, 'no visit without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'visited', '', NEW.student, '', NULL, NULL, g.who, g.why, NEW.day || ' ' || NEW.misconceptions
  FROM saying AS g;
END;

CREATE TRIGGER visit_stays BEFORE UPDATE ON visits
BEGIN
  SELECT RAISE(ABORT, 'a visit cannot be changed');
END;

CREATE TRIGGER visit_goes AFTER DELETE ON visits
BEGIN
  SELECT RAISE(ABORT, 'no visit without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'visited', '', OLD.student, '', NULL, NULL, g.who, g.why, OLD.day || ' taken back'
  FROM saying AS g;
END;
"""
