"""Sheets and tasks in the record at the edges: what is issued once, what two sheets share, what is worked out."""

from dataclasses import replace
from pathlib import Path

import pytest

from record.examples import LATER, NOW, QUESTIONS, STUDENTS, from_bundle, question, sheets, task, variant
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant
from witnessmark.record import sheets as stored
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound

WHOLE = sheets()


def test_the_same_variant_is_made_once_however_often_its_sheet_is_read(
    issued: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept: dict[tuple[int, str, str], Variant] = {}
    monkeypatch.setattr(stored, "_VARIANTS", kept)
    first = issued.sheets("shear-1")
    again = issued.sheets("shear-1")
    assert all(
        a is b
        for one, two in zip(first, again, strict=True)
        for a, b in zip(one.variants, two.variants, strict=True)
    )  # fmt: skip
    assert len(kept) == 6
    (alone,) = [issued.sheet(WHOLE[1].code)]
    assert alone is not None
    assert alone.variants[0] is first[1].variants[0]


def test_a_question_is_made_once_of_its_text_while_a_record_is_open(path: Path) -> None:
    made: list[str] = []

    def make(text: str) -> Question:
        made.append(text)
        return from_bundle(text)

    with Record(path, make) as record:
        record.add_sheets(WHOLE, NOW)
        for _ in range(2):
            assert record.sheets("shear-1") == WHOLE
    assert sorted(made) == sorted(QUESTIONS)


def test_a_sheet_is_found_by_its_code_among_those_of_several_tasks(issued: Record) -> None:
    other = sheets(task("shear-2"))
    issued.add_sheets(other, NOW)
    for sheet in (*WHOLE, *other):
        assert issued.sheet(sheet.code) == sheet
    assert issued.tasks() == ("shear-1", "shear-2")
    assert issued.sheet_codes() == tuple((s.code, s.student.code) for s in (*WHOLE, *other))


def test_sheets_of_one_code_and_other_contents_are_all_told_and_nothing_is_stored(issued: Record) -> None:
    new = sheets(attempt=2)
    others = [replace(sheet, variants=tuple(map(variant, QUESTIONS.values(), (7, 8)))) for sheet in WHOLE[:2]]
    with pytest.raises(ProblemsFound) as caught:
        issued.add_sheets([others[0], *new, others[1]], LATER)
    assert [(p.code, p.place.file) for p in caught.value.problems] == [
        ("issued-otherwise", sheet.code) for sheet in others
    ]  # fmt: skip
    assert issued.sheets("shear-1") == WHOLE


def test_a_second_sheet_of_a_student_and_attempt_is_told_by_its_own_code(issued: Record) -> None:
    first, second = (replace(sheets(attempt=2)[0], code=code) for code in ("first", "second"))
    with pytest.raises(ProblemsFound) as caught:
        issued.add_sheets([first, second], LATER)
    assert [p.place.file for p in caught.value.problems] == ["second"]
    with pytest.raises(ProblemsFound, match=r"a sheet of A1 for shear-1 \(attempt 1\) with its first contents"):
        issued.add_sheets([replace(WHOLE[0], code="third")], LATER)


def test_the_same_sheet_twice_at_once_is_issued_once(issued: Record) -> None:
    (new, *_) = sheets(attempt=2)
    assert issued.add_sheets([new, new], LATER) == 1
    assert issued.sheets("shear-1") == (*WHOLE, new)


def test_each_sheet_that_is_issued_has_its_row_of_the_journal(issued: Record) -> None:
    issued.add_sheets([*WHOLE, *sheets(attempt=2)], LATER)
    rows = [(row.sheet, row.task, row.at) for row in issued.journal() if row.event is Event.ISSUED]
    assert rows == [(sheet.code, "shear-1", NOW) for sheet in WHOLE] + [
        (sheet.code, "shear-1", LATER) for sheet in sheets(attempt=2)
    ]


def test_results_that_are_given_are_kept_question_by_question(record: Record) -> None:
    given = {"1.a": 94_247.78, "1.a.A_s": 3.1e-4, "2.a": 0.1 + 0.2}
    record.add_sheets(WHOLE[:1], NOW, {WHOLE[0].code: given})
    assert record.expected("shear-1") == {WHOLE[0].code: given}
    assert record.expected("shear-2") == {}


def test_a_task_is_set_once_and_told_when_its_title_changes(record: Record) -> None:
    record.add_task(task(), NOW)
    record.add_sheets(WHOLE, NOW)
    record.add_task(task(), LATER)
    record.add_task(replace(task(), title="Punching"), LATER)
    told = [
        (row.why, row.at, '"title":"Punching"' in row.detail) for row in record.journal() if row.event is Event.TASK
    ]
    assert told == [("set", NOW, False), ("changed", LATER, True)]


def test_a_task_that_was_not_issued_may_have_other_questions(record: Record) -> None:
    record.add_task(replace(task(), questions=("rivet",)), NOW)
    record.add_task(task(), LATER)
    found = record.task("shear-1")
    assert found is not None
    assert (found.task, found.sheets) == (task(), 0)


def test_a_sheet_of_a_question_without_its_text_is_refused_also_beside_whole_ones(issued: Record) -> None:
    new = sheets(attempt=2)[0]
    bare = replace(new, variants=(new.variants[0], variant(replace(question("rivet"), source=""))))
    with pytest.raises(ValueError, match="load it from a bank"):
        issued.add_sheets([bare], LATER)
    assert issued.sheets("shear-1") == WHOLE


def test_sheets_of_a_task_stand_in_the_order_of_issue(record: Record) -> None:
    record.add_sheets(WHOLE[::-1], NOW)
    assert [sheet.student for sheet in record.sheets("shear-1")] == list(STUDENTS[::-1])
