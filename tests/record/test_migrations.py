"""A record that an earlier version wrote becomes one of today, with all that is in it."""

import hashlib
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from decimal import Decimal
from pathlib import Path
from threading import Barrier

import pytest

from record.examples import LATER, NOW, accepted, from_bundle, handed_in, outcome, sheets, slip
from witnessmark.files.bank.question_text import question_from_bundle
from witnessmark.marking.outcome import Verdict
from witnessmark.record.migrations import LATEST, bring_up_to_date, statements
from witnessmark.record.record import Record
from witnessmark.record.rows import Moderation
from witnessmark.record.schema import SCRIPTS
from witnessmark.words.errors import ProblemsFound

CASES = Path(__file__).parents[1] / "cases" / "record"
FIRST, SECOND, _ = sheets()


@pytest.fixture
def old(path: Path) -> Path:
    """A record as version 1 wrote it."""
    with closing(sqlite3.connect(path)) as db:
        db.executescript((CASES / "version-1.sql").read_text(encoding="utf-8"))
    return path


@pytest.fixture
def second(path: Path) -> Path:
    """A record as version 2 wrote it."""
    with closing(sqlite3.connect(path)) as db:
        db.executescript((CASES / "version-2.sql").read_text(encoding="utf-8"))
    return path


def version(path: Path) -> int:
    """The version that a file says it has."""
    with closing(sqlite3.connect(path)) as db:
        found: int = db.execute("PRAGMA user_version").fetchone()[0]
        return found


def test_a_record_of_version_1_is_brought_up_to_date_with_all_that_is_in_it(old: Path) -> None:
    assert version(old) == 1
    with Record(old, from_bundle) as record:
        assert record.sheets("shear-1") == sheets()
        assert record.returns("shear-1") == (
            handed_in(FIRST, "94.2 kN", "A1 again.xlsx"),
            handed_in(SECOND, "9,42e4 N"),
        )
        waits = outcome("0", Verdict.UNEXPLAINED, sure=0.25, in_tray=("no method fits",))
        assert record.proposals("shear-1") == {FIRST.code: {"1.a": slip()}, SECOND.code: {"1.a": waits}}
        made = Moderation(Decimal("1.5"), Decimal(0), "R. Vos", "the sketch shows the right area", LATER)
        assert record.moderations("shear-1") == {SECOND.code: {"1.a": made}}
        assert [row.number for row in record.journal()] == list(range(1, 11))
    assert version(old) == LATEST


def test_what_version_1_did_not_know_has_its_usual_value(old: Path) -> None:
    with Record(old, from_bundle) as record:
        assert not any(r.chosen for r in record.all_returns("shear-1"))
        assert record.moderations("shear-1")[SECOND.code]["1.a"].raw is None
        assert record.choose_return(FIRST.code, 1, "R. Vos", "as agreed", NOW)


def test_a_record_of_version_2_is_brought_up_to_date_and_has_accepted_nothing(second: Path) -> None:
    assert version(second) == 2
    with Record(second, from_bundle) as record:
        assert record.sheets("shear-1") == sheets()
        assert [(r.handed_in.file, r.counts, r.chosen) for r in record.all_returns("shear-1", FIRST.code)] == [
            ("A1.xlsx", ("1.a",), ("1.a",)), ("A1 again.xlsx", (), ()),
        ]  # fmt: skip
        assert record.moderations("shear-1")[SECOND.code]["1.a"].raw == "94.2 kN"
        assert record.accepted("shear-1") == ()
        record.accept("shear-1", accepted(), "R. Vos", "four of them did so", NOW)
    assert version(second) == LATEST


@pytest.mark.parametrize("of", [1, 2])
def test_a_migrated_record_is_guarded_like_a_new_one(of: int, path: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        db.executescript((CASES / f"version-{of}.sql").read_text(encoding="utf-8"))

    def shape(path: Path) -> list[tuple[str, ...]]:
        with Record(path, from_bundle), closing(sqlite3.connect(path)) as db:
            return db.execute("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name").fetchall()

    assert shape(path) == shape(tmp_path / "new.db")


@pytest.mark.parametrize("of", [1, 2])
def test_an_earlier_version_still_makes_what_it_made(of: int, path: Path, tmp_path: Path) -> None:
    def made(db: sqlite3.Connection) -> list[tuple[str, ...]]:
        return db.execute("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name").fetchall()

    with closing(sqlite3.connect(path)) as then, closing(sqlite3.connect(":memory:")) as now:
        then.executescript((CASES / f"version-{of}.sql").read_text(encoding="utf-8"))
        bring_up_to_date(now, tmp_path, SCRIPTS[:of])
        assert made(then) == made(now)


def test_a_migration_that_fails_leaves_the_record_as_it_was(old: Path) -> None:
    before = old.read_bytes()
    failing = (*SCRIPTS, "CREATE TABLE further (x ANY) STRICT;\nINSERT INTO nowhere VALUES (1);")
    with closing(sqlite3.connect(old, isolation_level=None)) as db:
        with pytest.raises(sqlite3.OperationalError, match="nowhere"):
            bring_up_to_date(db, old, failing)
        assert version(old) == 1
    assert old.read_bytes() == before


def test_programs_that_migrate_at_once_do_it_once(old: Path) -> None:
    start = Barrier(4)

    def opened(_: int) -> int:
        with closing(sqlite3.connect(old, isolation_level=None)) as db:
            start.wait()
            return bring_up_to_date(db, old)

    with ThreadPoolExecutor(4) as pool:
        before = list(pool.map(opened, range(4)))
    assert set(before) <= {1, LATEST}
    assert 1 in before
    assert version(old) == LATEST


def test_a_script_is_cut_into_its_statements() -> None:
    script = "CREATE TABLE a (x);\nCREATE TRIGGER t AFTER INSERT ON a\nBEGIN\n  DELETE FROM a;\n  SELECT 1;\nEND;\n"
    assert [s.split("\n")[0] for s in statements(script)] == [
        "CREATE TABLE a (x);",
        "CREATE TRIGGER t AFTER INSERT ON a",
    ]
    with pytest.raises(AssertionError, match="unfinished"):
        list(statements("SELECT 1"))


@pytest.fixture
def kept(request: pytest.FixtureRequest, path: Path) -> Path:
    """A real class as an earlier version kept it: one question, issued from a bank that lay in two folders."""
    with closing(sqlite3.connect(path)) as db:
        db.executescript((CASES / f"class-of-version-{request.param}.sql").read_text(encoding="utf-8"))
    return path


@pytest.mark.parametrize("kept", [1, 2, 3, 5, 6, 7, 8], indirect=True)
def test_a_class_of_every_earlier_version_opens_whole(kept: Path) -> None:
    with closing(sqlite3.connect(kept)) as db:
        before = db.execute("SELECT s.code, ask, marks, verdict FROM outcomes JOIN sheets AS s ON s.id = sheet")
        marks = sorted(before.fetchall())
    with Record(kept, question_from_bundle) as record:
        found = record.proposals("shear-1")
        assert sorted((s, a, str(o.marks), str(o.verdict)) for s, by in found.items() for a, o in by.items()) == marks
        assert len(record.sheets("shear-1")) == 4
        assert len(record.all_returns("shear-1")) == 5
        assert record.verify() == ()


@pytest.mark.parametrize("kept", [7, 8], indirect=True)
def test_a_class_of_versions_7_and_8_has_its_visit_and_its_teachers_words_and_no_correction(kept: Path) -> None:
    with Record(kept, question_from_bundle) as record:
        assert [(visit.student, visit.note) for visit in record.visits()] == [("HB01", "cut a disc from clay")]
        words = [m.say for by_ask in record.moderations("shear-1").values() for m in by_ask.values()]
        assert words == ["Look at the slug once more.", ""]
        assert record.corrections("shear-1") == ()
    assert version(kept) == LATEST


@pytest.mark.parametrize("kept", [1, 2, 3, 5, 6], indirect=True)
def test_no_path_of_a_bank_stays_in_a_record(kept: Path) -> None:
    assert version(kept) > 3 or b"/tmp/record/old/yard/bank" in kept.read_bytes()
    with Record(kept, question_from_bundle) as record:
        first, *others = [sheet.variants[0].question for sheet in record.sheets("shear-1")]
        assert all(question is first for question in others)
    assert b"/bank/" not in kept.read_bytes()


FREE = "PRAGMA freelist_count"


def test_what_a_script_took_out_is_in_no_free_page(path: Path) -> None:
    """Brought up to date over a connection that overwrites nothing of what it deletes."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.executescript((CASES / "class-of-version-3.sql").read_text(encoding="utf-8"))
        db.execute("PRAGMA secure_delete = OFF")
        assert bring_up_to_date(db, path) == 3
        assert db.execute(FREE).fetchone() == (0,)
    assert b"/bank/" not in path.read_bytes()


def test_the_journal_is_chained_whole_by_the_version_that_brings_the_chain(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.executescript((CASES / "class-of-version-3.sql").read_text(encoding="utf-8"))
        assert bring_up_to_date(db, path, SCRIPTS[:4]) == 3
        rows = db.execute("SELECT id FROM journal ORDER BY id").fetchall()
        assert db.execute("SELECT row FROM chain ORDER BY row").fetchall() == rows != []
        assert bring_up_to_date(db, path) == 4
    with Record(path, question_from_bundle) as record:
        assert record.verify() == ()


@pytest.mark.parametrize("text", ["[1, 2]", '{"form": "witnessmark question 2", "file": "kept"}', "plain text", "3"])
def test_a_text_that_never_had_a_path_stays_as_it_is(old: Path, text: str) -> None:
    with closing(sqlite3.connect(old, isolation_level=None)) as db:
        db.execute("PRAGMA foreign_keys = OFF")
        db.execute("UPDATE texts SET body = ? WHERE rowid = 1", (text,))
        bring_up_to_date(db, old)
        assert db.execute("SELECT body FROM texts WHERE body = ?", (text,)).fetchall() == [(text,)]
        assert db.execute("SELECT count(*) FROM texts").fetchone() == (2,)


def test_a_text_loses_the_path_of_its_bank_and_keeps_all_else(old: Path) -> None:
    """Two texts that differed in nothing but the path are one, under the hash of what is left."""
    with closing(sqlite3.connect(old, isolation_level=None)) as db:
        for n, folder in enumerate(("quay", "shed"), 1):
            db.execute(
                "UPDATE texts SET body = ? WHERE rowid = ?",
                (f'{{"form": "witnessmark question 1", "file": "/{folder}/bank", "text": "A plate."}}', n),
            )
        bring_up_to_date(db, old)
        left = '{"form":"witnessmark question 2","text":"A plate."}'
        sha = hashlib.sha256(left.encode()).hexdigest()
        assert db.execute("SELECT hash, body FROM texts").fetchall() == [(sha, left)]
        assert db.execute("SELECT DISTINCT text FROM variants").fetchall() == [(sha,)]


@pytest.mark.parametrize("others", ["CREATE TABLE boats (name)", "PRAGMA user_version = 1"])
def test_another_programs_database_is_not_taken_for_an_empty_record(path: Path, others: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute(others)
        with pytest.raises(ProblemsFound, match="not-a-record"):
            bring_up_to_date(db, path)
        assert db.execute("SELECT name FROM sqlite_schema WHERE name = 'sheets'").fetchall() == []


def test_a_record_of_today_is_opened_and_one_of_tomorrow_is_not(path: Path) -> None:
    with Record(path, from_bundle):
        pass
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        assert bring_up_to_date(db, path) == LATEST
        db.execute(f"PRAGMA user_version = {LATEST + 1}")
        with pytest.raises(ProblemsFound, match=rf"record-newer.*version {LATEST} or earlier, found version"):
            bring_up_to_date(db, path)


def test_a_damaged_record_is_told_before_anything_is_brought_up_to_date(old: Path, path: Path) -> None:
    data = old.read_bytes()
    path.write_bytes(data[:4096] + b"\xff" * 64 + data[4160:])
    with closing(sqlite3.connect(path, isolation_level=None)) as db, pytest.raises(ProblemsFound) as caught:
        bring_up_to_date(db, path)
    assert [problem.code for problem in caught.value.problems] == ["record-damaged"]
