"""Between what is looked at once more and the act that rests on it nobody else writes: neither a tab nor a command."""

from collections.abc import Callable
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from desk.conftest import KLASS
from desk.open_desk import WHO, Visitor, form_to
from jobs.small_class import LATER, TASK, hand_in, right_answers, sheets_of
from witnessmark.desk.rooms import classes, marks, taking_in
from witnessmark.jobs import arranging, correcting
from witnessmark.jobs.arranging import extend
from witnessmark.jobs.counting import choose
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class
from witnessmark.record.rows import Step

AtDesk = Callable[[Path], Visitor]
Act = Callable[[], object]
OTHER = "P. Voss"
LOOK_SECONDS = 0.6
"""As long as a command is given to come in between; one that waits for the act takes longer."""


def meanwhile(patch: pytest.MonkeyPatch, module: Any, looks: str, act: Act) -> Callable[[], None]:
    """Let a command begin as soon as `looks` has looked for the act; gives what waits for its end."""
    as_it_is, begun = getattr(module, looks), [Thread(target=act)][:0]

    def looked(*given: Any, **named: Any) -> Any:
        found = as_it_is(*given, **named)
        if not begun:
            begun.append(Thread(target=act))
            begun[0].start()
            begun[0].join(LOOK_SECONDS)
        return found

    def ended() -> None:
        assert begun, f"{looks} did not look"
        begun[0].join()

    patch.setattr(module, looks, looked)
    return ended


def by_command(folder: Path, code: str = "LW01") -> object:
    """Another mark, given by the command."""
    return moderate(folder, sheets_of(folder)[code].code, "1a", "2", "seen on paper", OTHER, LATER)


def last_step(folder: Path) -> Step:
    with open_class(folder).record() as record:
        step = record.last_step()
    assert step is not None
    return step


def test_a_correction_is_done_over_what_it_was_worked_out_from(
    marked: Path, at_desk: AtDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = at_desk(marked)
    form = form_to(at.look(f"/class/{KLASS}/task/{TASK}/put-right"), "/correct")
    page = at.send(form, label="1a", changes="full marks for all")
    ended = meanwhile(monkeypatch, correcting, "correct", lambda: by_command(marked))
    done = at.send(form_to(page, "/correct"), who=WHO, why="The figure lacks a length")
    ended()
    assert "are marked otherwise now" in done.text
    assert last_step(marked).who == OTHER, "the command came in between"


def test_the_step_that_was_shown_is_taken_back_and_no_later_one(
    marked: Path, at_desk: AtDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = at_desk(marked)
    by_command(marked, "HB01")
    form = form_to(at.look(f"/class/{KLASS}"), "/take-back")
    ended = meanwhile(monkeypatch, classes, "last_step", lambda: by_command(marked))
    at.send(form, who=WHO, why="Too soon")
    ended()
    with open_class(marked).record() as record:
        given = record.moderations(TASK)
    assert list(given) == [sheets_of(marked)["LW01"].code]


def test_a_mark_is_taken_back_as_it_was_shown(marked: Path, at_desk: AtDesk, monkeypatch: pytest.MonkeyPatch) -> None:
    at, sheet = at_desk(marked), sheets_of(marked)["HB01"].code
    by_command(marked, "HB01")
    form = form_to(at.look(f"/class/{KLASS}/task/{TASK}/mark/{sheet}/1.a"), "/1.a")
    ended = meanwhile(monkeypatch, marks, "answer_at", lambda: moderate(
        marked, sheet, "1a", "1", "read once more", OTHER, LATER))  # fmt: skip
    at.send(form, back="yes", who=WHO, why="Too soon")
    ended()
    with open_class(marked).record() as record:
        assert record.moderations(TASK)[sheet]["1.a"].why == "read once more"


def test_a_return_is_chosen_between_the_two_that_were_shown(
    issued: Path, at_desk: AtDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = sheets_of(issued)["HB01"]
    for n, a in enumerate(("50 kN", "60 kN")):
        hand_in(issued, sheet, {**right_answers(sheet), "1.a": a}, f"{n}.xlsx")
    mark(issued, TASK, LATER)
    at = at_desk(issued)
    form = form_to(at.look(f"/class/{KLASS}/task/{TASK}/back"), "/choose")
    later, kept = int(form.buttons[-1][1]), int(form.buttons[0][1])
    ended = meanwhile(monkeypatch, taking_in, "list_returns", lambda: choose(
        issued, sheet.code, kept, ["1a"], OTHER, "the first is right", LATER))  # fmt: skip
    at.send(form, counts=str(later), who=WHO, why="She wrote this one last")
    ended()
    assert last_step(issued).who == OTHER, "the command came in between"


def test_a_day_is_given_over_the_one_that_was_shown(
    marked: Path, at_desk: AtDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    at = at_desk(marked)
    forms = at.look(f"/class/{KLASS}/students/LW02").forms
    form = next(form for form in forms if ("what", "extended") in form.fields)
    longer = Decision(OTHER, "at sea", LATER)
    ended = meanwhile(monkeypatch, arranging, "seal_of", lambda: extend(
        marked, TASK, "LW02", LATER.date(), longer))  # fmt: skip
    at.send(form, day="2027-03-12", who=WHO, why="the yard launches")
    ended()
    assert last_step(marked).who == OTHER, "the command came in between"
