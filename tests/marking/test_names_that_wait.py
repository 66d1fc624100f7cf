"""Names of wrong methods are held to the truth where the answer waits for the teacher as well.

Each student makes one known slip and writes one or two figures only, so that the digits leave many of them in doubt.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from bank_fixture import BANK
from marking.students import CALCULATED, drawn, marked, right, written
from witnessmark.marking.outcome import Outcome
from witnessmark.maths.quantities import to_si
from witnessmark.questions.model.kinds import unit_asked
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.variant import Variant

QUESTIONS = CALCULATED[::8]
FIGURES = (1, 2)
LEAST = 12  # as many answers must wait, or the laws below say nothing
ROOM = 0.2  # a share of so few is hardly further below what is stated by chance


@dataclass(frozen=True)
class Waiting:
    """An answer that waits, and the slip that was made."""

    outcome: Outcome
    made: str

    @property
    def is_named(self) -> bool:
        return self.made in self.outcome.misconceptions


def slipped(variant: Variant, part: Part) -> Iterator[tuple[str, str]]:
    """What each slip of a part gives, to few figures, and its name."""
    for name, value in variant.slips.get(part.key, {}).items():
        if not isinstance(value, float):
            for figures in FIGURES:
                yield written(to_si(float(value.magnitude), unit_asked(part)), unit_asked(part), figures), name


def waiting_at(key: str) -> Iterator[Waiting]:
    for part in BANK[key].parts:
        students = [(v, *entry) for v in drawn(key, ["one seed"]) for entry in slipped(v, part)]
        if students:
            found = marked([v for v, _, _ in students], [right(v) | {part.key: text} for v, text, _ in students])
            for row, (_, _, name) in enumerate(students):
                outcome = found.outcome(part.key, row)
                if outcome.in_tray and outcome.misconceptions:
                    yield Waiting(outcome, name)


@pytest.fixture(scope="module")
def waiting() -> list[Waiting]:
    found = [one for key in QUESTIONS for one in waiting_at(key)]
    assert len(found) >= LEAST, len(found)
    return found


def test_a_name_that_waits_is_one_of_the_bank_and_of_an_explanation_that_is_shown(waiting: list[Waiting]) -> None:
    for one in waiting:
        assert set(one.outcome.misconceptions) <= set(BANK.misconceptions)
        assert one.outcome.misconceptions in {e.misconceptions for e in one.outcome.evidence}, one


def test_the_slip_that_was_made_is_among_what_the_teacher_is_shown(waiting: list[Waiting]) -> None:
    unseen = [one for one in waiting if not any(one.made in e.misconceptions for e in one.outcome.evidence)]
    assert unseen == []


def test_names_that_wait_are_true_as_often_as_they_say_they_are_sure(waiting: list[Waiting]) -> None:
    true = sum(one.is_named for one in waiting) / len(waiting)
    stated = sum(one.outcome.sure for one in waiting) / len(waiting)
    assert true >= stated - ROOM, (true, stated, len(waiting))


def test_a_wrong_name_that_waits_says_its_doubt(waiting: list[Waiting]) -> None:
    for one in waiting:
        if not one.is_named:
            reasons = " ".join(one.outcome.in_tray)
            assert "sure" in reasons or "two explanations" in reasons, one
