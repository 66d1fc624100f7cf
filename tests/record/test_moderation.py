"""The teacher's marks stand beside the machine's, each change with who, when and why; what waits is worked out."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from record.examples import LATER, NOW, handed_in, outcome, sheets, slip, task
from record.test_chain import changed_behind
from witnessmark.marking.outcome import Teacher, Verdict
from witnessmark.questions.sheet.task import Rules
from witnessmark.record.record import Record
from witnessmark.record.rows import Event, Moderation
from witnessmark.words.errors import ProblemsFound

FIRST, SECOND, _ = (sheet.code for sheet in sheets())
WAITS = outcome("0", Verdict.UNEXPLAINED, sure=0.2, in_tray=("no method fits",))


@pytest.fixture
def marked(issued: Record) -> Record:
    """Two sheets marked; one answer waits."""
    issued.set_outcomes("shear-1", {FIRST: {"1.a": slip()}, SECOND: {"1.a": WAITS}}, NOW, "marked")
    return issued


def test_a_moderated_mark_stands_beside_the_machines(marked: Record) -> None:
    made = marked.moderate(FIRST, "1.a", Decimal("2.5"), " R.  Vos ", " the sketch is right ", LATER)
    assert made == Moderation(Decimal("2.5"), Decimal(1), "R. Vos", "the sketch is right", LATER, "94.2 kN")
    assert marked.moderations("shear-1") == {FIRST: {"1.a": made}}
    stands = marked.outcomes("shear-1")[FIRST]["1.a"]
    note = "moderated by R. Vos (the machine had proposed 1): the sketch is right"
    assert stands == replace(slip(), marks=Decimal("2.5"), notes=(note,), teacher=Teacher("", Decimal(1)))
    assert marked.proposals("shear-1")[FIRST]["1.a"] == slip()


def test_words_for_the_student_and_marks_of_criteria_are_kept_told_and_taken_back(marked: Record) -> None:
    criteria = (Decimal(1), Decimal("1.5"))
    given = (FIRST, "1.a", Decimal("2.5"), "R. Vos", "seen", LATER)
    with marked.step("moderate", "shear-1", LATER, "R. Vos"):
        made = marked.moderate(*given, "=Look at the plane", criteria)
    assert (made.say, made.criteria) == ("=Look at the plane", criteria)
    assert marked.moderations("shear-1") == {FIRST: {"1.a": made}}
    assert marked.outcomes("shear-1")[FIRST]["1.a"].teacher == Teacher("=Look at the plane", Decimal(1))
    rows = len(marked.journal())
    marked.moderate(*given, "=Look at the plane", criteria)
    assert len(marked.journal()) == rows
    assert (marked.journal()[-1].event, marked.journal()[-1].detail) == (Event.TOLD, "=Look at the plane")
    with marked.step("moderate", "shear-1", LATER, "R. Vos"):
        marked.withdraw(FIRST, "1.a", "R. Vos", "a mistake", LATER)
    assert marked.moderations("shear-1") == {}
    marked.undo("R. Vos", "no mistake", LATER)
    assert marked.moderations("shear-1") == {FIRST: {"1.a": made}}
    marked.undo("R. Vos", "not yet", LATER)
    assert marked.outcomes("shear-1")[FIRST]["1.a"] == slip()
    assert marked.verify() == ()


def test_every_change_of_mind_is_in_the_journal(marked: Record) -> None:
    marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "one reason", NOW)
    marked.moderate(FIRST, "1.a", Decimal(3), "R. Vos", "another reason", LATER)
    assert marked.withdraw(FIRST, "1.a", "R. Vos", "a mistake", LATER)
    assert not marked.withdraw(FIRST, "1.a", "R. Vos", "a mistake", LATER)
    rows = marked.journal(sheet_code=FIRST, ask_key="1.a")
    assert [(r.event, r.before, r.after, r.who, r.why) for r in rows] == [
        (Event.MARKED, None, Decimal(1), "witnessmark", "marked"),
        (Event.MODERATED, Decimal(1), Decimal(2), "R. Vos", "one reason"),
        (Event.MODERATED, Decimal(2), Decimal(3), "R. Vos", "another reason"),
        (Event.WITHDRAWN, Decimal(3), Decimal(1), "R. Vos", "a mistake"),
    ]
    assert marked.outcomes("shear-1")[FIRST]["1.a"] == slip()


def test_the_same_moderation_again_changes_nothing(marked: Record) -> None:
    first = marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "one reason", NOW)
    before = marked.journal()
    assert marked.moderate(FIRST, "1.a", Decimal("2.0"), "R. Vos", "one reason", LATER) == first
    assert marked.journal() == before


def test_marking_again_leaves_the_teachers_mark(marked: Record) -> None:
    marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "one reason", NOW)
    marked.set_outcomes("shear-1", {FIRST: {"1.a": outcome()}}, LATER, "the bank knows more now")
    stands = marked.outcomes("shear-1")[FIRST]["1.a"]
    assert stands.marks == 2
    assert stands.in_tray == ("the machine's mark was 1 when it was moderated and is 3 now",)


def test_a_moderated_answer_outlives_a_return_without_it(marked: Record) -> None:
    marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "one reason", NOW)
    marked.set_outcomes("shear-1", {FIRST: {"1.b": outcome()}}, LATER, "a shorter return")
    assert marked.outcomes("shear-1")[FIRST]["1.a"].marks == 2


@pytest.mark.parametrize("marks", ["-1", "3.5", "0.25", "NaN", "-Infinity"])
def test_marks_that_the_part_does_not_give_are_refused(marked: Record, marks: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        marked.moderate(FIRST, "1.a", Decimal(marks), "R. Vos", "a reason", NOW)
    expected = f"{FIRST}: [marks-out-of-range] expected whole or half marks from 0 to 3 for 1a, found {marks}"
    assert str(caught.value) == expected


def test_halves_are_refused_where_the_task_gives_whole_marks(marked: Record) -> None:
    marked.change_rules(task(rules=Rules(half_marks=False)), "R. Vos", "agreed with the class", NOW)
    with pytest.raises(ProblemsFound) as caught:
        marked.moderate(FIRST, "1.a", Decimal("2.5"), "R. Vos", "a reason", NOW)
    assert str(caught.value) == f"{FIRST}: [marks-out-of-range] expected whole marks from 0 to 3 for 1a, found 2.5"


@pytest.mark.parametrize(("half_marks", "given"), [(False, "0 1 2 3"), (True, "0 0.5 1 1.5 2 2.5 3")])
def test_every_step_of_marks_that_the_task_gives_may_stand(marked: Record, half_marks: bool, given: str) -> None:
    marked.change_rules(task(rules=Rules(half_marks=half_marks)), "R. Vos", "agreed with the class", NOW)
    for marks in map(Decimal, given.split()):
        marked.moderate(FIRST, "1.a", marks, "R. Vos", "a reason", NOW)
        assert marked.outcomes("shear-1")[FIRST]["1.a"].marks == marks


@pytest.mark.parametrize(
    ("who", "why", "missing"),
    [("", "a reason", "a name"), ("R. Vos", " ", "a reason"), (" ", "", "a name and a reason")],
)
def test_a_moderation_says_who_and_why(marked: Record, who: str, why: str, missing: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        marked.moderate(FIRST, "1.a", Decimal(2), who, why, NOW)
    assert str(caught.value) == (
        f"{FIRST}: [no-reason] expected {missing} for 1a, found none;"
        " say who decides and why; both are kept in the record"
    )
    assert marked.moderations("shear-1") == {}


def test_what_was_not_marked_cannot_be_moderated(marked: Record) -> None:
    with pytest.raises(ProblemsFound) as caught:
        marked.moderate("nobody", "1.a", Decimal(2), "R. Vos", "a reason", NOW)
    assert str(caught.value) == (
        "nobody: [not-marked] expected a marked answer 1a, found none; mark the task first, then moderate"
    )


def waiting(record: Record) -> dict[tuple[str, str], tuple[str, ...]]:
    """Why answers wait for the teacher, by sheet code and ask key."""
    outcomes = record.outcomes("shear-1")
    waits = {code: {ask: o for ask, o in asks.items() if o.in_tray} for code, asks in outcomes.items()}
    assert record.waiting("shear-1") == {code: asks for code, asks in waits.items() if asks}
    counts = record.task("shear-1")
    assert counts is not None
    assert (counts.sheets, counts.marked) == (len(record.sheets("shear-1")), len(outcomes))
    assert counts.waiting == sum(map(len, waits.values()))
    for code, asks in outcomes.items():
        assert record.outcomes("shear-1", code) == {code: asks}
        assert record.returns("shear-1", code) == tuple(r for r in record.returns("shear-1") if r.sheet_code == code)
    return {(sheet, ask): o.in_tray for sheet, asks in outcomes.items() for ask, o in asks.items() if o.in_tray}


def test_the_in_tray_holds_what_waits_until_it_is_moderated(marked: Record) -> None:
    assert marked.outcomes("shear-1")[SECOND]["1.a"] == WAITS
    assert waiting(marked) == {(SECOND, "1.a"): ("no method fits",)}
    marked.moderate(SECOND, "1.a", Decimal(0), "R. Vos", "nothing to find in it", LATER)
    assert waiting(marked) == {}


def test_a_moderation_comes_back_to_the_in_tray_when_the_entry_changes(marked: Record) -> None:
    marked.moderate(SECOND, "1.a", Decimal(2), "R. Vos", "seen", NOW)
    marked.set_outcomes("shear-1", {SECOND: {"1.a": replace(WAITS, raw="12 kN")}}, LATER, "a second return")
    said = "the entry was '94.2 kN' when it was moderated and is '12 kN' now"
    assert waiting(marked) == {(SECOND, "1.a"): (said,)}
    marked.moderate(SECOND, "1.a", Decimal(2), "R. Vos", "seen", LATER)
    assert waiting(marked) == {}


def test_two_returns_with_different_answers_wait_until_a_teacher_chooses(issued: Record) -> None:
    sheet = sheets()[0]
    issued.add_returns([handed_in(sheet, "1 kN")], NOW)
    issued.add_returns([handed_in(sheet, "1 kN", "copy.xlsx")], NOW)
    assert issued.differences("shear-1") == ()
    issued.add_returns([handed_in(sheet, "2 kN", "new.xlsx")], LATER)
    (waits,) = issued.differences("shear-1")
    assert (waits.counts.told, waits.other.told) == ("'1 kN' (A1.xlsx, B2)", "'2 kN' (new.xlsx, B2)")
    first = issued.all_returns("shear-1")[0]
    assert issued.choose_return(sheet.code, first.number, "R. Vos", "the other is a friend's", LATER)
    assert not issued.choose_return(sheet.code, first.number, "R. Vos", "the other is a friend's", LATER)
    assert issued.differences("shear-1") == ()
    assert issued.returns("shear-1") == (first.handed_in,)
    last = issued.journal("shear-1")[-1]
    assert (last.event, last.who, last.why, last.detail) == (
        Event.CHOSEN,
        "R. Vos",
        "the other is a friend's",
        "A1.xlsx: all answers",
    )


def test_a_choice_holds_when_known_files_are_taken_in_again_and_a_new_one_waits(issued: Record) -> None:
    sheet = sheets()[0]
    both = [handed_in(sheet, "1 kN"), handed_in(sheet, "2 kN", "new.xlsx")]
    issued.add_returns(both, NOW)
    issued.choose_return(sheet.code, 1, "R. Vos", "as agreed", NOW)
    issued.add_returns(both, LATER)
    assert issued.returns("shear-1") == (both[0],)
    assert issued.differences("shear-1") == ()
    third = handed_in(sheet, "3 kN", "third.xlsx")
    issued.add_returns([third], LATER)
    assert issued.returns("shear-1") == (both[0],)
    assert [d.other.entry.raw for d in issued.differences("shear-1")] == ["3 kN"]


def test_a_return_of_another_sheet_cannot_be_chosen(issued: Record) -> None:
    issued.add_returns([handed_in(sheets()[0])], NOW)
    with pytest.raises(KeyError, match="has no return 1"):
        issued.choose_return(SECOND, 1, "R. Vos", "a reason", NOW)


def test_a_chosen_return_counts_alone_and_what_it_leaves_blank_is_blank_then(issued: Record) -> None:
    sheet = sheets()[0]
    issued.add_returns([handed_in(sheet, "1 kN", x1_b="yes")], NOW)
    issued.add_returns([handed_in(sheet, "2 kN", "new.xlsx")], LATER)
    assert issued.choose_return(sheet.code, 2, "R. Vos", "the first is a friend's", LATER)
    (standing,) = issued.returns("shear-1")
    assert {ask: entry.raw for ask, entry in standing.entries if entry.is_filled} == {"1.a": "2 kN"}


def test_what_a_file_said_earlier_waits_no_longer_once_it_says_something_else(issued: Record) -> None:
    sheet = sheets()[0]
    issued.add_returns([handed_in(sheet, "1 kN")], NOW)
    for typed in ("2 kN", "3 kN"):
        issued.add_returns([handed_in(sheet, typed, "new.xlsx")], LATER)
        assert [d.other.entry.raw for d in issued.differences("shear-1")] == [typed]


def rows_of_words(record: Record) -> list[str]:
    """What the record holds as words for students."""
    return [line for line in record.export_jsonl() if line.startswith('{"kind":"words"')]


def test_the_same_mark_again_keeps_the_time_at_which_it_was_given(marked: Record) -> None:
    first = marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen", NOW)
    before = marked.journal()
    assert marked.moderate(FIRST, "1.a", Decimal("2.0"), " R. Vos", "seen ", LATER) == first
    assert marked.moderations("shear-1")[FIRST]["1.a"].at == NOW
    assert marked.journal() == before
    assert marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen twice", LATER).at == LATER
    assert marked.moderations("shear-1")[FIRST]["1.a"].at == LATER


def test_words_for_the_student_change_and_go_with_the_next_mark(marked: Record) -> None:
    given = (FIRST, "1.a", Decimal(2), "R. Vos", "seen")
    marked.moderate(*given, NOW, "Look at the plane", (Decimal(2),))
    made = marked.moderate(*given, LATER, "Look at the edge", (Decimal("0.5"), Decimal("1.5")))
    assert marked.moderations("shear-1")[FIRST]["1.a"] == made
    assert (made.say, made.criteria) == ("Look at the edge", (Decimal("0.5"), Decimal("1.5")))
    marked.moderate(*given, LATER)
    assert (marked.moderations("shear-1")[FIRST]["1.a"].say, rows_of_words(marked)) == ("", [])
    assert [row.detail for row in marked.journal() if row.event is Event.TOLD] == [
        "Look at the plane", "Look at the edge", "",
    ]  # fmt: skip


def test_a_mark_without_words_has_no_row_for_them(marked: Record) -> None:
    marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen", NOW)
    assert rows_of_words(marked) == []
    assert [row.event for row in marked.journal()][-1] is Event.MODERATED


def test_a_mark_that_is_taken_back_takes_its_words_with_it_and_only_once(marked: Record) -> None:
    marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen", NOW, "Look at the plane")
    marked.moderate(SECOND, "1.a", Decimal(1), "R. Vos", "seen", NOW, "Well begun")
    assert marked.withdraw(FIRST, "1.a", "R. Vos", "a mistake", LATER) is True
    assert [m.say for by_ask in marked.moderations("shear-1").values() for m in by_ask.values()] == ["Well begun"]
    assert len(rows_of_words(marked)) == 1
    before = marked.journal()
    assert marked.withdraw(FIRST, "1.a", "R. Vos", "a mistake", LATER) is False
    assert marked.journal() == before


@pytest.mark.parametrize("body", ["[]", '"94.2 kN"', "{}", '{"raw":3}'])
def test_an_outcome_without_its_entry_cannot_be_moderated(marked: Record, path: Path, body: str) -> None:
    changed_behind(path, f"UPDATE outcomes SET body = '{body}' WHERE sheet = 1")
    with pytest.raises(ProblemsFound, match=r"record-unreadable.*an outcome without its entry"):
        marked.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen", NOW)


def test_what_changes_is_told_with_the_outcome_before_and_after(marked: Record) -> None:
    better = replace(slip(), marks=Decimal(2), out_of=Decimal(4))
    found = marked.set_outcomes("shear-1", {FIRST: {"1.a": better, "1.b": outcome()}, SECOND: {}}, LATER, "again")
    assert [(c.sheet, c.ask, c.before, c.after) for c in found] == [
        (FIRST, "1.a", slip(), better), (FIRST, "1.b", None, outcome()), (SECOND, "1.a", WAITS, None),
    ]  # fmt: skip
    assert marked.proposals("shear-1") == {FIRST: {"1.a": better, "1.b": outcome()}}


def test_marks_that_wait_are_counted_with_and_without_a_teachers_mark_beside_them(marked: Record) -> None:
    """Three wait: one that nobody looked at, two whose machine's mark changed since a teacher gave one."""
    marked.set_outcomes("shear-1", {FIRST: {"1.a": slip(), "1.b": outcome()}}, NOW, "marked")
    for ask in ("1.a", "1.b"):
        marked.moderate(FIRST, ask, Decimal(2), "R. Vos", "seen", NOW)
    marked.set_outcomes("shear-1", {FIRST: {"1.a": outcome("0"), "1.b": outcome("1")}}, LATER, "other rules")
    found = marked.task("shear-1")
    assert found is not None
    assert (found.marked, found.waiting) == (2, 3)
    assert len(waiting(marked)) == 3
