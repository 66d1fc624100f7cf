"""The review of a class: which misconceptions recur and in whom, how hard each part was, what waits for the teacher."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.marking.outcome import ClassOutcomes, Outcome, Verdict
from witnessmark.questions.model.question import Misconception
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.review.facility import facility
from witnessmark.review.shared_methods import NOT_SEARCHED, Searched
from witnessmark.review.sightings import Marked, asked_in, marked_answers, sightings


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
    and how often each verdict was given. Answers that wait for the teacher's mark are left out, `waiting` of them;
    None where none is marked yet."""

    label: str
    ask: str
    is_line: bool
    facility: float | None
    out_of: Decimal
    verdicts: tuple[tuple[Verdict, int], ...]
    waiting: int = 0


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
class NoteRead:
    """What one student wrote to the teacher, as it was typed."""

    sheet_code: str
    student: str
    words: str


@dataclass(frozen=True, slots=True)
class ClassReview:
    """The review of a task: recurrences most frequent first, facilities in sheet order, the in-tray, who is out, what
    the search for wrong methods that no question knows has found (`review.shared_methods.search`), and what students
    wrote to the teacher."""

    title: str
    issued: int
    returned: int
    recurrences: tuple[Recurrence, ...]
    facilities: tuple[Facility, ...]
    in_tray: tuple[TrayItem, ...]
    outstanding: tuple[str, ...]
    searched: Searched = NOT_SEARCHED
    notes: tuple[NoteRead, ...] = ()


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


def _recurrences(
    sheets: Sequence[Sheet], outcomes: ClassOutcomes, misconceptions: Mapping[str, Misconception]
) -> tuple[Recurrence, ...]:
    return tuple(
        Recurrence(misconceptions.get(key, Misconception(key, "", "", "")), tuple(map(_seen, found)), len(sheets))
        for key, found in sightings(sheets, outcomes).items()
    )


def _seen(marked: Marked) -> Seen:
    student = marked.sheet.student
    return Seen(student.code, student.group, marked.ask.label, marked.outcome.sure)


def _facilities(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[Facility, ...]:
    by_label: dict[str, list[Marked]] = {}
    for marked in marked_answers(sheets, outcomes):
        by_label.setdefault(marked.ask.label, []).append(marked)
    return tuple(_facility(found[0].ask, [m.outcome for m in found]) for found in by_label.values())


def _facility(ask: Ask, found: Sequence[Outcome]) -> Facility:
    what = ask.line.is_ if ask.line else asked_in(ask.part)
    counts = Counter(outcome.verdict for outcome in found)
    verdicts = tuple((verdict, counts[verdict]) for verdict in Verdict if counts[verdict])
    share, waiting = facility(found, with_waiting=False), sum(outcome.is_waiting for outcome in found)
    if share is None and waiting < len(found) and not counts[Verdict.SET_ASIDE]:
        share = 0.0  # a step that earns nothing by itself
    return Facility(ask.label, what, ask.line is not None, share, found[0].out_of, verdicts, waiting)


def _in_tray(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[TrayItem, ...]:
    return tuple(
        TrayItem(m.sheet.code, m.sheet.student.code, m.ask.label, o.raw, _proposal(o), o.in_tray)
        for m in marked_answers(sheets, outcomes)
        if (o := m.outcome).in_tray
    )


def _proposal(outcome: Outcome) -> str:
    return f"{outcome.verdict}, {outcome.marks} of {outcome.out_of}"
