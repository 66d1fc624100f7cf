"""Classes of strangers for the class-wide search: a wrong method that no question lists, shared by some of a class.

Everybody else works as people do: most properly, some with a slip, some with a number from nowhere. The class is marked
and searched through the same doors as a real one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from witnessmark.marking.class_marking import mark_returns
from witnessmark.maths.printing.plain import plain
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant
from witnessmark.review.shared_methods import SharedMethod, search
from witnessmark.strangers.answers import Answer, Did
from witnessmark.strangers.arithmetic import both_sides_alike, read
from witnessmark.strangers.changes import Change
from witnessmark.strangers.papers import Asked, Paper
from witnessmark.strangers.seats import Seat
from witnessmark.strangers.students import Plan, done, new_changes, one_plan, some_habit
from witnessmark.strangers.working import BASE, right_way
from witnessmark.strangers.writing import Chance
from witnessmark.trial.judging import as_printed, sheets_of
from witnessmark.trial.measures import Measure
from witnessmark.trial.report import Share

CLASS = 24
SHARERS = (3, 5)
OTHERS, SHARES = (Did.RIGHT, Did.SLIP, Did.NOISE), (0.62, 0.13, 0.25)
"""What the rest of a class does at the place (common practice, no source)."""
FEWEST_NAMED = 3
FIGURES, FIGURE_SHARES = (3, 4, 5), (0.6, 0.3, 0.1)
ONE_EDIT = (
    "drop", "double", "half", "upside down", "multiplied", "square", "square lost", "constant 2", "constant 4",
    "reciprocal", "other function", "n off by one",
)  # fmt: skip
"""Kinds that one edit of the right method, or one product of what is given, says."""
KINDS = (*ONE_EDIT, "swap", "another given", "sign lost in a term", "average", "constant 3", "constant 1.5", "root")


@dataclass(frozen=True, slots=True)
class Planted:
    """One class: what was planted (nothing in a class of noise), by how many, and what the search reported."""

    question: str
    place: str
    kind: str
    says: str
    sharers: int
    found: bool
    others: int


@dataclass(frozen=True)
class Room:
    """One place of a question with a class of sheets, drawn once."""

    question: Question
    paper: Paper
    asked: Asked
    variants: Sequence[Variant]
    seats: Sequence[Seat]
    task: Task

    @cached_property
    def changes(self) -> dict[str, list[Change]]:
        """Every change by kind that can be planted here."""
        return new_changes(self.seats[0], right_way(self.asked))

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """Everybody's sheet."""
        codes = [f"S{n:02}" for n in range(len(self.variants))]
        return tuple(
            Sheet(sheet_code("trial", code, 1), self.task, Student(code, code, ""), (variant,))
            for code, variant in zip(codes, self.variants, strict=True)
        )


def planted_classes(questions: Sequence[tuple[Question, Paper]], count: int, seed: int) -> Iterator[Planted]:
    """So many planted methods, kind by kind and number by number, each in one class of three sharers and one of five;
    and as many classes in which nobody shares a method."""
    rooms = [room for question, paper in questions for room in rooms_of(question, paper, seed)]
    chance = np.random.Generator(np.random.PCG64([seed, CLASS, 11]))
    for n, (room, change) in enumerate(_planted(rooms, count, chance)):
        plan = Plan(Did.CHANGED, change.kind, change.way)
        for sharers in SHARERS:
            yield _class(room, plan, change.says, sharers, chance)
        yield noise_class(rooms, n, chance)


def noise_class(rooms: Sequence["Room"], number: int, chance: Chance) -> Planted:
    """A class in which nobody shares a method."""
    return _class(rooms[number % len(rooms)], None, "", 0, chance)


def _planted(rooms: Sequence["Room"], count: int, chance: Chance) -> Iterator[tuple["Room", Change]]:
    """Kind by kind, each in the next room (in an order of chance) where it can be made."""
    order = [rooms[i] for i in chance.permutation(len(rooms)).tolist()]
    for n in range(count):
        kind = KINDS[n % len(KINDS)]
        for at, room in enumerate(order):
            if found := room.changes.get(kind):
                order = [*order[:at], *order[at + 1 :], room]
                yield room, found[int(chance.integers(len(found)))]
                break


def rooms_of(question: Question, paper: Paper, seed: int) -> Iterator[Room]:
    """A class before every number of a question; none where too few sheets can be drawn."""
    variants = sheets_of(question, 2 * CLASS, f"planted|{seed}")[:CLASS]
    if len(variants) < CLASS:
        return
    task = Task("trial", "Trial", (question.key,))
    for asked in paper.asked:
        seats = [Seat(paper, asked, as_printed(v), n) for n, v in enumerate(variants)]
        yield Room(question, paper, asked, variants, seats, task)


def _class(room: Room, plan: Plan | None, says: str, sharers: int, chance: Chance) -> Planted:
    answers = [_answer(seat, plan if n < sharers else None, chance) for n, seat in enumerate(room.seats)]
    sheets = room.sheets
    handed_in = [
        Return(s.code, "", tuple((f"1.{key}", Entry(text)) for key, text in a.entries.items()))
        for s, a in zip(sheets, answers, strict=True) if a is not None
    ]  # fmt: skip
    outcomes = mark_returns({s.code: s for s in sheets}, handed_in, Rules())
    shared = search(sheets, outcomes, f"1.{room.asked.key}").shared
    clear = {s.code for s, a in zip(sheets[:sharers], answers, strict=False) if a is not None and not a.like}
    told = [one for one in shared if plan is not None and _is_it(one, plan, clear)]
    kind, key = plan.detail if plan else "noise", room.asked.key
    return Planted(room.question.key, key, kind, says, sharers, bool(told), len(shared) - len(told))


def _is_it(one: SharedMethod, plan: Plan, who: set[str]) -> bool:
    """True of a report by a formula that is the same function, which names three who share it (all, where no more wrote
    digits that no known method gives too)."""
    named = who & {s.sheet_code for s in one.who}
    return len(named) >= min(FEWEST_NAMED, len(who)) and both_sides_alike(read(plain(one.formula)), plan.way.whole)


def _answer(seat: Seat, plan: Plan | None, chance: Chance) -> Answer | None:
    figures = int(chance.choice(FIGURES, p=FIGURE_SHARES))
    if plan is not None:
        habit = replace(some_habit(chance), system=BASE)
        return done(seat, replace(plan, habit=habit, figures=figures), chance)
    did = OTHERS[int(chance.choice(len(OTHERS), p=SHARES))]
    return done(seat, one_plan(seat, did, figures, chance), chance)


def planted_rows(classes: Sequence[Planted]) -> tuple[Measure, ...]:
    """What the search is wanted to find, and how seldom it may find what is not there; nothing for no classes."""
    if not classes:
        return ()
    noise = [c for c in classes if not c.sharers]
    rows = []
    for sharers in SHARERS:
        mine = [c for c in classes if c.sharers == sharers]
        for name, kinds, wanted in (("one edit or product", ONE_EDIT, 0.99), ("any kind", KINDS, 0.90)):
            these = [c for c in mine if c.kind in kinds]
            share = Share(sum(c.found for c in these), len(these))
            rows.append(Measure(f"planted, {sharers} of {CLASS} sharing, {name}", share, wanted))
    false = Share(sum(c.others > 0 for c in noise), len(noise))
    rows.append(Measure("classes of noise with something reported", false, 0.001, at_most=True))
    return tuple(rows)


def by_kind(classes: Sequence[Planted]) -> tuple[Measure, ...]:
    """The same by the kind of change and how many shared it."""
    rows = []
    for kind in KINDS:
        for sharers in SHARERS:
            these = [c for c in classes if c.kind == kind and c.sharers == sharers]
            if these:
                rows.append(Measure(f"{kind}, {sharers} sharing", Share(sum(c.found for c in these), len(these))))
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class PlantedMethods:
    """What the search made of planted methods: against what is wanted, and by the kind of change."""

    measures: tuple[Measure, ...] = ()
    kinds: tuple[Measure, ...] = ()


def planted_methods(classes: Sequence[Planted]) -> PlantedMethods:
    """What became of these classes."""
    return PlantedMethods(planted_rows(classes), by_kind(classes))
