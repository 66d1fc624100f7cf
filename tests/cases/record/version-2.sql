-- A record that version 2 wrote (invented class of tests/record/examples.py), as the statements that make it again.
PRAGMA user_version = 2;
PRAGMA application_id = 1464685131;
BEGIN TRANSACTION;
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
INSERT INTO "entries" VALUES(1,0,'1.a','23.6 kN','B2','',0);
INSERT INTO "entries" VALUES(2,0,'1.a','9,42e4 N','B2','',0);
INSERT INTO "entries" VALUES(3,0,'1.a','94.2 kN','B2','',0);
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
INSERT INTO "journal" VALUES(1,'2027-02-01T09:30:00+00:00','task','shear-1','','',NULL,NULL,'','set','{"key":"shear-1","title":"Shear and punching","questions":["drain-hole","rivet"],"due":"2027-03-05","rules":{"figures":3,"carried_forward":true,"unit_missing":"0.5","rounded_early":"0.5","wrong_unit":"1","power_of_ten":"1","unknown_method":"0","half_marks":true,"ask_below":0.9}}');
INSERT INTO "journal" VALUES(2,'2027-02-01T09:30:00+00:00','issued','shear-1','shear-1-A1-1','',NULL,NULL,'','issued','');
INSERT INTO "journal" VALUES(3,'2027-02-01T09:30:00+00:00','issued','shear-1','shear-1-A2-1','',NULL,NULL,'','issued','');
INSERT INTO "journal" VALUES(4,'2027-02-01T09:30:00+00:00','issued','shear-1','shear-1-B1-1','',NULL,NULL,'','issued','');
INSERT INTO "journal" VALUES(5,'2027-02-01T09:30:00+00:00','returned','shear-1','shear-1-A1-1','',NULL,NULL,'','taken in','A1.xlsx');
INSERT INTO "journal" VALUES(6,'2027-02-01T09:30:00+00:00','returned','shear-1','shear-1-A2-1','',NULL,NULL,'','taken in','A2.xlsx');
INSERT INTO "journal" VALUES(7,'2027-02-08T17:05:00+00:00','returned','shear-1','shear-1-A1-1','',NULL,NULL,'','taken in','A1 again.xlsx');
INSERT INTO "journal" VALUES(8,'2027-02-08T17:05:00+00:00','chosen','shear-1','shear-1-A1-1','',NULL,NULL,'R. Vos','the first was meant','A1.xlsx');
INSERT INTO "journal" VALUES(9,'2027-02-01T09:30:00+00:00','marked','shear-1','shear-1-A1-1','1.a',NULL,'1','witnessmark','marked','slip');
INSERT INTO "journal" VALUES(10,'2027-02-01T09:30:00+00:00','marked','shear-1','shear-1-A2-1','1.a',NULL,'0','witnessmark','marked','unexplained');
INSERT INTO "journal" VALUES(11,'2027-02-08T17:05:00+00:00','moderated','shear-1','shear-1-A2-1','1.a','0','1.5','R. Vos','the sketch shows the right area','');
CREATE TABLE moderations (
  sheet INTEGER NOT NULL,
  ask TEXT NOT NULL,
  marks TEXT NOT NULL CHECK (marks <> '' AND marks NOT GLOB '*[^0-9.]*'),
  machine TEXT NOT NULL,
  who TEXT NOT NULL CHECK (who <> ''),
  why TEXT NOT NULL CHECK (why <> ''),
  at TEXT NOT NULL, raw ANY,
  PRIMARY KEY (sheet, ask),
  FOREIGN KEY (sheet, ask) REFERENCES outcomes (sheet, ask)
) STRICT, WITHOUT ROWID;
INSERT INTO "moderations" VALUES(2,'1.a','1.5','0','R. Vos','the sketch shows the right area','2027-02-08T17:05:00+00:00','94.2 kN');
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
INSERT INTO "outcomes" VALUES(1,'1.a','1','3','slip',0,'{"because":"Said of 1.","misconceptions":["face-for-edge"],"sure":0.97,"evidence":[{"verdict":"slip","misconceptions":["face-for-edge"],"marks":"1","sentence":"The face was taken.","formula":"tau*pi*d**2/4","sure":0.97}],"raw":"94.2 kN","read_as":"94.2 kN","repairs":[],"notes":[],"in_tray":[]}');
INSERT INTO "outcomes" VALUES(2,'1.a','0','3','unexplained',1,'{"because":"Said of 0.","misconceptions":[],"sure":0.25,"evidence":[],"raw":"94.2 kN","read_as":"94.2 kN","repairs":[],"notes":[],"in_tray":["no method fits"]}');
CREATE TABLE removing (
  sheet TEXT PRIMARY KEY
) STRICT;
CREATE TABLE returns (
  id INTEGER PRIMARY KEY,
  sheet INTEGER NOT NULL REFERENCES sheets (id),
  file ANY NOT NULL,
  name ANY NOT NULL,
  sha256 TEXT NOT NULL,
  digest TEXT NOT NULL,
  received TEXT NOT NULL,
  current INTEGER NOT NULL CHECK (current IN (0, 1)), chosen INTEGER NOT NULL DEFAULT 0 CHECK (chosen IN (0, 1)),
  UNIQUE (sheet, name, sha256, digest)
) STRICT;
INSERT INTO "returns" VALUES(1,1,'A1.xlsx','A1.xlsx','','a31c1462f172184693d2b2eaf5fdf10a554de8ac116118590af80969b267084b','2027-02-01T09:30:00+00:00',1,1);
INSERT INTO "returns" VALUES(2,2,'A2.xlsx','A2.xlsx','','c4eae6e0f4c0eb4ba1cfe57aaa03fb5402f87e4f51ad59cf734e8fe86a4b3db6','2027-02-01T09:30:00+00:00',1,0);
INSERT INTO "returns" VALUES(3,1,'A1 again.xlsx','A1 again.xlsx','','60e67ce5c22dfc44fe04f9f9a3714e0f02046cdb76dba0d6d727a80f6b0fdc17','2027-02-08T17:05:00+00:00',0,0);
CREATE TABLE saying (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  why TEXT NOT NULL CHECK (why <> '')
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
INSERT INTO "sheets" VALUES(1,'shear-1-A1-1','shear-1','A1','{"code":"A1","name":"Kim Dekker","group":"Westhaven","more":[["phone","none"]]}',1,'2027-02-01T09:30:00+00:00');
INSERT INTO "sheets" VALUES(2,'shear-1-A2-1','shear-1','A2','{"code":"A2","name":"Åsa Öberg","group":"Norrvik","more":[]}',1,'2027-02-01T09:30:00+00:00');
INSERT INTO "sheets" VALUES(3,'shear-1-B1-1','shear-1','B1','{"code":"B1","name":"Tomás Ó Sé","group":"Westhaven","more":[]}',1,'2027-02-01T09:30:00+00:00');
CREATE TABLE sightings (
  sheet INTEGER NOT NULL,
  ask TEXT NOT NULL,
  misconception TEXT NOT NULL,
  PRIMARY KEY (sheet, ask, misconception),
  FOREIGN KEY (sheet, ask) REFERENCES outcomes (sheet, ask) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
INSERT INTO "sightings" VALUES(1,'1.a','face-for-edge');
CREATE TABLE tasks (
  key TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;
INSERT INTO "tasks" VALUES('shear-1','{"key":"shear-1","title":"Shear and punching","questions":["drain-hole","rivet"],"due":"2027-03-05","rules":{"figures":3,"carried_forward":true,"unit_missing":"0.5","rounded_early":"0.5","wrong_unit":"1","power_of_ten":"1","unknown_method":"0","half_marks":true,"ask_below":0.9}}');
CREATE TABLE texts (
  hash TEXT PRIMARY KEY,
  body TEXT NOT NULL
) STRICT;
INSERT INTO "texts" VALUES('03a07ddc3c1cf0dbafa35a9451d36acc7197195847faaa66c7185726ecc30d94','drain-hole: the whole text of the question');
INSERT INTO "texts" VALUES('51e039478626f5b14b77c11a0c68ec3c4131a2260b77c27052253ef8cf8eebf4','rivet: the whole text of the question');
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
INSERT INTO "variants" VALUES(1,1,'drain-hole','fingerprint of drain-hole','03a07ddc3c1cf0dbafa35a9451d36acc7197195847faaa66c7185726ecc30d94','{"material.strength":["300","MPa"],"tau":["300","MPa"],"d":["20.0","mm"],"t":["5","mm"]}','{"material":"mild steel"}','{"a":"94247.77960769381","a.A_s":"0.00031415926535897936"}');
INSERT INTO "variants" VALUES(1,2,'rivet','fingerprint of rivet','51e039478626f5b14b77c11a0c68ec3c4131a2260b77c27052253ef8cf8eebf4','{"material.strength":["300","MPa"],"tau":["300","MPa"],"d":["20.0","mm"],"t":["5","mm"]}','{"material":"mild steel"}','{"a":"94247.77960769381","a.A_s":"0.00031415926535897936"}');
INSERT INTO "variants" VALUES(2,1,'drain-hole','fingerprint of drain-hole','03a07ddc3c1cf0dbafa35a9451d36acc7197195847faaa66c7185726ecc30d94','{"material.strength":["300","MPa"],"tau":["300","MPa"],"d":["21.0","mm"],"t":["5","mm"]}','{"material":"mild steel"}','{"a":"98960.16858807848","a.A_s":"0.0003298672286269283"}');
INSERT INTO "variants" VALUES(2,2,'rivet','fingerprint of rivet','51e039478626f5b14b77c11a0c68ec3c4131a2260b77c27052253ef8cf8eebf4','{"material.strength":["300","MPa"],"tau":["300","MPa"],"d":["21.0","mm"],"t":["5","mm"]}','{"material":"mild steel"}','{"a":"98960.16858807848","a.A_s":"0.0003298672286269283"}');
INSERT INTO "variants" VALUES(3,1,'drain-hole','fingerprint of drain-hole','03a07ddc3c1cf0dbafa35a9451d36acc7197195847faaa66c7185726ecc30d94','{"material.strength":["300","MPa"],"tau":["300","MPa"],"d":["22.0","mm"],"t":["5","mm"]}','{"material":"mild steel"}','{"a":"103672.55756846316","a.A_s":"0.0003455751918948772"}');
INSERT INTO "variants" VALUES(3,2,'rivet','fingerprint of rivet','51e039478626f5b14b77c11a0c68ec3c4131a2260b77c27052253ef8cf8eebf4','{"material.strength":["300","MPa"],"tau":["300","MPa"],"d":["22.0","mm"],"t":["5","mm"]}','{"material":"mild steel"}','{"a":"103672.55756846316","a.A_s":"0.0003455751918948772"}');
CREATE UNIQUE INDEX current_return ON returns (sheet) WHERE current = 1;
CREATE INDEX journal_of_sheet ON journal (sheet);
CREATE TRIGGER journal_stays BEFORE UPDATE ON journal
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be changed');
END;
CREATE TRIGGER journal_keeps BEFORE DELETE ON journal
WHEN NOT EXISTS (SELECT 1 FROM removing WHERE sheet = OLD.sheet)
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be shortened');
END;
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
CREATE TRIGGER journal_grows BEFORE INSERT ON journal
WHEN EXISTS (SELECT 1 FROM journal WHERE id = NEW.id)
BEGIN
  SELECT RAISE(ABORT, 'the journal cannot be changed');
END;
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('journal',11);
COMMIT;
