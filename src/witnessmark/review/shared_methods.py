"""Wrong methods that several students of a task share and no question knows yet, found among what they entered.

Searched is every place for a number: answers that nothing explains, answers that an edit of the right method explains
(the bank does not know that method either), and results that follow from such a line of the working.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

import numpy as np

from witnessmark.marking.hypotheses.wording import symbols_of
from witnessmark.marking.outcome import ClassOutcomes, Outcome, Verdict
from witnessmark.marking.search.shared_odds import LEAST_STUDENTS
from witnessmark.marking.search.unexplained import Unexplained
from witnessmark.marking.search.unknown_methods import Search, UnknownMethod
from witnessmark.maths.compiled import Array
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Tree
from witnessmark.questions.checking.accepted_slips import entry_text
from witnessmark.questions.model.kinds import lines_of, meaning_of, names_of, symbol_of
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.alike import Alike, Groups
from witnessmark.questions.sheet.task import Ask, Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.methods import NumberPlace, dimensions, methods_at, places
from witnessmark.questions.working.working import worked
from witnessmark.reading.column.columns import read_column
from witnessmark.words.faults import Fault, attempt
from witnessmark.words.problems import Place

OPEN = (Verdict.UNEXPLAINED, Verdict.EDIT)
"""Verdicts of answers whose method no question knows."""
NEVER_OPEN = (
    Verdict.RIGHT, Verdict.BLANK, Verdict.UNREADABLE, Verdict.OTHER_SHEET, Verdict.CARRIED_FORWARD, Verdict.SET_ASIDE,
)  # fmt: skip
SURE = 0.95
"""A place is searched for answers that a known method explains less surely than this; others count by what is left."""
LEAST_OPEN, LEAST_DOUBTFUL = 1e-3, 2
NAME_IT = "name-this-method"


@dataclass(frozen=True, slots=True)
class Sharer:
    """One student whose answer a shared formula gives: what was typed, and how it is marked so far."""

    sheet_code: str
    student: str
    group: str
    typed: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class SharedMethod:
    """A formula that several students share at one answer; `number` counts those found there, the likeliest first.

    `formula` is worked from givens and earlier results, `right` is the right method of the same place. Of so many
    `answers` it gives those of `who`; see `UnknownMethod` for the rest. `entry` is for the question's `slips:`.
    """

    number: int
    label: str
    question: str
    place: str
    what: str
    symbol: str
    symbols: Mapping[str, str]
    formula: Tree
    right: Tree
    answer: str
    entry: str
    done: tuple[str, ...]
    beside: Tree | None
    power: int
    who: tuple[Sharer, ...]
    log_odds: float
    accidental: float
    tried: int
    answers: int
    rivals: tuple[Tree, ...] = ()


@dataclass(frozen=True, slots=True)
class Searched:
    """What the search found, and among what: how many answers no known method explains, and how many of these stood at
    places with enough of them for a search. A place at which the search has a fault is set aside."""

    shared: tuple[SharedMethod, ...] = ()
    unexplained: int = 0
    searched: int = 0
    faults: tuple[Fault, ...] = ()


NOT_SEARCHED = Searched()


@dataclass(frozen=True, slots=True)
class _Row:
    """One student at one place."""

    sheet: Sheet
    variant: Variant
    number: int
    outcomes: Mapping[str, Outcome]

    def outcome(self, within: str) -> Outcome | None:
        """The outcome at a place of the same question."""
        return self.outcomes.get(f"{self.number}.{within}")


def search(sheets: Sequence[Sheet], outcomes: ClassOutcomes, only: str = "") -> Searched:
    """The shared methods of a task in the order of the sheet; `only` limits the search to one ask (`1.a`)."""
    groups = [(ask, rows) for ask, rows in _places(sheets, outcomes) if only in ("", ask.key)]
    enough = [(ask, rows) for ask, rows in groups if _can_search(ask, rows)]
    found: list[SharedMethod] = []
    faults: list[Fault] = []
    for ask, rows in enough:
        first = sum(one.label == ask.label for one in found) + 1
        there = attempt(partial(_all_shared, ask, rows, first), Place(ask.label))
        if isinstance(there, Fault):
            faults.append(there)
        else:
            found += there
    return Searched(tuple(found), _unknown(groups), _unknown(enough), tuple(faults))


def _unknown(groups: Iterable[tuple[Ask, Sequence[_Row]]]) -> int:
    """How many answers there have a method that no question knows."""
    return sum(_is_unknown(row.outcome(ask.within)) for ask, rows in groups for row in rows)


def _all_shared(ask: Ask, rows: Sequence[_Row], first: int) -> list[SharedMethod]:
    """The shared methods of one place, numbered from `first`."""
    return [_shared(method, ask, rows, number) for number, method in enumerate(_found_at(ask, rows), first)]


def _places(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> list[tuple[Ask, list[_Row]]]:
    """The answers without a known method at each place, those of one version of a question together."""
    found: dict[tuple[str, Alike], tuple[Ask, list[_Row]]] = {}
    groups = Groups(sheets)
    for sheet in sheets:
        mine = outcomes.get(sheet.code, {})
        for ask in sheet.asks:
            variant = sheet.variants[ask.number - 1]
            row = _Row(sheet, variant, ask.number, mine)
            if isinstance(ask.part, QuantityPart) and _is_open(row, ask):
                found.setdefault((ask.key, groups.of(variant)), (ask, []))[1].append(row)
    return list(found.values())


def _is_open(row: _Row, ask: Ask) -> bool:
    """True of an answer whose method is not known, or not surely; and of what follows from a line of that kind."""
    outcome = row.outcome(ask.within)
    if outcome is None or outcome.verdict is not Verdict.CARRIED_FORWARD:
        return outcome is not None and _how_open(outcome) > LEAST_OPEN
    lines = [row.outcome(f"{ask.part.key}.{line.name}") for line in lines_of(ask.part)] if ask.line is None else []
    return any(line is not None and line.verdict in OPEN for line in lines)


def _is_unknown(outcome: Outcome | None) -> bool:
    return outcome is not None and outcome.verdict in OPEN


def _how_open(outcome: Outcome) -> float:
    """How far an answer is from being explained by a method that its question knows, from 0 to 1."""
    if outcome.verdict in NEVER_OPEN:
        return 0.0
    return 1.0 if _is_unknown(outcome) else 1 - outcome.sure


def _can_search(ask: Ask, rows: Sequence[_Row]) -> bool:
    """True where enough answers are in doubt: of three that share a method one may seem to be explained."""
    outcomes = [row.outcome(ask.within) for row in rows]
    doubtful = sum(o is None or o.verdict is Verdict.CARRIED_FORWARD or _how_open(o) > 1 - SURE for o in outcomes)
    return len(rows) >= LEAST_STUDENTS and doubtful >= LEAST_DOUBTFUL


def _found_at(ask: Ask, rows: Sequence[_Row]) -> tuple[UnknownMethod, ...]:
    question, figures = rows[0].variant.question, rows[0].sheet.task.rules.figures
    place = next(p for p in places(question, figures) if p.key == ask.within)
    return Search(question, place).find_all(_unexplained(place, rows))


def _unexplained(place: NumberPlace, rows: Sequence[_Row]) -> Unexplained:
    question = rows[0].variant.question
    values = [row.variant.values for row in rows]
    givens = {name: np.array([v[name] for v in values]) for name in values[0]}
    si, figures, scale = _read(question, place.key, place.asked.unit, rows, givens)
    outcomes = [row.outcome(place.key) for row in rows]
    still = np.array([1.0 if o is None or o.verdict is Verdict.CARRIED_FORWARD else _how_open(o) for o in outcomes])
    own: dict[str, Array] = {}
    typed: dict[str, Array] = {}
    for key in place.part.carries:
        wrong, right = _own(question, key, rows, givens)
        own |= dict.fromkeys(names_of(question.quantity(key)), wrong)
        typed |= dict.fromkeys(names_of(question.quantity(key)), right)
    return Unexplained(si, figures, scale, givens, tuple(row.sheet.code for row in rows), own, still, typed)


def _read(
    question: Question, key: str, unit_name: str, rows: Sequence[_Row], givens: Mapping[str, Array]
) -> tuple[Array, Array, Array]:
    """SI values, figures written and the scale of the unit, as the first reading of each entry has them; nan where
    nothing can be read. A unit of another dimension counts as the one that was asked."""
    texts = [outcome.raw if (outcome := row.outcome(key)) else "" for row in rows]
    reading = read_column(texts, unit_name, worked(question, givens).get(key))
    fits, asked = reading.dimension_fits[:, 0], unit(unit_name)
    scale = np.where(fits, reading.scale[:, 0], asked.scale)
    si = np.where(fits, reading.si[:, 0], reading.number[:, 0] * asked.scale + asked.offset)
    return si, reading.figures[:, 0], scale


def _own(question: Question, key: str, rows: Sequence[_Row], givens: Mapping[str, Array]) -> tuple[Array, Array]:
    """The students' own results of an earlier part: the wrong ones, and the right ones as they were typed; nan for
    others and where nothing is there."""
    si, _, _ = _read(question, key, question.quantity(key).unit, rows, givens)
    outcomes = [row.outcome(key) for row in rows]
    right = np.array([o is not None and o.verdict is Verdict.RIGHT for o in outcomes])
    wrong = np.array([o is not None and o.verdict is not Verdict.RIGHT for o in outcomes])
    return np.where(wrong, si, np.nan), np.where(right, si, np.nan)


def _shared(found: UnknownMethod, ask: Ask, rows: Sequence[_Row], number: int) -> SharedMethod:
    question = rows[0].variant.question
    place = next(p for p in places(question, rows[0].sheet.task.rules.figures) if p.key == ask.within)
    line = ask.line.name if ask.line else ""
    answer = plain(found.answer)
    return SharedMethod(
        number, ask.label, question.key, ask.within, ask.line.is_ if ask.line else meaning_of(ask.part),
        (ask.line.symbol or line) if ask.line else symbol_of(ask.part), _symbols(question), found.formula,
        methods_at(place, dimensions(question))[0].formula, answer, entry_text(NAME_IT, answer, Decimal(0), line),
        found.done, found.beside, found.power, tuple(_sharers(found, ask, rows)), found.log_odds, found.accidental,
        found.tried, found.answers, found.rivals,
    )  # fmt: skip


def _symbols(question: Question) -> dict[str, str]:
    """The symbol of every name, results included."""
    return symbols_of(question) | {part.key: symbol for part in question.parts if (symbol := symbol_of(part))}


def _sharers(found: UnknownMethod, ask: Ask, rows: Iterable[_Row]) -> Iterator[Sharer]:
    for row in rows:
        outcome = row.outcome(ask.within)
        if row.sheet.code in found.who and outcome is not None:
            student = row.sheet.student
            yield Sharer(row.sheet.code, student.code, student.group, outcome.raw, outcome.verdict)
