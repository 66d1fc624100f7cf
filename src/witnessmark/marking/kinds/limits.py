"""Marking two limits: each value is a number of its own, whichever is named first, and the part has half of both."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from math import prod

import numpy as np
import numpy.typing as npt

from witnessmark.marking.kinds.commas import NO_COMMAS, Commas
from witnessmark.marking.kinds.quantity import RIGHT_IN_METHOD, Bench, PlaceMarked, mark_numbers
from witnessmark.marking.kinds.without_numbers import blank, unreadable
from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.questions.model.kinds import limits_in
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.parts import LimitsPart
from witnessmark.questions.sheet.task import Rules
from witnessmark.reading.quantity.entries import read_quantity
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.limits import in_order, read_limits

Entries = Mapping[str, Sequence[str]]
Numbers = dict[str, PlaceMarked]
Truth = npt.NDArray[np.bool_]
WORST_FIRST = (
    Verdict.UNREADABLE, Verdict.UNEXPLAINED, Verdict.EDIT, Verdict.TWO_SLIPS, Verdict.SLIP, Verdict.SIGN,
    Verdict.POWER_OF_TEN, Verdict.UNIT, Verdict.ROUNDED_EARLY, Verdict.CARRIED_FORWARD, Verdict.RIGHT,
)  # fmt: skip
SLIPS = (Verdict.SLIP, Verdict.TWO_SLIPS)
SENTENCE = re.compile(r"(?<=[.;]) +")
DOUBTS = ("the name of the method is only", "two explanations fit")
LEAST_OF_BOTH = 0.01
ONE_ALONE = "Two values are asked, and one stands here."
MOST_EVIDENCE = 8


def mark_either_way(b: Bench, entries: Entries, commas: Commas = NO_COMMAS) -> tuple[Numbers, Entries]:
    """Every number marked, and the texts by key with those of both limits: of two values the larger is the largest, and
    one value alone is whichever limit earns more, or is known."""
    asked = [part for part in limits_in(b.question.parts) if part.key in entries]
    told = dict(entries)
    for part in asked:
        told |= _sides(b, part, entries[part.key])
    numbers = mark_numbers(b, told, commas)
    for part in asked:
        turned = _better_as_smallest(b, part, told, numbers, commas)
        if turned.any():
            told |= _turned(part, told, turned)
            numbers = mark_numbers(b, told, commas)
    return numbers, told


def _sides(b: Bench, part: LimitsPart, texts: Sequence[str]) -> dict[str, list[str]]:
    """The texts of both limits, the larger value first; one value alone counts as the largest."""
    unit_name, readings = part.largest.unit, {text: read_limits(text) for text in dict.fromkeys(texts)}
    each = {text: _by_size(reading.texts, unit_name) for text, reading in readings.items()}
    pointed = {text: _by_size(reading.pointed, unit_name) for text, reading in readings.items() if reading.pointed}
    pairs = [each[text] for text in texts]
    if pointed and part.largest.key in b.worked:
        for row, (text, right) in enumerate(zip(texts, b.worked[part.largest.key].tolist(), strict=True)):
            pairs[row] = (
                pointed[text] if text in pointed and _is_near(pointed[text][0], right, unit_name) else each[text]
            )
    return {side.key: [pair[n] for pair in pairs] for n, side in enumerate(part.sides)}


def _is_near(text: str, right: float, unit_name: str) -> bool:
    """True of a value of the size of the right one, so that its comma was a decimal one."""
    readings = read_quantity(text, unit_name).readings
    return bool(readings) and abs(readings[0].si - right) < abs(right)


def _by_size(texts: Sequence[str], unit_name: str) -> tuple[str, str]:
    one, other = (*texts, "", "")[:2]
    if not other:
        return one, other
    return (other, one) if in_order((one, other), unit_name) is False else (one, other)


def _turned(part: LimitsPart, told: Entries, rows: Truth) -> dict[str, list[str]]:
    """The texts of both limits with these rows the other way round."""
    pairs = list(zip(told[part.largest.key], told[part.smallest.key], rows.tolist(), strict=True))
    return {
        part.largest.key: [small if turn else large for large, small, turn in pairs],
        part.smallest.key: [large if turn else small for large, small, turn in pairs],
    }


def _better_as_smallest(b: Bench, part: LimitsPart, told: Entries, numbers: Numbers, commas: Commas) -> Truth:
    """Where a value alone, taken as the largest so far, earns more as the smallest, or has a name only there."""
    pairs = zip(told[part.largest.key], told[part.smallest.key], strict=True)
    alone = np.array([bool(large.strip()) and not small.strip() for large, small in pairs])
    if not alone.any() or not all(side.key in numbers for side in part.sides):
        return np.zeros(b.size, np.bool_)
    as_largest = numbers[part.largest.key]
    as_smallest = mark_numbers(b, {**told, **_turned(part, told, alone)}, commas)[part.smallest.key]
    better = (as_smallest.marks > as_largest.marks) | (
        (as_smallest.marks == as_largest.marks) & (as_largest.named < 0) & (as_smallest.named >= 0)
    )
    return np.asarray(alone & better)


def joined(part: LimitsPart, text: str, sides: tuple[Outcome, Outcome], rules: Rules) -> Outcome:
    """The outcome of an entry of two limits from those of its values, the largest first."""
    reading = read_limits(text)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if not reading.texts:
        return unreadable(part, text, reading.reason)
    filled = [side for side in sides if side.verdict is not Verdict.BLANK]
    alone = len(filled) < len(sides)
    verdict = _verdict(filled, alone)
    who = _names(part, sides) if verdict in SLIPS else ()
    sure, tray = _sure(part, sides, who, rules)
    return Outcome(
        rounded_down(sum((side.marks for side in sides), Decimal(0)) / 2, rules.half_marks), part.marks, verdict,
        _sentences(filled, who, alone), who, sure, _evidence(filled), text,
        " and ".join(side.read_as for side in filled if side.read_as),
        tuple(dict.fromkeys((*reading.repairs, *(r for side in filled for r in side.repairs)))),
        tuple(dict.fromkeys(note for side in filled for note in side.notes)), tray,
    )  # fmt: skip


def _verdict(filled: Sequence[Outcome], alone: bool) -> Verdict:
    """That of the value that fares worse; one right value alone is not right."""
    worst = min((side.verdict for side in filled), key=WORST_FIRST.index)
    return Verdict.WRONG if alone and worst in RIGHT_IN_METHOD else worst


def _names(part: LimitsPart, sides: tuple[Outcome, Outcome]) -> tuple[str, ...]:
    """The misconceptions that explain both values likeliest; where none explains both, those of either."""
    known = dict.fromkeys(slip.misconception for side in part.sides for slip in side.slips)
    both = {name: prod(_shares(part, sides, name)) for name in known}
    most = max(both.values(), default=0.0)
    if most > LEAST_OF_BOTH and all(side.verdict is not Verdict.BLANK for side in sides):
        return tuple(name for name, share in both.items() if share > most / 2)
    return tuple(dict.fromkeys(name for side in sides for name in side.misconceptions))


def _shares(part: LimitsPart, sides: tuple[Outcome, Outcome], name: str) -> tuple[float, ...]:
    """How far each value is explained by a misconception: by its slip there, or by being right where it has none."""
    found = []
    for asked, outcome in zip(part.sides, sides, strict=True):
        fits = [one.sure for one in outcome.evidence if one.verdict in SLIPS and name in one.misconceptions]
        has = any(slip.misconception == name for slip in asked.slips)
        found.append(sum(fits) if has else float(outcome.verdict in RIGHT_IN_METHOD))
    return tuple(found)


def _sure(
    part: LimitsPart, sides: tuple[Outcome, Outcome], who: Sequence[str], rules: Rules
) -> tuple[float, tuple[str, ...]]:
    """How sure the name is, and why a teacher should look. Where one name explains both values, or both have one
    verdict, both would have to bear it by chance."""
    filled = [side for side in sides if side.verdict is not Verdict.BLANK]
    tray = tuple(dict.fromkeys(reason for side in filled for reason in side.in_tray))
    shares = [max(of_side) for of_side in zip(*(_shares(part, sides, name) for name in who), strict=True)]
    alike = len({side.verdict for side in filled}) == 1 and not who
    if alike:
        shares = [side.sure for side in filled]
    if len(filled) < len(sides) or not shares or not all(shares):
        return min(side.sure for side in filled), tray
    sure = min(1 - prod(1 - share for share in shares), 1.0)
    doubts = () if sure < rules.ask_below else DOUBTS
    return sure, tuple(reason for reason in tray if not reason.startswith(doubts))


def _sentences(filled: Sequence[Outcome], who: Sequence[str], alone: bool) -> str:
    """What is said of either value; what would be said of both in the same words stands once, at the end."""
    first, *rest = (SENTENCE.split(_said(side, who)) for side in filled)
    later = [sentence for sentences in rest for sentence in sentences]
    return " ".join([*(sentence for sentence in first if sentence not in later), *later, *[ONE_ALONE] * alone])


def _said(side: Outcome, who: Sequence[str]) -> str:
    """What is said of one value: of a wrong one how the misconception that is named gives it."""
    if not who or side.verdict in RIGHT_IN_METHOD or set(who) & set(side.misconceptions):
        return side.because
    return next((one.sentence for one in side.evidence if set(who) & set(one.misconceptions)), side.because)


def _evidence(filled: Sequence[Outcome]) -> tuple[Explanation, ...]:
    """The explanations of both values, likeliest first; what is said of both in the same words once."""
    found = list(filled[0].evidence)
    said = {(one.verdict, one.sentence, one.misconceptions) for one in found}
    for side in filled[1:]:
        found += [one for one in side.evidence if (one.verdict, one.sentence, one.misconceptions) not in said]
    return tuple(sorted(found, key=lambda one: -one.sure)[:MOST_EVIDENCE])
