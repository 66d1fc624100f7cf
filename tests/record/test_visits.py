"""What was done on visits: kept, told, taken back, removed with the student."""

from datetime import date
from pathlib import Path

import pytest

from record.examples import LATER, NOW, from_bundle, sheets
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.review.year.history import Visit
from witnessmark.words.errors import ProblemsFound

DAY = date(2027, 2, 1)
FIRST = Visit("A1", DAY, ("face-area-for-sheared-edge",), "Cut clay with a ring; saw it at once.", "R. Vos")
SECOND = Visit("A2", date(2027, 1, 30), (), "", "R. Vos")


def test_visits_are_kept_in_the_order_of_days_and_told_in_the_journal(path: Path) -> None:
    with Record(path, from_bundle) as record:
        record.add_visits([FIRST, SECOND], NOW)
        assert record.visits() == (SECOND, FIRST)
        told = [(row.sheet, row.who, row.why) for row in record.journal() if row.event is Event.VISITED]
        assert told == [("A1", "R. Vos", FIRST.note), ("A2", "R. Vos", "visited")]
        assert record.verify() == ()


def test_a_visit_can_be_taken_back(path: Path) -> None:
    with Record(path, from_bundle) as record:
        with record.step("visited", "", NOW, "R. Vos"):
            record.add_visits([FIRST, SECOND], NOW)
        record.undo("R. Vos", "the wrong class", LATER)
        assert record.visits() == ()
        assert sum(row.event is Event.VISITED for row in record.journal()) == 4
        assert record.verify() == ()


def test_a_visit_by_nobody_is_refused(path: Path) -> None:
    with Record(path, from_bundle) as record, pytest.raises(ProblemsFound, match="a name"):
        record.add_visits([Visit("A1", DAY, (), "seen", " ")], NOW)


@pytest.mark.parametrize("issued", [True, False])
def test_nothing_of_a_visit_is_left_when_its_student_is_removed(path: Path, issued: bool) -> None:
    with Record(path, from_bundle) as record:
        if issued:
            record.add_sheets(sheets(), NOW)
        record.add_visits([FIRST, SECOND], NOW)
        record.remove_student("A1", LATER, "K. Lund")
        assert record.visits() == (SECOND,)
        assert record.verify() == ()
        assert FIRST.note not in " ".join(record.export_jsonl(names=True))
    assert FIRST.note.encode() not in path.read_bytes()
