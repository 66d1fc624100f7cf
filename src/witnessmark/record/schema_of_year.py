"""The tables of what is arranged for single students over a year (see `schema`)."""

ARRANGEMENTS = """
CREATE TABLE arrangements (
  task TEXT NOT NULL,
  student TEXT NOT NULL CHECK (student <> ''),
  kind TEXT NOT NULL,
  sheet TEXT NOT NULL,
  value TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL,
  PRIMARY KEY (task, student, kind, sheet)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER arrangement_comes AFTER INSERT ON arrangements
BEGIN
  SELECT RAISE(ABORT, 'no arrangement without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'arranged', NEW.task, NEW.student, '', NULL, NULL, g.who, g.why,
    NEW.kind || '|' || NEW.sheet || '|' || NEW.value
  FROM saying AS g;
END;

CREATE TRIGGER arrangement_stays BEFORE UPDATE OF task, student, kind, sheet ON arrangements
WHEN OLD.task <> NEW.task OR OLD.student <> NEW.student OR OLD.kind <> NEW.kind OR OLD.sheet <> NEW.sheet
BEGIN
  SELECT RAISE(ABORT, 'an arrangement stays with its student');
END;

CREATE TRIGGER arrangement_changes AFTER UPDATE ON arrangements
BEGIN
  SELECT RAISE(ABORT, 'no arrangement without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'arranged', NEW.task, NEW.student, '', NULL, NULL, g.who, g.why,
    NEW.kind || '|' || NEW.sheet || '|' || NEW.value
  FROM saying AS g;
END;

CREATE TRIGGER arrangement_goes AFTER DELETE ON arrangements
BEGIN
  SELECT RAISE(ABORT, 'no arrangement without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'arranged', OLD.task, OLD.student, '', NULL, NULL, g.who, g.why,
    OLD.kind || '|' || OLD.sheet || '|'
  FROM saying AS g;
END;
"""
