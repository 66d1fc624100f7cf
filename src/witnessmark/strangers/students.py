"""Strangers: simulated students who know the text of a question, and nothing of how it will be marked.

Every answer carries what was done. All chances come from the generator that is passed in.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TypeVar

from witnessmark.strangers.answers import Answer, Did
from witnessmark.strangers.arithmetic import names_in, number, work
from witnessmark.strangers.changes import Change, changes
from witnessmark.strangers.listed import listed_ways, pairs
from witnessmark.strangers.misreadings import AS_GOOD, prefixes, unconverted, uses
from witnessmark.strangers.papers import Asked, Paper, Sheet
from witnessmark.strangers.rivals import (
    OWN,
    POWERS,
    Done,
    Rival,
    is_told_by_digits,
    other_way,
)
from witnessmark.strangers.scales import from_base, to_base
from witnessmark.strangers.seats import GREAT, SMALL, Seat, is_known
from witnessmark.strangers.working import (
    BASE,
    IN_FULL,
    MILLIMETRES,
    ROUGHEST,
    Habit,
    Way,
    as_typed_number,
    fits,
    right_way,
)
from witnessmark.strangers.writing import Chance, before_it, digits, is_in_doubt, stands_for, to_decimals, typed

FIGURES, FIGURE_SHARES = (2, 3, 4, 5, 6), (0.08, 0.42, 0.30, 0.13, 0.07)
STEPS, STEP_SHARES = (0, 2, 3, 4, 5), (0.57, 0.04, 0.20, 0.14, 0.05)
PIS, PI_SHARES = (math.pi, 3.14, 3.142, 22 / 7), (0.78, 0.14, 0.06, 0.02)
GS, G_SHARES = (9.81, 9.8, 9.80665, 10.0), (0.80, 0.12, 0.04, 0.04)
CUT_SHARE = 0.06
LEAST_FIGURES = 3
EACH_SHARE = 0.15
AS_TYPED_SHARE = 0.4
EARLIER_COMMA = "an own result before it, by the other reading of its comma"
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Plan:
    """What somebody will do at a place: the way, a factor on the number typed, and how the digits are chosen."""

    did: Did
    detail: str
    way: Way
    factor: float = 1.0
    habit: Habit | None = None
    figures: int = 0
    decimals: int | None = None
    cut: bool | None = None
    unit: str = ""
    cause: str = ""
    turned: bool = False
    lines: Mapping[str, str] = field(default_factory=dict)


def strangers(paper: Paper, sheets: Sequence[Sheet], each: int, chance: Chance) -> Iterator[Answer]:
    """`each` answers for everything that is done at every number of a question, on sheets that go round."""
    seats: dict[tuple[str, int], Seat] = {}
    count = 0
    for asked in paper.asked:
        for _ in range(each):
            first = count % len(sheets)
            for plan in plans(seats.setdefault((asked.key, first), Seat(paper, asked, sheets[first], first)), chance):
                at = first if plan.lines or plan.way.given else count % len(sheets)
                seat = seats.setdefault((asked.key, at), Seat(paper, asked, sheets[at], at))
                count += 1
                if (answer := done(seat, plan, chance)) is not None:
                    yield answer


def plans(seat: Seat, chance: Chance) -> Iterator[Plan]:
    """Everything that is done once at a place, in a round."""
    asked, right = seat.asked, right_way(seat.asked)
    yield from _right(asked, right, chance)
    for n in _some(POWERS, 2, chance):
        yield Plan(Did.TEN, f"10^{n}", replace(right, power=n))
    singles = listed_ways(asked)
    yield from (Plan(Did.SLIP, "", way) for way in singles)
    for way in _some(singles, 2, chance):
        yield Plan(Did.SLIP_TEN, "", replace(way, power=int(chance.choice(POWERS))))
    yield from _two(seat, chance)
    yield from _carried(seat, right, singles, chance)
    yield from _units(seat, right, chance)
    yield Plan(Did.SIGN, "", replace(right, sign=-1))
    yield from (Plan(Did.SLIP_SIGN, "", replace(way, sign=-1)) for way in _some(singles, 1, chance))
    yield Plan(Did.DIGITS, "", right, figures=4, turned=True)
    yield from _changed(seat, right, chance)
    yield Plan(Did.NOISE, "", right, 10.0 ** float(chance.uniform(-1, 1)), figures=int(chance.choice((3, 4, 5))))


def _some(found: Sequence[T], count: int, chance: Chance) -> list[T]:
    chosen = chance.permutation(len(found))[:count]
    return [found[i] for i in sorted(chosen.tolist())]


def _right(asked: Asked, right: Way, chance: Chance) -> Iterator[Plan]:
    figures = int(chance.choice((3, 4, 5, 6)))
    pi = float(chance.choice(PIS, p=PI_SHARES))
    yield Plan(Did.RIGHT, "", right, habit=Habit(pi=pi), figures=figures, cut=False)
    for steps in (3, 4):
        habit = Habit(steps=steps, pi=pi)
        yield Plan(Did.RIGHT_STEPS, f"{steps} figures", right, habit=habit, figures=figures, cut=False)
        each = replace(habit, each=True)
        yield Plan(Did.RIGHT_EACH, f"{steps} figures", right, habit=each, figures=figures, cut=False)
    cut = Habit(steps=int(chance.choice((0, 4))), cut=True)
    yield Plan(Did.RIGHT_CUT, "", right, habit=cut, figures=int(chance.choice((3, 4))), cut=True)
    yield Plan(Did.RIGHT_DECIMALS, "", right, habit=IN_FULL, decimals=int(chance.choice((0, 1, 2, 3))), cut=False)
    if others := AS_GOOD.get(asked.unit, ()):
        unit = str(chance.choice(others))
        yield Plan(Did.RIGHT_OTHER_UNIT, unit, right, habit=IN_FULL, figures=int(chance.choice((3, 4))), unit=unit,
                   cut=False)  # fmt: skip
    coarse = ((2, 3), (0, 2))[int(chance.integers(2))]
    yield Plan(Did.RIGHT_COARSE, "", right, habit=Habit(steps=coarse[0]), figures=coarse[1], cut=False)
    for name, habit in (("g", Habit(g=10.0)), ("pi", Habit(pi=3.0))):
        if uses(right.whole, name):
            yield Plan(Did.CONSTANT, name, right, habit=habit, figures=figures, cut=False)


def _two(seat: Seat, chance: Chance) -> Iterator[Plan]:
    both = pairs(seat.asked)
    alike = [fits(seat.asked, way, seat.names, seat.units) for way in both]
    for did, wanted, count in ((Did.TWO, True, 3), (Did.TWO_OTHER, False, 2)):
        of_kind = [way for way, fit in zip(both, alike, strict=True) if fit is wanted]
        yield from (Plan(did, "", way) for way in _some(of_kind, count, chance))


def _carried(seat: Seat, right: Way, singles: Sequence[Way], chance: Chance) -> Iterator[Plan]:
    causes = ("slip", "ten", "changed", "noise")
    if seat.asked.carries:
        yield from (Plan(Did.CARRIED, cause, right, cause=cause) for cause in _some(causes, 2, chance))
        yield from (Plan(Did.SLIP_CARRIED, "slip", way, cause="slip") for way in _some(singles, 1, chance))
    used = names_in(right.tree)
    for line in _some([line for line in seat.asked.lines if line.name in used], 1, chance):
        names = dict(seat.names)
        for before in seat.asked.lines:
            names[before.name] = work(before.tree, names)
        value = digits(from_base(names[line.name] * _away(chance), line.unit), 4)
        own = number(to_base(stands_for(value), line.unit))
        entries = {f"{seat.asked.key}.{line.name}": typed(value, line.unit, chance)}
        way = replace(right, lines={**right.lines, line.name: own})
        yield Plan(Did.CARRIED_LINE, line.name, way, habit=IN_FULL, lines=entries)


def _units(seat: Seat, right: Way, chance: Chance) -> Iterator[Plan]:
    listed = [r.number for r in seat.rivals if r.listed and r.rank == 1]
    forgotten = [
        (says, way, factor) for says, way, factor in unconverted(seat.asked, right, seat.sheet)
        if not any(math.isclose(seat.typed_number(way) * factor, n, rel_tol=1e-9) for n in listed)
    ]  # fmt: skip
    for says, way, factor in _some(forgotten, 2, chance):
        yield Plan(Did.UNIT, says, way, factor)
    yield from (Plan(Did.PREFIX, says, way) for says, way in _some(list(prefixes(right, seat.sheet)), 1, chance))


def _changed(seat: Seat, right: Way, chance: Chance) -> Iterator[Plan]:
    for did, wanted, count in ((Did.CHANGED, True, 4), (Did.CHANGED_OTHER, False, 2)):
        for change in unlisted(seat, right, chance, count, lambda w, wanted=wanted: _fits(seat, w) is wanted):  # type: ignore[misc]
            yield Plan(did, change.kind, change.way)


def _fits(seat: Seat, way: Way) -> bool:
    return fits(seat.asked, way, seat.names, seat.units)


def new_changes(seat: Seat, right: Way) -> dict[str, list[Change]]:
    """Every change of the right way by kind that is no known way, nor a power of ten of one."""
    found: dict[str, list[Change]] = {}
    for change in changes(right, seat.own):
        if not is_known(seat, change.way):
            found.setdefault(change.kind, []).append(change)
    return found


def unlisted(seat: Seat, right: Way, chance: Chance, count: int, wanted: Callable[[Way], bool]) -> Iterable[Change]:
    """Some changes of the right way that are wanted and no known way (or a power of ten of one), kind by kind alike."""
    by_kind: dict[str, list[Change]] = {}
    for change in changes(right, seat.own):
        by_kind.setdefault(change.kind, []).append(change)
    kinds, found = list(by_kind), 0
    for kind in (kinds[i] for i in chance.permutation(len(kinds)).tolist()):
        changed = by_kind[kind][int(chance.integers(len(by_kind[kind])))]
        if found < count and wanted(changed.way) and not is_known(seat, changed.way):
            found += 1
            yield changed


def one_plan(seat: Seat, did: Did, figures: int, chance: Chance) -> Plan:
    """What one of a class does at a place who shares nothing: it right, one listed method, or a number from nowhere."""
    right = right_way(seat.asked)
    if did is Did.SLIP and (singles := listed_ways(seat.asked)):
        return Plan(did, "", singles[int(chance.integers(len(singles)))], figures=figures)
    if did is Did.NOISE:
        return Plan(did, "", right, math.pow(10, chance.uniform(-1, 1)), figures=figures)
    return Plan(Did.RIGHT, "", right, figures=figures)


def some_habit(chance: Chance) -> Habit:
    """How somebody works, by shares that we assume (common practice, no source)."""
    return Habit(
        int(chance.choice(STEPS, p=STEP_SHARES)), bool(chance.random() < CUT_SHARE),
        float(chance.choice(PIS, p=PI_SHARES)), float(chance.choice(GS, p=G_SHARES)),
        (BASE, MILLIMETRES)[int(chance.integers(2))], bool(chance.random() < EACH_SHARE),
    )  # fmt: skip


def done(seat: Seat, plan: Plan, chance: Chance) -> Answer | None:
    """What a student hands in who does as planned; None where there is no number to write."""
    asked = seat.asked
    habit = _as_told(plan.habit or some_habit(chance), asked)
    entries, names = _before(seat, plan, habit, chance)
    worked = seat.typed_number(plan.way, habit, names) * plan.factor
    plain = Habit(system=habit.system)
    full = (
        seat.typed_number(plan.way, plain, names | {"pi": plain.pi, "g": plain.g} if plan.cause else None) * plan.factor
    )
    if plan.unit:
        worked, full = (from_base(to_base(n, asked.unit), plan.unit) for n in (worked, full))
    if not (math.isfinite(worked) and SMALL < abs(worked) < GREAT):
        return None
    cut = chance.random() < CUT_SHARE if plan.cut is None else plan.cut
    figures = max(plan.figures or int(chance.choice(FIGURES, p=FIGURE_SHARES)), asked.figures)
    value = digits(worked, figures, cut=cut)
    if plan.decimals is not None:
        value = to_decimals(worked, plan.decimals)
        first = min(value.adjusted(), digits(worked, figures).adjusted())  # 0.998 is 1.00, and has two of its figures
        if first + plan.decimals + 1 < max(LEAST_FIGURES, asked.figures):
            return None
    if plan.turned:
        turned = _turned(value, chance)
        if turned is None:
            return None
        value = turned
    room = abs(worked / full - 1) + (abs(stands_for(value) / worked - 1) if cut else 0.0)
    unit = plan.unit or asked.unit
    text = typed(value, unit, chance, asked.name, comma=bool(chance.random() < 0.12))
    entries = before_it(entries, text)
    goes_on_from_doubt = bool(plan.cause or plan.lines) and any(map(is_in_doubt, entries.values()))
    entries[asked.key] = text
    known = seat.rivals if not plan.cause else [*seat.rivals, *_from_own(seat, names)]
    did = Done(plan.did, plan.way.listed, plan.way.power)
    other = "" if plan.unit else other_way(value, text, room, did, known)
    other = other or (EARLIER_COMMA if goes_on_from_doubt else "")
    told = not other and (bool(plan.unit) or is_told_by_digits(value, text, room, did, known))
    return Answer(
        plan.did, plan.detail, seat.number, asked.key, entries, value, figures, plan.way.listed, plan.way.whole,
        plan.way.power, plan.way.sign, other, told, habit.is_rough or cut or figures <= ROUGHEST,
    )  # fmt: skip


def _as_told(habit: Habit, asked: Asked) -> Habit:
    """A habit of somebody who keeps on the way as many figures at least as the result is asked with."""
    return replace(habit, steps=max(habit.steps, asked.figures)) if habit.steps else habit


def _from_own(seat: Seat, names: Mapping[str, float]) -> list[Rival]:
    """The known ways from the student's own earlier results; each is one thing done more."""
    return [replace(r, rank=r.rank + 1, called=f"{OWN}{r.called}") for r in seat.known(names)]


def _turned(value: Decimal, chance: Chance) -> Decimal | None:
    """The number with two neighbouring digits in each other's place; None where that changes nothing."""
    sign, numbers, exponent = value.as_tuple()
    if not isinstance(exponent, int):
        return None
    places = [i for i in range(len(numbers) - 1) if numbers[i] != numbers[i + 1] and (i or numbers[1])]
    if not places:
        return None
    i = places[int(chance.integers(len(places)))]
    changed = [*numbers[:i], numbers[i + 1], numbers[i], *numbers[i + 2 :]]
    return Decimal((sign, tuple(changed), exponent))


def _before(seat: Seat, plan: Plan, habit: Habit, chance: Chance) -> tuple[dict[str, str], dict[str, float]]:
    """What is typed at the places before, and the numbers that the student goes on with."""
    names = seat.names | {"pi": habit.pi, "g": habit.g}
    entries: dict[str, str] = {}
    wrong = _one(seat.asked.carries, chance) if plan.cause else ""
    for earlier in seat.earlier:
        before = Seat(seat.paper, earlier, seat.sheet, seat.number)
        way, factor = _cause(before, plan.cause, chance) if earlier.key == wrong else (right_way(earlier), 1.0)
        used = habit if earlier.key == wrong else replace(habit, g=9.81 if habit.g == 10.0 else habit.g)
        used = _as_told(used, earlier)
        worked = as_typed_number(earlier, way, names, before.units, used) * factor
        if not (math.isfinite(worked) and SMALL < abs(worked) < GREAT):
            continue
        value = digits(worked, max(int(chance.choice(FIGURES[1:])), earlier.figures))
        entries[earlier.key] = typed(value, earlier.unit, chance)
        as_typed = chance.random() < AS_TYPED_SHARE
        names[earlier.name] = to_base(stands_for(value) if as_typed else worked, earlier.unit)
    return {**entries, **plan.lines}, names


def _one(keys: Sequence[str], chance: Chance) -> str:
    return keys[int(chance.integers(len(keys)))]


def _cause(before: Seat, cause: str, chance: Chance) -> tuple[Way, float]:
    """How an earlier result went wrong: a way and a factor."""
    asked, right = before.asked, right_way(before.asked)
    singles = listed_ways(asked)
    if cause == "slip" and singles:
        return singles[int(chance.integers(len(singles)))], 1.0
    if cause == "ten":
        return replace(right, power=int(chance.choice((-3, -2, -1, 1, 2, 3)))), 1.0
    if cause == "changed":
        for change in unlisted(before, right, chance, 1, lambda w: _fits(before, w)):
            return change.way, 1.0
    return right, _away(chance)


def _away(chance: Chance) -> float:
    factor = math.pow(10, chance.uniform(-1, 1))
    return factor * 2 if abs(math.log10(factor)) < 0.05 else factor
