"""Where the misconceptions of a class show: the one count that review and gradebook take theirs from."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from witnessmark.marking.outcome import ClassOutcomes, Outcome
from witnessmark.questions.model.kinds import meaning_of
from witnessmark.questions.model.parts import Part
from witnessmark.questions.sheet.task import Ask, Sheet

PLACEHOLDER = re.compile(r"\{[^{}]*\}")
"""Where each sheet has its own number or material."""


@dataclass(frozen=True, slots=True)
class Marked:
    """One answer of a sheet and its outcome."""

    sheet: Sheet
    ask: Ask
    outcome: Outcome


def asked_in(part: Part) -> str:
    """What a part asks for, in words that hold for every sheet."""
    return meaning_of(part) or PLACEHOLDER.sub("…", part.ask)


def marked_answers(sheets: Iterable[Sheet], outcomes: ClassOutcomes) -> Iterator[Marked]:
    """Every answer that has an outcome, sheet by sheet, in the order of each sheet."""
    for sheet in sheets:
        marked = outcomes.get(sheet.code, {})
        yield from (Marked(sheet, ask, marked[ask.key]) for ask in sheet.asks if ask.key in marked)


def sightings(sheets: Iterable[Sheet], outcomes: ClassOutcomes) -> dict[str, tuple[Marked, ...]]:
    """The answers that show each misconception, by its key: those that most students show first, then those that show
    most often."""
    found: dict[str, list[Marked]] = {}
    for marked in marked_answers(sheets, outcomes):
        for key in marked.outcome.misconceptions:
            found.setdefault(key, []).append(marked)
    ranked = sorted(found, key=lambda key: (-len({m.sheet.student.code for m in found[key]}), -len(found[key]), key))
    return {key: tuple(found[key]) for key in ranked}
