"""What is arranged for a student: one thing of a kind at a time, each change told, and what other means did found."""

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from record.examples import LATER, NOW, from_bundle
from record.test_chain import changed_behind
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound

MORE_TIME = Arrangement(Arranging.EXTENDED, "shear-1", "A1", "2027-03-12", "R. Vos", "was ill", NOW)
LATE_POST = Arrangement(Arranging.RECEIVED, "shear-1", "A1", "2027-03-09", "R. Vos", "the post", NOW, "shear-1-A1-1")
OF_CLASS = Arrangement(Arranging.GROUP, "", "A2", "Norrvik|east|quay", "R. Vos", "moved", NOW)


def told(record: Record) -> list[tuple[str, str, str]]:
    """What the journal says of arrangements: of whom, what, why."""
    return [(row.sheet, row.detail, row.why) for row in record.journal() if row.event is Event.ARRANGED]


def test_what_is_arranged_stands_with_who_when_and_why(record: Record) -> None:
    for given in (MORE_TIME, LATE_POST, replace(OF_CLASS, who=" R.  Vos ")):
        assert record.arrange(given) is True
    assert record.arranged().all == (OF_CLASS, MORE_TIME, LATE_POST)
    assert told(record) == [
        ("A1", "extended||2027-03-12", "was ill"),
        ("A1", "received|shear-1-A1-1|2027-03-09", "the post"),
        ("A2", "group||Norrvik|east|quay", "moved"),
    ]


def test_the_same_again_is_no_change_also_at_another_time(record: Record) -> None:
    record.arrange(MORE_TIME)
    before = record.journal()
    assert record.arrange(replace(MORE_TIME, at=LATER)) is False
    assert record.arranged().all == (MORE_TIME,)
    assert record.journal() == before


LONGER = replace(MORE_TIME, at=LATER, value="2027-03-19")
BY_ANOTHER = replace(MORE_TIME, at=LATER, who="K. Lund")
FOR_ANOTHER_REASON = replace(MORE_TIME, at=LATER, why="a longer illness")


@pytest.mark.parametrize("changed", [LONGER, BY_ANOTHER, FOR_ANOTHER_REASON], ids=["day", "name", "reason"])
def test_another_day_name_or_reason_takes_the_place_of_what_stood(record: Record, changed: Arrangement) -> None:
    record.arrange(MORE_TIME)
    assert record.arrange(changed) is True
    assert record.arranged().all == (changed,)
    assert len(told(record)) == 2


def test_an_arrangement_stands_no_longer_once_it_is_taken_back(record: Record) -> None:
    record.arrange(MORE_TIME)
    record.arrange(LATE_POST)
    taken_back = (Arranging.EXTENDED, "shear-1", "A1", "K. Lund", "back at work", LATER)
    assert record.drop_arrangement(*taken_back) is True
    assert record.arranged().all == (LATE_POST,)
    assert told(record)[-1] == ("A1", "extended||", "back at work")
    assert record.drop_arrangement(*taken_back) is False
    assert record.drop_arrangement(Arranging.RECEIVED, "shear-1", "A1", "K. Lund", "no", LATER, "shear-1-A1-1") is True
    assert record.arranged().all == ()
    assert record.verify() == ()


@pytest.mark.parametrize(("who", "why"), [("", "was ill"), ("R. Vos", " ")])
def test_nothing_is_arranged_or_taken_back_without_a_name_and_a_reason(record: Record, who: str, why: str) -> None:
    with pytest.raises(ProblemsFound, match=r"no-reason.*'extended'"):
        record.arrange(replace(MORE_TIME, who=who, why=why))
    record.arrange(MORE_TIME)
    with pytest.raises(ProblemsFound, match=r"no-reason.*taking back 'extended'"):
        record.drop_arrangement(Arranging.EXTENDED, "shear-1", "A1", who, why, LATER)
    assert record.arranged().all == (MORE_TIME,)


BEHIND = {
    "a day": ("UPDATE arrangements SET value = '2027-12-31' WHERE kind = 'extended'",
              "A1 shear-1 (extended): 2027-12-31, where the journal says 2027-03-12"),
    "one that went": ("DELETE FROM arrangements WHERE kind = 'received'",
                      "A1 shear-1 (received): none, where the journal says 2027-03-09"),
    "one that came": (f"INSERT INTO arrangements VALUES ('shear-1', 'B1', 'excused', '', 'exempt', 'x', 'y', '{NOW}')",
                      "B1 shear-1 (excused): exempt, where the journal says none"),
}  # fmt: skip


@pytest.mark.parametrize(("sql", "said"), BEHIND.values(), ids=BEHIND)
def test_an_arrangement_changed_by_other_means_is_found(path: Path, sql: str, said: str) -> None:
    with Record(path, from_bundle) as record:
        for given in (MORE_TIME, LATE_POST, OF_CLASS):
            record.arrange(given)
        record.drop_arrangement(Arranging.GROUP, "", "A2", "R. Vos", "stays", LATER)
        assert record.verify() == ()
    changed_behind(path, sql)
    with Record(path, from_bundle) as record:
        assert [(p.code, p.found) for p in record.verify()] == [("arrangement-changed", said)]


def test_an_arrangement_that_holds_no_day_is_told_as_one_that_cannot_be_read(path: Path) -> None:
    with Record(path, from_bundle) as record:
        record.arrange(MORE_TIME)
    changed_behind(path, "UPDATE arrangements SET at = 'yesterday'")
    with Record(path, from_bundle) as record:
        assert [(p.code, p.found.partition(":")[0]) for p in record.verify()] == [
            ("record-unreadable", "arrangement of A1"),
        ]  # fmt: skip


def test_what_was_arranged_for_a_student_alone_goes_with_the_student_and_leaves_no_permission_behind(
    path: Path,
) -> None:
    with Record(path, from_bundle) as record:
        record.arrange(OF_CLASS)
        record.arrange(MORE_TIME)
        record.remove_student("A1", LATER)
        assert record.arranged().all == (OF_CLASS,)
        assert [row[0] for row in told(record)] == ["A2"]
        assert record.verify() == ()
    with closing(sqlite3.connect(path)) as db, pytest.raises(sqlite3.IntegrityError, match="cannot be shortened"):
        db.execute("DELETE FROM journal WHERE sheet = 'A1' OR sheet = 'A2'")
