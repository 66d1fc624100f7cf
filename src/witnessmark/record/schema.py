"""The tables of the record, by version. A file of version n becomes one of version n + 1 by the next script.

Marks are exact decimals as text. A mark cannot change without a row in the journal: the triggers write that row, and
they refuse when nobody said why (`saying` holds it for the length of one transaction). The journal can be neither
changed nor shortened, but for the sheets of a student who is being removed (`removing`, likewise). This guards against
mistakes of programs and hasty hands; it cannot bind an owner of the file who sets out to falsify it.

Version 2: a teacher may choose which return counts; a moderation keeps the entry that it was given for; a journal row
cannot be replaced by another of its number (`INSERT OR REPLACE` fires no delete trigger).

Version 3: slips that a teacher accepted for a task after it was issued, beside the question as it was issued.

Version 4: the journal is chained (`chain`, written by the program and not by triggers, so that a row that other means
wrote has no link), and a row about a sheet or a return says what it held (`evidence`, a SHA-256); what a command did is
kept as a step that can be taken back; the question texts name no folder. `sightings`, which outcomes tell, goes.

Version 5: what counts is kept answer by answer (`counting`), and an entry that differs from the one that counts waits
until a teacher decides (`differing`); files are kept as they were received (`files`). `returns.seen` numbers the
takings-in: of one sheet and file name, the return with the highest is what that file said last.

Version 6: what was done with a student on a visit (`visits`). A row of the journal about one has the student's code in
the place of a sheet's.

Version 7: see `schema_of_words`.

Version 8: what a teacher arranged for one student (`arrangements`): more time, an excuse, a further attempt, a day of
receiving, a group, leaving. Its rows of the journal, too, have the student's code in the place of a sheet's.

Version 9: see `schema_of_corrections`.

Columns of type ANY hold text that a student or a file system wrote: text, or bytes where UTF-8 cannot hold it.
"""

from witnessmark.record.schema_of_corrections import CORRECTIONS
from witnessmark.record.schema_of_words import WORDS
from witnessmark.record.schema_of_year import ARRANGEMENTS
from witnessmark.record.schema_visits import VISITS

TABLES_1 = """
CREATE TABLE tasks (
  key TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;

CREATE TABLE texts (
  hash TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;

CREATE TABLE sheets (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  task TEXT NOT NULL REFERENCES tasks (key),
  student TEXT NOT NULL,
  student_body TEXT NOT NULL,
  attempt INTEGER NOT NULL,
  issued TEXT NOT NULL,
  UNIQUE (task, student, attempt)
) STRICT;

CREATE TABLE variants (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  number INTEGER NOT NULL,
  question TEXT NOT NULL,
  fingerprint TEXT NOT NULL,
  text TEXT NOT NULL REFERENCES texts (hash),
  shown TEXT NOT NULL,
  row_names TEXT NOT NULL,
  expected TEXT NOT NULL,
  PRIMARY KEY (sheet, number)
) STRICT, WITHOUT ROWID;

CREATE TABLE returns (
  id INTEGER PRIMARY KEY,
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  file ANY NOT NULL,
  name ANY NOT NULL,
  sha256 TEXT NOT NULL,
  digest TEXT NOT NULL,
  received TEXT NOT NULL,
  current INTEGER NOT NULL CHECK (current IN (0, 1)),
  UNIQUE (sheet, name, sha256, digest)
) STRICT;
CREATE UNIQUE INDEX current_return ON returns (sheet) WHERE current = 1;

CREATE TABLE entries (
  return INTEGER NOT NULL REFERENCES returns (id),
  position INTEGER NOT NULL,
  ask ANY NOT NULL,
  raw ANY NOT NULL,
  place ANY NOT NULL,
  note ANY NOT NULL,
  spoiled INTEGER NOT NULL CHECK (spoiled IN (0, 1)),
  PRIMARY KEY (return, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE outcomes (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask TEXT NOT NULL,
  marks TEXT NOT NULL CHECK (marks <> '' AND marks NOT GLOB '*[^0-9.]*'),
  out_of TEXT NOT NULL CHECK (out_of <> '' AND out_of NOT GLOB '*[^0-9.]*'),
  verdict TEXT NOT NULL,
  waits INTEGER NOT NULL CHECK (waits IN (0, 1)),
  body TEXT NOT NULL,
  PRIMARY KEY (sheet, ask)
) STRICT, WITHOUT ROWID;

CREATE TABLE sightings (
  sheet INTEGER NOT NULL,
  ask TEXT NOT NULL,
  misconception TEXT NOT NULL,
  PRIMARY KEY (sheet, ask, misconception),
  FOREIGN KEY (sheet, ask) REFERENCES outcomes (sheet, ask) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;

CREATE TABLE moderations (
  sheet INTEGER NOT NULL,
  ask TEXT NOT NULL,
  marks TEXT NOT NULL CHECK (marks <> '' AND marks NOT GLOB '*[^0-9.]*'),
  machine TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL,
  PRIMARY KEY (sheet, ask),
  FOREIGN KEY (sheet, ask) REFERENCES outcomes (sheet, ask)
) STRICT, WITHOUT ROWID;

CREATE TABLE journal (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  event TEXT NOT NULL,
  task TEXT NOT NULL,
  sheet TEXT NOT NULL,
  ask TEXT NOT NULL,
  before TEXT,
  after TEXT,
  who TEXT NOT NULL,
  why TEXT NOT NULL CHECK (why <> ''),
  detail ANY NOT NULL
) STRICT;
CREATE INDEX journal_of_sheet ON journal (sheet);

CREATE TABLE saying (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  why TEXT NOT NULL CHECK (why <> '')
) STRICT;

CREATE TABLE removing (
  sheet TEXT PRIMARY KEY
) STRICT;
"""

JOURNAL_1 = """
CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be changed');
END;

CREATE TRIGGER journal_keeps BEFORE DELETE ON journal
WHEN NOT EXISTS (SELECT 1 FROM removing WHERE sheet = OLD.sheet)
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be shortened');
END;
"""

MACHINE_MARKS_1 = """
CREATE TRIGGER outcome_comes AFTER INSERT ON outcomes
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'marked', s.task, s.code, NEW.ask, NULL, NEW.marks, g.who, g.why, NEW.verdict
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;

CREATE TRIGGER outcome_changes AFTER UPDATE ON outcomes
WHEN OLD.marks <> NEW.marks OR OLD.out_of <> NEW.out_of OR OLD.verdict <> NEW.verdict
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'marked', s.task, s.code, NEW.ask, OLD.marks, NEW.marks, g.who, g.why,
    OLD.verdict || ', now ' || NEW.verdict
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;

CREATE TRIGGER outcome_stays BEFORE UPDATE OF sheet, ask ON outcomes
WHEN OLD.sheet <> NEW.sheet OR OLD.ask <> NEW.ask
BEGIN
  SELECT RAISE(ABORT, 'an outcome stays with its answer');
END;

CREATE TRIGGER outcome_goes AFTER DELETE ON outcomes
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'marked', s.task, s.code, OLD.ask, OLD.marks, NULL, g.who, g.why, 'no longer there'
  FROM saying AS g, sheets AS s WHERE s.id = OLD.sheet;
END;
"""

TEACHERS_MARKS_1 = """
CREATE TRIGGER moderation_comes AFTER INSERT ON moderations
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'moderated', s.task, s.code, NEW.ask, o.marks, NEW.marks, g.who, g.why, ''
  FROM saying AS g, sheets AS s, outcomes AS o WHERE s.id = NEW.sheet AND o.sheet = NEW.sheet AND o.ask = NEW.ask;
END;

CREATE TRIGGER moderation_changes AFTER UPDATE ON moderations
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'moderated', s.task, s.code, NEW.ask, OLD.marks, NEW.marks, g.who, g.why, ''
  FROM saying AS g, sheets AS s WHERE s.id = NEW.sheet;
END;

CREATE TRIGGER moderation_stays BEFORE UPDATE OF sheet, ask ON moderations
WHEN OLD.sheet <> NEW.sheet OR OLD.ask <> NEW.ask
BEGIN
  SELECT RAISE(ABORT, 'a moderation stays with its answer');
END;

CREATE TRIGGER moderation_goes AFTER DELETE ON moderations
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'withdrawn', s.task, s.code, OLD.ask, OLD.marks, o.marks, g.who, g.why, ''
  FROM saying AS g, sheets AS s, outcomes AS o WHERE s.id = OLD.sheet AND o.sheet = OLD.sheet AND o.ask = OLD.ask;
END;
"""

TABLES_2 = """
ALTER TABLE returns ADD COLUMN chosen INTEGER NOT NULL DEFAULT 0 CHECK (chosen IN (0, 1));

ALTER TABLE moderations ADD COLUMN raw ANY;

CREATE TRIGGER journal_grows BEFORE INSERT ON journal
WHEN EXISTS (SELECT 1 FROM journal WHERE id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be changed');
END;
"""

TABLES_3 = """
CREATE TABLE accepted (
  id INTEGER PRIMARY KEY,
  task TEXT NOT NULL REFERENCES tasks (key),
  question TEXT NOT NULL,
  part TEXT NOT NULL,
  line TEXT NOT NULL,
  misconception TEXT NOT NULL CHECK (misconception <> ''),
  misconception_body TEXT NOT NULL,
  answer TEXT NOT NULL CHECK (answer <> ''),
  keeps TEXT NOT NULL CHECK (keeps <> '' AND keeps NOT GLOB '*[^0-9.]*'),
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL,
  UNIQUE (task, question, part, line, misconception)
) STRICT;

CREATE TRIGGER acceptance_comes AFTER INSERT ON accepted
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'accepted', NEW.task, '', '', NULL, NULL, g.who, g.why,
    NEW.question || ' ' || NEW.part || CASE NEW.line WHEN '' THEN '' ELSE '.' || NEW.line END || ': '
    || NEW.misconception || ', ' || NEW.answer || ', keeps ' || NEW.keeps
  FROM saying AS g;
END;

CREATE TRIGGER acceptance_stays BEFORE UPDATE ON accepted
BEGIN
  SELECT RAISE(ABORT, 'an accepted slip cannot be changed');
END;

CREATE TRIGGER acceptance_goes AFTER DELETE ON accepted
BEGIN
  SELECT RAISE(ABORT, 'no mark without a reason') WHERE NOT EXISTS (SELECT 1 FROM saying);
  INSERT INTO journal (at, event, task, sheet, ask, before, after, who, why, detail)
  SELECT g.at, 'dropped', OLD.task, '', '', NULL, NULL, g.who, g.why,
    OLD.question || ' ' || OLD.part || CASE OLD.line WHEN '' THEN '' ELSE '.' || OLD.line END || ': '
    || OLD.misconception || ', ' || OLD.answer || ', keeps ' || OLD.keeps
  FROM saying AS g;
END;
"""

TABLES_4 = """
DROP TABLE sightings;

ALTER TABLE journal ADD COLUMN evidence TEXT NOT NULL DEFAULT '';

CREATE TABLE chain (
  row INTEGER PRIMARY KEY,
  salt TEXT NOT NULL,
  content TEXT NOT NULL,
  link TEXT NOT NULL,
  removed INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE TRIGGER chain_grows BEFORE INSERT ON chain
WHEN EXISTS (SELECT 1 FROM chain WHERE row >= NEW.row)
BEGIN
  SELECT RAISE(ABORT, 'the chain cannot be changed');
END;

CREATE TRIGGER chain_keeps BEFORE DELETE ON chain
BEGIN
  SELECT RAISE(ABORT, 'the chain cannot be shortened');
END;

CREATE TRIGGER chain_stays BEFORE UPDATE ON chain
WHEN NEW.row <> OLD.row OR NEW.content <> OLD.content OR NEW.link <> OLD.link
  OR OLD.removed <> 0 OR NEW.removed = 0 OR NEW.salt <> ''
BEGIN
  SELECT RAISE(ABORT, 'the chain cannot be changed');
END;

CREATE TABLE steps (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  what TEXT NOT NULL,
  task TEXT NOT NULL,
  who TEXT NOT NULL,
  undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;

CREATE TABLE step_rows (
  step INTEGER NOT NULL REFERENCES steps (id),
  place TEXT NOT NULL,
  key TEXT NOT NULL,
  sheet INTEGER NOT NULL,
  before TEXT NOT NULL,
  after TEXT NOT NULL,
  PRIMARY KEY (step, place, key)
) STRICT, WITHOUT ROWID;
"""

TABLES_5 = """
CREATE TABLE counting (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask ANY NOT NULL,
  return INTEGER NOT NULL REFERENCES returns (id),
  chosen INTEGER NOT NULL DEFAULT 0 CHECK (chosen IN (0, 1)),
  PRIMARY KEY (sheet, ask)
) STRICT, WITHOUT ROWID;

CREATE TABLE differing (
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  ask ANY NOT NULL,
  return INTEGER NOT NULL REFERENCES returns (id),
  since TEXT NOT NULL,
  PRIMARY KEY (sheet, ask, return)
) STRICT, WITHOUT ROWID;

CREATE TABLE files (
  sha256 TEXT PRIMARY KEY,
  size INTEGER NOT NULL,
  body BLOB NOT NULL
) STRICT, WITHOUT ROWID;

ALTER TABLE returns ADD COLUMN seen INTEGER NOT NULL DEFAULT 0;

ALTER TABLE returns ADD COLUMN source TEXT NOT NULL DEFAULT 'unknown'
  CHECK (source IN ('unknown', 'folder', 'book', 'table'));

UPDATE returns SET seen = id;

INSERT INTO counting (sheet, ask, return, chosen)
SELECT r.sheet, e.ask, r.id, r.chosen FROM returns AS r JOIN entries AS e ON e.return = r.id
WHERE r.current = 1 AND (trim(CAST(e.raw AS TEXT)) <> '' OR e.note <> '' OR e.spoiled = 1);

DROP INDEX current_return;

ALTER TABLE returns DROP COLUMN current;

ALTER TABLE returns DROP COLUMN chosen;
"""

SCRIPTS: tuple[str, ...] = (
    TABLES_1 + JOURNAL_1 + MACHINE_MARKS_1 + TEACHERS_MARKS_1,
    TABLES_2,
    TABLES_3,
    TABLES_4,
    TABLES_5,
    VISITS,
    WORDS,
    ARRANGEMENTS,
    CORRECTIONS,
)
"""What makes version 1 of an empty file, version 2 of version 1, and so on."""
