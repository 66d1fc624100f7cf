"""Version 9 of the record: corrections of questions of an issued task; each comes and goes with a journal row."""

CORRECTIONS = """
CREATE TABLE corrections (
  id INTEGER PRIMARY KEY,
  task TEXT NOT NULL REFERENCES tasks (key),
  body TEXT NOT NULL,
  told TEXT NOT NULL CHECK (told <> ''),
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL
) STRICT;

CREATE TRIGGER correction_comes AFTER INSERT ON corrections
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'corrected', NEW.task, '', '', NULL, NULL, g.who, g.why, NEW.told FROM saying AS g;
END;

CREATE TRIGGER correction_stays BEFORE UPDATE ON corrections
BEGIN
  SELECT RAISE(ABORT, 'a correction cannot be changed');
END;

CREATE TRIGGER correction_goes AFTER DELETE ON corrections
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'uncorrected', OLD.task, '', '', NULL, NULL, g.who, g.why, OLD.told FROM saying AS g;
END;
"""
