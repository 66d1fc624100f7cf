"""A step is taken back whole, with a reason, and every entry ever received stays."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from record.examples import LATER, NOW, accepted, handed_in, outcome, sheets, slip, task
from record.test_round_trips import fresh
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.questions.sheet.task import Rules
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound

WHOLE = sheets()
FIRST, SECOND, _ = (sheet.code for sheet in WHOLE)


def state(record: Record) -> tuple[object, ...]:
    """All that a step may change."""
    task = "shear-1"
    return record.returns(task), record.proposals(task), record.moderations(task), record.accepted(task)


def take_in(record: Record, code: str, typed: str, marks: str) -> None:
    """A return with its mark, as one step."""
    sheet = next(sheet for sheet in WHOLE if sheet.code == code)
    with record.step("mark", "shear-1", NOW):
        record.add_returns([handed_in(sheet, typed, f"{typed}.xlsx")], NOW)
        record.set_outcomes("shear-1", {code: {"1.a": outcome(marks, raw=typed)}}, NOW, "marked")


def give(record: Record, code: str, marks: str) -> None:
    """A teacher's mark, as one step."""
    with record.step("moderate", "shear-1", NOW, "R. Vos"):
        record.moderate(code, "1.a", Decimal(marks), "R. Vos", f"seen {marks}", NOW)


def test_a_step_that_looks_at_some_sheets_alone_is_taken_back_as_one_that_looks_at_all(issued: Record) -> None:
    for code in (FIRST, SECOND):
        take_in(issued, code, "94.2 kN", "3")
    before = state(issued)
    with issued.step("moderate", "shear-1", NOW, "R. Vos", [FIRST]):
        issued.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen", NOW, "Look once more")
    assert state(issued) != before
    assert issued.undo("R. Vos", "too soon", LATER).sheets == (FIRST,)
    assert state(issued) == before


def test_steps_are_taken_back_one_by_one_to_the_beginning(issued: Record) -> None:
    states = [state(issued)]
    take_in(issued, FIRST, "94.2 kN", "3")
    states.append(state(issued))
    take_in(issued, FIRST, "12 kN", "1")
    states.append(state(issued))
    give(issued, FIRST, "2")
    states.append(state(issued))
    give(issued, FIRST, "2.5")
    states.append(state(issued))
    with issued.step("accept", "shear-1", NOW, "R. Vos"):
        issued.accept("shear-1", accepted(), "R. Vos", "four of them did so", NOW)
        issued.set_outcomes("shear-1", {FIRST: {"1.a": slip()}}, NOW, "accepted")
    assert len({repr(one) for one in (*states, state(issued))}) == 6
    for before in reversed(states):
        issued.undo("R. Vos", "too soon", LATER)
        assert state(issued) == before
    assert issued.verify() == ()
    with pytest.raises(ProblemsFound, match="nothing-to-undo"):
        issued.undo("R. Vos", "too soon", LATER)
    assert [len(r.handed_in.entries) for r in issued.all_returns("shear-1")] == [1, 1]


def test_taking_back_tells_the_task_and_every_sheet_with_who_and_why(issued: Record) -> None:
    take_in(issued, FIRST, "94.2 kN", "3")
    before = len(issued.journal())
    undone = issued.undo("R. Vos", "the wrong folder", LATER)
    assert (undone.step.what, undone.sheets) == ("mark", (FIRST,))
    rows = issued.journal()[before:]
    assert [(r.event, r.sheet, r.who) for r in rows] == [
        (Event.MARKED, FIRST, "R. Vos"), (Event.UNDONE, "", "R. Vos"), (Event.UNDONE, FIRST, "R. Vos"),
    ]  # fmt: skip
    assert rows[0].why == "mark of 2027-02-01 09:30+00:00 taken back: the wrong folder"
    assert {r.why for r in rows[1:]} == {"the wrong folder"}


@pytest.mark.parametrize(("who", "why"), [("", "a reason"), ("R. Vos", " ")])
def test_nothing_is_taken_back_without_a_name_and_a_reason(issued: Record, who: str, why: str) -> None:
    take_in(issued, FIRST, "94.2 kN", "3")
    before = state(issued)
    with pytest.raises(ProblemsFound, match="no-reason"):
        issued.undo(who, why, LATER)
    assert state(issued) == before


def test_a_step_whose_rows_changed_since_by_other_means_is_left(issued: Record) -> None:
    take_in(issued, FIRST, "94.2 kN", "3")
    issued.set_outcomes("shear-1", {FIRST: {"1.a": outcome("1")}}, NOW, "by other means")
    with pytest.raises(ProblemsFound, match="changed-since"):
        issued.undo("R. Vos", "too soon", LATER)


def test_a_removal_ends_what_can_be_taken_back(issued: Record) -> None:
    take_in(issued, FIRST, "94.2 kN", "3")
    issued.remove_student("A1", LATER)
    with pytest.raises(ProblemsFound, match="nothing-to-undo"):
        issued.undo("R. Vos", "too soon", LATER)


def test_what_changed_nothing_is_no_step(issued: Record) -> None:
    take_in(issued, FIRST, "94.2 kN", "3")
    with issued.step("mark", "shear-1", LATER):
        pass
    assert issued.undo("R. Vos", "too soon", LATER).step.at == NOW


CODES = st.sampled_from([FIRST, SECOND])
HALVES = st.integers(0, 6).map(lambda n: str(Decimal(n) / 2))
DEEDS = st.lists(
    st.tuples(st.just("take in"), CODES, HALVES) | st.tuples(st.just("give"), CODES, HALVES)
    | st.tuples(st.just("undo"), CODES, HALVES),
    max_size=14,
)  # fmt: skip


@given(DEEDS)
@settings(max_examples=60, deadline=None)
def test_whatever_happens_every_entry_can_be_shown_and_no_total_changes_without_a_row(
    deeds: list[tuple[str, str, str]],
) -> None:
    with fresh() as record:
        states, received = [state(record)], []
        for n, (deed, code, marks) in enumerate(deeds):
            totals, rows = record.totals("shear-1"), len(record.journal())
            if deed == "take in":
                take_in(record, code, f"{n} kN", marks)
                received.append(f"{n} kN")
            elif deed == "give" and code in record.proposals("shear-1"):
                give(record, code, marks)
            elif deed == "undo" and len(states) > 1:
                record.undo("R. Vos", f"step {n}", LATER)
                states.pop()
                assert state(record) == states[-1]
            if state(record) != states[-1]:
                states.append(state(record))
            told = {row.sheet for row in record.journal()[rows:] if row.ask and row.why}
            assert {c for c, t in record.totals("shear-1").items() if totals.get(c) != t} <= told
        shown = [e.raw for r in record.all_returns("shear-1") for _, e in r.handed_in.entries]
        assert sorted(shown) == sorted(received)
        assert record.verify() == ()


def test_an_outcome_that_waits_is_taken_back_with_what_it_waited_for(issued: Record) -> None:
    waits = outcome("0", Verdict.UNEXPLAINED, in_tray=("no method fits",))
    with issued.step("mark", "shear-1", NOW):
        issued.set_outcomes("shear-1", {FIRST: {"1.a": waits}}, NOW, "marked")
    take_in(issued, FIRST, "94.2 kN", "3")
    issued.undo("R. Vos", "too soon", LATER)
    assert issued.proposals("shear-1") == {FIRST: {"1.a": waits}}


def test_a_day_arranged_for_one_sheet_is_taken_back_as_a_step_of_its_task(issued: Record) -> None:
    sheet = WHOLE[0]
    day = Arrangement(
        Arranging.RECEIVED, "shear-1", sheet.student.code, "2027-03-12", "R. Vos", "the post was late", NOW, sheet.code
    )
    with issued.step("received", "shear-1", NOW, "R. Vos"):
        assert issued.arrange(day)
    assert issued.undo("R. Vos", "it was not", LATER).sheets == ()
    assert issued.arranged().all == ()
    assert issued.verify() == ()


def test_a_step_tells_what_was_done_when_and_by_whom(issued: Record) -> None:
    assert issued.last_step() is None
    give_after = outcome("1")
    with issued.step("mark", "shear-1", LATER, "R. Vos"):
        issued.set_outcomes("shear-1", {SECOND: {"1.a": give_after}}, LATER, "marked")
    step = issued.last_step()
    assert step is not None
    assert (step.number, step.at, step.what, step.task, step.who) == (1, LATER, "mark", "shear-1", "R. Vos")


def test_a_step_that_only_brought_rows_concerns_the_sheet_that_they_are_of(issued: Record) -> None:
    take_in(issued, SECOND, "94.2 kN", "3")
    assert issued.undo("R. Vos", "the wrong folder", LATER).sheets == (SECOND,)


def test_a_step_that_only_took_rows_away_concerns_their_sheet_and_brings_them_back(issued: Record) -> None:
    take_in(issued, SECOND, "94.2 kN", "3")
    before = state(issued)
    with issued.step("mark", "shear-1", NOW):
        issued.set_outcomes("shear-1", {SECOND: {}}, NOW, "nothing came")
    assert issued.undo("R. Vos", "it did", LATER).sheets == (SECOND,)
    assert state(issued) == before


def test_an_entry_that_utf_8_cannot_hold_is_taken_back_and_brought_back(issued: Record) -> None:
    """A choice between two returns, both with an answer key that holds half of a surrogate pair."""
    sheet, strange = WHOLE[0], "9.\ud800"
    for typed in ("1 kN", "2 kN"):
        issued.add_returns([handed_in(sheet, typed, f"{typed}.xlsx", **{f"x{strange}".replace(".", "_"): typed})], NOW)
    before = issued.all_returns("shear-1"), issued.differences("shear-1")
    with issued.step("choose", "shear-1", NOW, "R. Vos"):
        issued.choose_return(sheet.code, 2, "R. Vos", "seen", NOW)
    assert issued.all_returns("shear-1") != before[0]
    issued.undo("R. Vos", "too soon", LATER)
    assert (issued.all_returns("shear-1"), issued.differences("shear-1")) == before


def test_what_a_step_took_with_a_teachers_mark_comes_back_with_the_mark_told_after_the_machines(issued: Record) -> None:
    take_in(issued, FIRST, "94.2 kN", "3")
    give(issued, FIRST, "2")
    before = state(issued)
    with issued.step("remark", "shear-1", NOW, "R. Vos"):
        issued.withdraw(FIRST, "1.a", "R. Vos", "a mistake", NOW)
        issued.set_outcomes("shear-1", {FIRST: {}}, NOW, "nothing came")
    rows = len(issued.journal())
    issued.undo("R. Vos", "too soon", LATER)
    assert state(issued) == before
    told = [(row.event, row.before, row.after) for row in issued.journal()[rows:] if row.ask]
    assert told == [(Event.MARKED, None, Decimal(3)), (Event.MODERATED, Decimal(3), Decimal(2))]
    assert issued.verify() == ()


def test_a_mark_and_the_teachers_beside_it_go_together_the_teachers_first(issued: Record) -> None:
    with issued.step("mark", "shear-1", NOW, "R. Vos"):
        issued.set_outcomes("shear-1", {FIRST: {"1.a": outcome()}}, NOW, "marked")
        issued.moderate(FIRST, "1.a", Decimal(2), "R. Vos", "seen", NOW, "Look again")
    rows = len(issued.journal())
    issued.undo("R. Vos", "too soon", LATER)
    assert issued.outcomes("shear-1") == {}
    told = [(row.event, row.before, row.after) for row in issued.journal()[rows:] if row.ask]
    assert told == [
        (Event.WITHDRAWN, Decimal(2), Decimal(3)), (Event.MARKED, Decimal(3), None), (Event.TOLD, None, None),
    ]  # fmt: skip


def test_a_step_is_taken_back_once_and_its_task_is_told_how_many_sheets_it_concerned(issued: Record) -> None:
    with issued.step("mark", "shear-1", NOW):
        issued.set_outcomes("shear-1", {FIRST: {"1.a": outcome()}, SECOND: {"1.a": outcome()}}, NOW, "marked")
    assert issued.undo("R. Vos", "too soon", LATER).sheets == (FIRST, SECOND)
    assert [(row.sheet, row.detail) for row in issued.journal() if row.event is Event.UNDONE] == [
        ("", "mark of 2027-02-01 09:30+00:00: 2 sheets"),
        (FIRST, "mark of 2027-02-01 09:30+00:00"), (SECOND, "mark of 2027-02-01 09:30+00:00"),
    ]  # fmt: skip
    with pytest.raises(ProblemsFound, match="nothing-to-undo"):
        issued.undo("R. Vos", "again", LATER)


def test_one_row_of_several_that_changed_since_is_enough_to_leave_a_step(issued: Record) -> None:
    with issued.step("mark", "shear-1", NOW):
        issued.set_outcomes("shear-1", {FIRST: {"1.a": outcome()}, SECOND: {"1.a": outcome()}}, NOW, "marked")
    issued.set_outcomes("shear-1", {SECOND: {"1.a": outcome("1")}}, NOW, "by other means")
    with pytest.raises(ProblemsFound, match=r"shear-1: \[changed-since\] expected the rows that the step left"):
        issued.undo("R. Vos", "too soon", LATER)


def test_other_rules_are_taken_back_with_the_rest_of_their_step(issued: Record) -> None:
    with issued.step("rules", "shear-1", NOW, "R. Vos"):
        issued.change_rules(task(rules=Rules(figures=2)), "R. Vos", "agreed", NOW)
    assert issued.undo("R. Vos", "not agreed", LATER).sheets == ()
    assert {sheet.task for sheet in issued.sheets("shear-1")} == {task()}


def test_a_step_that_looks_at_no_sheet_takes_back_what_is_of_none(issued: Record) -> None:
    with issued.step("accept", "shear-1", NOW, "R. Vos", []):
        issued.accept("shear-1", accepted(), "R. Vos", "four of them did so", NOW)
        issued.set_outcomes("shear-1", {FIRST: {"1.a": outcome()}}, NOW, "looked at by no step")
    issued.undo("R. Vos", "too soon", LATER)
    assert issued.accepted("shear-1") == ()
    assert issued.proposals("shear-1") == {FIRST: {"1.a": outcome()}}
