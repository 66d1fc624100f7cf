"""The envelope of right answers explained: which value of pi, which rounding of which line gives which end.

The envelope itself is that of `working.envelopes`; here its propagation is followed backwards from each end.
"""

import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.interval_ends import End, Reached, reaching
from witnessmark.maths.intervals import Interval, interval_of
from witnessmark.maths.quantities import unit
from witnessmark.maths.rounding import half_unit
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.envelope_steps import By, EnvelopeEnd, EnvelopeExplained, Step, Taken
from witnessmark.questions.working.envelope_words import MORE_FIGURES, sentences, value_text
from witnessmark.questions.working.working import (
    ALL_CONSTANTS,
    CONSTANT_SPREADS,
    SLACK,
    AskedNumber,
    asked_of,
    envelopes,
    widened,
    worked,
)

MOST_CHOICES = 14  # of which every combination is tried
NO_RANGE = "There is no range here: a step on the way has no value."


@dataclass(frozen=True, slots=True)
class _Stand:
    """One line or result as the envelope is worked there: what it is, its names' intervals, and which key each of the
    names is another stand of (constants and givens have none)."""

    asked: AskedNumber
    what: str
    names: dict[str, Interval]
    keys: dict[str, str]


def explained(question: Question, givens: Mapping[str, float], key: str, figures: int) -> EnvelopeExplained:
    """The envelope at `key` (`a`, or `a.A_s` for a line) with how each end is reached; `givens` are SI values.

    KeyError where no number is asked, or where the givens that it needs are absent.
    """
    stands = {s.asked.key: s for s in _stands(question, givens, figures)}
    if key not in stands:
        raise KeyError(f"{key}: the numbers asked in {question.key} are {', '.join(stands) or 'none'}")
    columns = {name: np.array([value]) for name, value in givens.items()}
    right = float(np.ravel(worked(question, columns)[key])[0])
    low, high = (_end(stands, key, end, right) for end in End)
    return EnvelopeExplained(key, stands[key].what, stands[key].asked.unit, right, low, high)


def _stands(question: Question, givens: Mapping[str, float], figures: int) -> Iterator[_Stand]:
    """Every line and result whose givens are there, in working order, with the intervals that it is worked from."""
    bounds = envelopes(question, {k: np.asarray(v) for k, v in givens.items()}, figures)
    names: dict[str, Interval] = {**CONSTANT_SPREADS, **{k: (v, v) for k, v in givens.items()}}
    keys: dict[str, str] = {}
    for part in question.quantities:
        own, owners = dict(names), dict(keys)
        for line in part.lines:
            asked = asked_of(part, figures, line)
            if asked.key in bounds:
                yield _Stand(asked, line.is_ or line.name, dict(own), dict(owners))
                own[line.name], owners[line.name] = bounds[asked.key], asked.key
        if part.key in bounds:
            yield _Stand(asked_of(part, figures), _called(part), own, owners)
            names |= dict.fromkeys(names_of(part), bounds[part.key])
            keys |= dict.fromkeys(names_of(part), part.key)


def _called(part: QuantityPart) -> str:
    return part.is_ or part.symbol or f"result of {part.key}"


def _end(stands: Mapping[str, _Stand], key: str, end: End, right: float) -> EnvelopeEnd:
    found: dict[tuple[str, End], Step] = {}
    between: set[str] = set()
    _walk(stands, key, end, found, between)
    steps = tuple(found.values())
    last = steps[-1]
    if not math.isfinite(last.taken):
        return EnvelopeEnd(end, math.nan, last.unit, (), (), (), math.nan, "nothing", (NO_RANGE,))
    both = _at_both_ends(steps)
    made = EnvelopeEnd(end, last.taken, last.unit, steps, both, tuple(sorted(between)), last.taken)
    if not made.is_reached:
        made = replace(made, reach=_reach(stands, steps, key, made))
    shown = value_text(made.value, made.unit, last.figures + MORE_FIGURES)
    return replace(made, text=shown, sentences=sentences(made, right))


def _walk(
    stands: Mapping[str, _Stand], key: str, end: End, found: dict[tuple[str, End], Step], between: set[str]
) -> None:
    """Puts the step that leads to this end into `found`, after those that it starts from."""
    if (key, end) in found:
        return
    stand = stands[key]
    span = interval_of(stand.asked.tree)(stand.names)
    exact, taken = (float(pair[0] if end is End.LOW else pair[1]) for pair in (span, widened(span, stand.asked)))
    reached = reaching(stand.asked.tree, stand.names, end) if math.isfinite(taken) else Reached()
    uses = tuple(_taken(stands, stand, name, at) for name, at in reached.ends)
    between |= {_thing(stands, stand, name) for name in reached.between}
    for use in uses:
        if use.key:
            _walk(stands, use.key, use.end, found, between)
    found[key, end] = _step(stand, end, uses, exact, taken)


def _step(stand: _Stand, end: End, uses: tuple[Taken, ...], exact: float, taken: float) -> Step:
    asked, u = stand.asked, unit(stand.asked.unit)
    half = float(half_unit((exact - u.offset) / u.scale, asked.figures) * abs(u.scale))
    least = half + abs(exact - u.offset) * SLACK
    by = By.TOLERANCE if abs(exact) * asked.tolerance > max(least, asked.room) else By.ROUNDING
    by = (By.READING if asked.is_read else By.AMOUNT) if asked.room > max(least, abs(exact) * asked.tolerance) else by
    return Step(
        asked.key, stand.what, asked.unit, end, asked.figures, uses, exact, taken, half, by, asked.tolerance,
        asked.room,
    )  # fmt: skip


def _taken(stands: Mapping[str, _Stand], stand: _Stand, name: str, end: End) -> Taken:
    value = float(stand.names[name][0 if end is End.LOW else 1])
    key = stand.keys.get(name, "")
    owner = stands[key].asked.unit if key else CONSTANTS[name].unit
    return Taken(name, _thing(stands, stand, name), owner, key, end, value)


def _thing(stands: Mapping[str, _Stand], stand: _Stand, name: str) -> str:
    """What a name stands for, in words; the sign of a constant."""
    key = stand.keys.get(name, "")
    return stands[key].what if key else CONSTANTS[name].symbol


def _at_both_ends(steps: tuple[Step, ...]) -> tuple[str, ...]:
    ends: dict[tuple[str, str], set[End]] = {}
    for use in (use for step in steps for use in step.uses):
        ends.setdefault((use.key or use.name, use.what), set()).add(use.end)
    return tuple(what for (_, what), found in ends.items() if len(found) == len(End))


def _reach(stands: Mapping[str, _Stand], steps: tuple[Step, ...], key: str, end: EnvelopeEnd) -> float:
    """The farthest that one working gets: every combination of ends of constants and of roundings up or down."""
    needed = _worked_from(stands, {step.key for step in steps})
    order = [k for k in stands if k in needed]
    constants = sorted({u.name for step in steps for u in step.uses if not u.key} | _constants_of(stands, order))
    count = len(constants) + len(order)
    if count > MOST_CHOICES:
        return math.nan
    sides = np.array(list(itertools.product((0, 1), repeat=count)), dtype=np.intp).T
    names = {c: np.array([float(x) for x in CONSTANT_SPREADS[c]])[sides[i]] for i, c in enumerate(constants)}
    made: dict[str, Array] = {}
    for i, k in enumerate(order, len(constants)):
        made[k] = _worked_once(stands[k], names, made, sides[i])
    farthest = float(np.nanmin(made[key]) if end.end is End.LOW else np.nanmax(made[key]))
    return max(farthest, end.value) if end.end is End.LOW else min(farthest, end.value)


def _worked_from(stands: Mapping[str, _Stand], keys: set[str]) -> set[str]:
    """These lines and results with all that they are worked from, at any remove."""
    found, waiting = set[str](), list(keys)
    while waiting:
        key = waiting.pop()
        if key not in found:
            found.add(key)
            stand = stands[key]
            waiting += [stand.keys[name] for name in names_in(stand.asked.tree) if name in stand.keys]
    return found


def _constants_of(stands: Mapping[str, _Stand], order: list[str]) -> set[str]:
    """The constants that these lines and results use at all, given ones left out."""
    used = {(k, name) for k in order for name in names_in(stands[k].asked.tree)}
    return {
        n for k, n in used if n in CONSTANTS and n not in stands[k].keys and stands[k].names[n] is CONSTANT_SPREADS[n]
    }


def _worked_once(
    stand: _Stand, constants: Mapping[str, Array], made: Mapping[str, Array], up: npt.NDArray[np.intp]
) -> Array:
    """One line or result for every combination of choices, rounded down or up (`up` 0 or 1)."""
    fixed = {n: stand.names[n][0] for n in names_in(stand.asked.tree) if n not in stand.keys}
    lines = {n: made[k] for n, k in stand.keys.items() if k in made}
    value = compiled(stand.asked.tree)({**ALL_CONSTANTS, **fixed, **constants, **lines})
    low, high = (np.asarray(end, dtype=np.float64) for end in widened((value, value), stand.asked))
    chosen: Array = np.where(up == 1, high, low)
    return chosen
