"""Other ways to the number that was typed: where one is as near or nearer, no reader of digits could tell the two."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.strangers.answers import RANK, Did
from witnessmark.strangers.writing import as_seen, half_digit, read_with_decimal_comma

POWERS = (-9, -6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6, 9)
OWN = "from own results: "
UNIT = "unit: "
ROUGHLY = "right, roughly"
Names = frozenset[str]


@dataclass(frozen=True, slots=True)
class Rival:
    """A known way to a number in the unit asked: its rank, which listed methods are in it, and what it is called."""

    number: float
    rank: int
    listed: Names
    called: str


def rivals(
    right: float,
    singles: Mapping[Names, Iterable[float]],
    doubles: Mapping[Names, Iterable[float]],
    units: Mapping[str, float],
) -> list[Rival]:
    """What is known to be met at a place: right, what is listed, two of these, powers of ten, a lost sign, and a unit
    that was taken as it is where nothing listed is just that."""
    found = [Rival(right, 0, frozenset(), "right"), Rival(-right, 1, frozenset(), "sign lost")]
    found += [Rival(right * 10.0**n, 1, frozenset(), f"right, 10^{n}") for n in POWERS]
    for listed, numbers in singles.items():
        called = " + ".join(sorted(listed))
        for number in numbers:
            found.append(Rival(number, 1, listed, called))
            found += [Rival(number * 10.0**n, 2, listed, f"{called}, 10^{n}") for n in POWERS]
    for listed, numbers in doubles.items():
        found += [Rival(number, 2, listed, " + ".join(sorted(listed))) for number in numbers]
    one_listed = [r.number for r in found if r.listed and r.rank == 1]
    found += [
        Rival(number, 1, frozenset(), f"{UNIT}{says}") for says, number in units.items()
        if not any(math.isclose(number, other, rel_tol=1e-9) for other in one_listed)
    ]  # fmt: skip
    return [r for r in found if math.isfinite(r.number) and r.number]


@dataclass(frozen=True, slots=True)
class Done:
    """What was done at a place, as far as it tells which way a number came: the listed methods and the power of ten."""

    did: Did
    listed: Names = frozenset()
    power: int = 0


def like(typed: Decimal, room: float, done: Done, known: Iterable[Rival]) -> str:
    """The first other way, as near or nearer, that gives these digits; nothing where there is none.

    `room` is how far the student's own rounding on the way took the result (relative), beside the last digit.
    """
    return next((rival.called for rival in _others(typed, room, done, known) if rival.rank <= RANK[done.did]), "")


def _others(typed: Decimal, room: float, done: Done, known: Iterable[Rival]) -> Iterator[Rival]:
    number, reach = float(typed), half_digit(typed) * 1.001 + room
    return (r for r in known if abs(r.number / number - 1) <= reach and not _same(r, done))


def other_way(value: Decimal, text: str, room: float, done: Done, known: Sequence[Rival]) -> str:
    """The same by each reading of what was typed: noughts that are no figures, a comma that may be a decimal comma."""
    found = (like(number, room, done, known) for number in _readings(value, text))
    return next(filter(None, found), "")


def is_told_by_digits(value: Decimal, text: str, room: float, done: Done, known: Sequence[Rival]) -> bool:
    """False where any known way gives these digits too, however far fetched: then digits alone cannot tell which."""
    return not any(True for number in _readings(value, text) for _ in _others(number, room, done, known))


def _readings(value: Decimal, text: str) -> list[Decimal]:
    readings = (as_seen(value), read_with_decimal_comma(text, value))
    return [number for number in readings if number is not None]


def _same(rival: Rival, done: Done) -> bool:
    """True of the way that was gone itself, and of right ways for right answers."""
    did = done.did
    if rank_of_right(did):
        return rival.rank == 0 or (did is Did.CONSTANT and rival.called == ROUGHLY)
    if did is Did.CARRIED:
        return rival.called == f"{OWN}right"
    if rival.called.startswith(UNIT) and did in (Did.TEN, Did.UNIT, Did.PREFIX):
        return True
    if did is Did.TEN:
        return rival.called == f"right, 10^{done.power}"
    if did is Did.PREFIX:
        return rival.called.startswith("right, 10^")
    if did is Did.SIGN:
        return rival.called == "sign lost"
    return bool(done.listed) and rival.listed == done.listed


def rank_of_right(did: Did) -> bool:
    """True of answers that come of right working."""
    return RANK[did] == 0
