"""The review of a class: which misconceptions recur and in whom, how hard each part was, what waits for the teacher."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.marking.outcome import ClassOutcomes, Outcome, Verdict
from witnessmark.questions.model.question import Misconception
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.review.shared_methods import NOT_SEARCHED, Searched

PLACEHOLDER = re.compile(r"\{[^{}]*\}")
"""Where each sheet has its own number or material."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One sighting of a misconception: who, in which group, at which ask, and how sure the name is."""

    student: str
    group: str
    label: str
    sure: float


@dataclass(frozen=True, slots=True)
class Recurrence:
    """How often one misconception shows in a class: every sighting, and the share of those who returned a sheet."""

    misconception: Misconception
    seen: tuple[Seen, ...]
    returned: int

    @property
    def students(self) -> tuple[str, ...]:
        """Who shows it, each once."""
        return tuple(dict.fromkeys(s.student for s in self.seen))

    @property
    def share(self) -> float:
        """Students who show it as a share of the sheets returned, 0 to 1."""
        return len(self.students) / self.returned if self.returned else 0.0


@dataclass(frozen=True, slots=True)
class Facility:
    """How hard one ask was: the facility (mean marks over marks available, 0 to 1) over those who returned a sheet,
    and how often each verdict was given."""

    label: str
    ask: str
    is_line: bool
    facility: float
    out_of: Decimal
    verdicts: tuple[tuple[Verdict, int], ...]


@dataclass(frozen=True, slots=True)
class TrayItem:
    """One thing that waits for the teacher: whose entry, where, what was typed, why it waits."""

    sheet_code: str
    student: str
    label: str
    raw: str
    proposal: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ClassReview:
    """The review of a task: recurrences most frequent first, facilities in sheet order, the in-tray, who is out, and
    what the search for wrong methods that no question knows has found (`review.shared_methods.search`)."""

    title: str
    issued: int
    returned: int
    recurrences: tuple[Recurrence, ...]
    facilities: tuple[Facility, ...]
    in_tray: tuple[TrayItem, ...]
    outstanding: tuple[str, ...]
    searched: Searched = NOT_SEARCHED


def class_review(
    title: str, sheets: Sequence[Sheet], outcomes: ClassOutcomes, misconceptions: Mapping[str, Misconception]
) -> ClassReview:
    """The review of one task; `outcomes` holds the sheets that came back, `sheets` all that were issued."""
    back = [sheet for sheet in sheets if sheet.code in outcomes]
    return ClassReview(
        title,
        len(sheets),
        len(back),
        _recurrences(back, outcomes, misconceptions),
        _facilities(back, outcomes),
        _in_tray(back, outcomes),
        tuple(sheet.student.code for sheet in sheets if sheet.code not in outcomes),
    )


def _marked(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> list[tuple[Sheet, Ask, Outcome]]:
    return [
        (sheet, ask, outcomes[sheet.code][ask.key])
        for sheet in sheets
        for ask in sheet.asks
        if ask.key in outcomes[sheet.code]
    ]


def _recurrences(
    sheets: Sequence[Sheet], outcomes: ClassOutcomes, misconceptions: Mapping[str, Misconception]
) -> tuple[Recurrence, ...]:
    seen: dict[str, list[Seen]] = {}
    for sheet, ask, outcome in _marked(sheets, outcomes):
        for key in outcome.misconceptions:
            student = sheet.student
            seen.setdefault(key, []).append(Seen(student.code, student.group, ask.label, outcome.sure))
    found = [
        Recurrence(misconceptions.get(key, Misconception(key, "", "", "")), tuple(where), len(sheets))
        for key, where in seen.items()
    ]
    return tuple(sorted(found, key=lambda r: (-len(r.students), -len(r.seen), r.misconception.key)))


def _facilities(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[Facility, ...]:
    by_label: dict[str, list[tuple[Ask, Outcome]]] = {}
    for _, ask, outcome in _marked(sheets, outcomes):
        by_label.setdefault(ask.label, []).append((ask, outcome))
    return tuple(_facility(label, found) for label, found in by_label.items())


def _facility(label: str, found: Sequence[tuple[Ask, Outcome]]) -> Facility:
    out_of = sum((o.out_of for _, o in found), Decimal(0))
    earned = sum((o.marks for _, o in found), Decimal(0))
    counts = tuple((v, sum(o.verdict is v for _, o in found)) for v in Verdict)
    ask = found[0][0]
    what = ask.line.is_ if ask.line else ask.part.is_ or PLACEHOLDER.sub("…", ask.part.ask)
    share = float(earned / out_of) if out_of else 0.0
    return Facility(label, what, ask.line is not None, share, found[0][1].out_of, tuple(c for c in counts if c[1]))


def _in_tray(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[TrayItem, ...]:
    return tuple(
        TrayItem(sheet.code, sheet.student.code, ask.label, o.raw, _proposal(o), o.in_tray)
        for sheet, ask, o in _marked(sheets, outcomes)
        if o.in_tray
    )


def _proposal(outcome: Outcome) -> str:
    return f"{outcome.verdict}, {outcome.marks} of {outcome.out_of}"
