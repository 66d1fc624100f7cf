"""Version 7 of the record: what a teacher wrote for the student beside a mark, and the marks of each criterion of a
part that is marked by hand. The triggers tell every change of them in the journal, as those of `schema` do."""

WORDS = """
CREATE TABLE teacher_words (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask TEXT NOT NULL,
  say ANY NOT NULL,
  criteria TEXT NOT NULL,
  PRIMARY KEY (sheet, ask)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER words_come AFTER INSERT ON teacher_words
BEGIN
  SELECT RAISE(ABORT, 'no words without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'told', s.task, s.code, NEW.ask, NULL, NULL, g.who, g.why, NEW.say
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;

CREATE TRIGGER words_change AFTER UPDATE ON teacher_words
BEGIN
  SELECT RAISE(ABORT, 'no words without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'told', s.task, s.code, NEW.ask, NULL, NULL, g.who, g.why, NEW.say
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;

CREATE TRIGGER words_go AFTER DELETE ON teacher_words
BEGIN
  SELECT RAISE(ABORT, 'no words without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'told', s.task, s.code, OLD.ask, NULL, NULL, g.who, g.why, ''
  FROM saying AS g, sheets AS s WHERE s.id = OLD.sheet;
END;
"""
