"""Marking what a class handed in: the order of returns, other sheets, spoiled cells, notes for the teacher."""

import random
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import Answers, Habit, typed, worked
from witnessmark.marking import marker
from witnessmark.marking.class_marking import STOPPED, mark_returns
from witnessmark.marking.kinds.limits import mark_either_way
from witnessmark.marking.other_sheets import NEUTRAL
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.words.faults import Fault

TASK = Task("winter-1", "Winter sheet 1", ("drain-hole", "bottle-jack"))
CODES = ("HB01", "HB02", "LW01", "LW02", "PB01")


def a_class() -> dict[str, Sheet]:
    """Five sheets of one task, by sheet code."""
    drawn = {key: draw_class(BANK[key], TASK, CODES, frozenset()) for key in TASK.questions}
    sheets = [
        Sheet(sheet_code(TASK.key, code, 1), TASK, Student(code, code), tuple(drawn[k][code] for k in drawn))
        for code in CODES
    ]
    return {sheet.code: sheet for sheet in sheets}


SHEETS = a_class()
FIRST, SECOND, *OTHERS = SHEETS.values()


def right_answers(sheet: Sheet) -> Answers:
    """Every answer of a sheet worked properly, by ask key."""
    return {
        f"{n}.{key}": text for n, v in enumerate(sheet.variants, 1) for key, text in worked(v, Habit(written=5)).items()
    }


def handed_in(sheet: Sheet, answers: Answers, file: str = "book.xlsx") -> Return:
    """A return of these answers."""
    return Return(sheet.code, file, tuple((key, Entry(text, f"C{n}")) for n, (key, text) in enumerate(answers.items())))


def marked_alone(sheet: Sheet, answers: Answers) -> dict[str, Outcome]:
    """The outcomes of one return in the whole class."""
    return mark_returns(SHEETS, [handed_in(sheet, answers)], Rules())[sheet.code]


def test_every_sheet_worked_properly_is_right_in_its_own_numbers() -> None:
    marked = mark_returns(SHEETS, [handed_in(s, right_answers(s)) for s in SHEETS.values()], Rules())
    assert marked.keys() == SHEETS.keys()
    for code, outcomes in marked.items():
        assert [ask.key for ask in SHEETS[code].asks] == list(outcomes)
        assert all(o.marks == o.out_of and not o.in_tray for o in outcomes.values())


def test_the_order_of_returns_and_of_sheets_has_no_say_and_marking_twice_changes_nothing() -> None:
    returns = [handed_in(s, right_answers(o)) for s, o in zip(SHEETS.values(), [SECOND, *OTHERS, FIRST], strict=True)]
    returns[1] = handed_in(SECOND, right_answers(SECOND) | {"1.a": "1 kN", "1.b": "", "2.a": "?"})
    expected = mark_returns(SHEETS, returns, Rules())
    for seed in range(2):
        chance = random.Random(seed)
        mixed, sheets = chance.sample(returns, len(returns)), chance.sample(list(SHEETS.items()), len(SHEETS))
        assert mark_returns(dict(sheets), mixed, Rules()) == expected


def test_a_return_is_marked_the_same_whoever_else_handed_in() -> None:
    answers = right_answers(FIRST) | {"1.a": "12.3 kN", "2.c": "5 N"}
    others = [handed_in(s, right_answers(FIRST)) for s in (SECOND, *OTHERS)]
    assert mark_returns(SHEETS, [*others, handed_in(FIRST, answers)], Rules())[FIRST.code] == marked_alone(
        FIRST, answers
    )


def test_answers_of_another_sheet_are_told_neutrally_and_to_the_teacher_alone() -> None:
    swapped = [o for o in marked_alone(FIRST, right_answers(SECOND)).values() if o.verdict is Verdict.OTHER_SHEET]
    assert len(swapped) >= 2
    for outcome in swapped:
        assert (outcome.because, outcome.misconceptions) == (NEUTRAL, ())
        assert SECOND.student.code not in outcome.because
        assert outcome.in_tray == outcome.notes
        assert f"the right answer of {SECOND.student.code}'s sheet" in outcome.notes[0]
        assert not any(word in outcome.notes[0] + NEUTRAL for word in ("cheat", "cop", "dishonest"))


def test_answers_of_another_sheet_earn_nothing_yet_beyond_their_own_lines() -> None:
    outcomes = marked_alone(FIRST, right_answers(SECOND))
    for key, outcome in outcomes.items():
        if outcome.verdict is Verdict.OTHER_SHEET:
            lines = [o.marks for k, o in outcomes.items() if k.startswith(f"{key}.")]
            assert outcome.marks == sum(lines, Decimal(0)), key


def test_one_number_that_agrees_with_another_sheet_is_chance() -> None:
    answers = right_answers(FIRST) | {"2.a": right_answers(SECOND)["2.a"]}
    assert all(o.verdict is not Verdict.OTHER_SHEET for o in marked_alone(FIRST, answers).values())


def test_numbers_of_two_different_sheets_are_no_other_sheet() -> None:
    answers = right_answers(FIRST) | {"1.a": right_answers(SECOND)["1.a"], "2.a": right_answers(OTHERS[0])["2.a"]}
    assert all(o.verdict is not Verdict.OTHER_SHEET for o in marked_alone(FIRST, answers).values())


def test_a_students_own_right_answers_are_never_another_sheets() -> None:
    assert all(
        o.verdict is Verdict.RIGHT for k, o in marked_alone(FIRST, right_answers(FIRST)).items() if "A_" not in k
    )


def test_an_entry_that_the_spreadsheet_spoiled_is_unreadable_with_its_reason_and_kept_as_received() -> None:
    entry = Entry("45292 kN", "C8", "the cell was read as a date", spoiled=True)
    outcome = mark_returns(SHEETS, [Return(FIRST.code, "b.xlsx", (("1.a", entry),))], Rules())[FIRST.code]["1.a"]
    assert (outcome.verdict, outcome.marks, outcome.raw) == (Verdict.UNREADABLE, Decimal(0), "45292 kN")
    assert outcome.in_tray == ("could not be read: the cell was read as a date",)


def test_what_a_spreadsheet_did_to_an_entry_is_a_note_that_changes_no_mark() -> None:
    answer = right_answers(FIRST)["1.a"]
    entry = Entry(answer, "C8", "the formula's result was taken")
    outcome = mark_returns(SHEETS, [Return(FIRST.code, "b.xlsx", (("1.a", entry),))], Rules())[FIRST.code]["1.a"]
    assert (outcome.verdict, outcome.notes) == (Verdict.RIGHT, ("the formula's result was taken",))


def test_a_blank_return_is_marked_blank_everywhere() -> None:
    outcomes = marked_alone(FIRST, {})
    assert [ask.key for ask in FIRST.asks] == list(outcomes)
    assert {(o.verdict, o.marks) for o in outcomes.values()} == {(Verdict.BLANK, Decimal(0))}


def test_a_class_is_marked_as_each_student_alone_where_too_few_are_named_for_it_to_have_a_say() -> None:
    answers = {"1.a": "1.23 kN", "1.b": typed(BANK["drain-hole"], "b", 5e6), "2.a": "9 N", "2.b": "3 bar"}
    two = list(SHEETS.items())[:2]
    together = mark_returns(SHEETS, [handed_in(sheet, answers) for _, sheet in two], Rules())
    for code, sheet in two:
        for number, variant in enumerate(sheet.variants, 1):
            stem = f"{number}."
            mine = {k.removeprefix(stem): text for k, text in answers.items() if k.startswith(stem)}
            for key, alone in wm.mark(variant, mine).items():
                assert together[code][f"{number}.{key}"] == alone


def bang_at(monkeypatch: pytest.MonkeyPatch, *typed_: str) -> None:
    """A marker that has a fault which these texts bring out."""
    usual = mark_either_way

    def faulty(bench: Any, entries: Mapping[str, Sequence[str]], *more: Any) -> Any:
        if any(text in typed_ for texts in entries.values() for text in texts):
            raise ZeroDivisionError("of this text")
        return usual(bench, entries, *more)

    monkeypatch.setattr(marker, "mark_either_way", faulty)


def test_an_entry_that_brings_out_a_fault_waits_and_every_other_is_marked_as_ever(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    bang_at(monkeypatch, "bang", "boom")
    returns = [
        handed_in(FIRST, right_answers(FIRST) | {"1.a": "bang", "1.a.A_s": "boom"}),
        handed_in(SECOND, right_answers(SECOND) | {"2.a": "1 kN"}),
    ]
    faults: list[Fault] = []
    marked = mark_returns(SHEETS, returns, Rules(), faults.append)
    plain = [handed_in(s, dict(without_a_fault(r))) for s, r in zip((FIRST, SECOND), returns, strict=True)]
    usual = mark_returns(SHEETS, plain, Rules())
    waiting = {key: out for key, out in marked[FIRST.code].items() if out.sure == 0}
    assert {key: (o.raw, o.marks, o.out_of, o.verdict) for key, o in waiting.items()} == {
        "1.a.A_s": ("boom", Decimal(0), Decimal(1), Verdict.UNREADABLE),
        "1.a": ("bang", Decimal(0), Decimal(3), Verdict.UNREADABLE),
    }
    assert all(STOPPED in out.in_tray[0] and out.notes for out in waiting.values())
    assert {str(fault.place) for fault in faults} == {f"{FIRST.code}!1.a", f"{FIRST.code}!1.a.A_s"}
    others = {key: out for key, out in marked[FIRST.code].items() if key not in waiting}
    assert others == {key: out for key, out in usual[FIRST.code].items() if key not in waiting}
    assert marked[SECOND.code] == usual[SECOND.code]


def without_a_fault(handed: Return) -> Iterator[tuple[str, str]]:
    """The entries with what stands in the place of those with a fault."""
    yield from ((key, "\0" if entry.raw in ("bang", "boom") else entry.raw) for key, entry in handed.entries)


def test_where_no_entry_brings_out_the_fault_alone_every_entry_of_the_question_waits_and_others_do_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    usual = mark_either_way

    def faulty(bench: Any, *more: Any) -> Any:
        if bench.size > 1 and bench.question.key == TASK.questions[0]:
            raise ZeroDivisionError("of two together")
        return usual(bench, *more)

    monkeypatch.setattr(marker, "mark_either_way", faulty)
    marked = mark_returns(SHEETS, [handed_in(s, right_answers(s)) for s in (FIRST, SECOND)], Rules())
    for outcomes in marked.values():
        assert {key for key, out in outcomes.items() if out.in_tray} == {key for key in outcomes if key[0] == "1"}
        assert {out.verdict for key, out in outcomes.items() if key[0] == "1"} == {Verdict.UNREADABLE}
