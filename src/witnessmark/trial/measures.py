"""The measures by which a diagnosis is judged: what the marker made of strangers, against what is wanted of it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.marking.outcome import Verdict
from witnessmark.strangers.answers import Did
from witnessmark.trial.judging import Judged
from witnessmark.trial.report import Share, wilson

RIGHT = (Did.RIGHT, Did.RIGHT_STEPS, Did.RIGHT_DECIMALS, Did.RIGHT_OTHER_UNIT)
CHANGED = (Did.CHANGED, Did.CHANGED_OTHER)
ROUGHLY: Mapping[str, tuple[Did, ...]] = {
    "slips named": (Did.SLIP,), "slips with a power of ten named": (Did.SLIP_TEN,), "two slips named": (Did.TWO,),
    "carried forward seen": (Did.CARRIED, Did.CARRIED_LINE), "changed method described": CHANGED,
}  # fmt: skip
UNNAMED = (Verdict.UNEXPLAINED, Verdict.UNREADABLE, Verdict.BLANK)
BANDS = ((0.0, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 0.97), (0.97, 0.995), (0.995, 1.0))

# How often each is met among answers, for calibration: our assumption (common practice, no source).
MET: Mapping[Did, float] = {
    Did.RIGHT: 0.24, Did.RIGHT_STEPS: 0.08, Did.RIGHT_EACH: 0.04, Did.RIGHT_CUT: 0.03, Did.RIGHT_DECIMALS: 0.05,
    Did.RIGHT_OTHER_UNIT: 0.03, Did.RIGHT_COARSE: 0.03, Did.CONSTANT: 0.01, Did.TEN: 0.05, Did.SLIP: 0.16,
    Did.SLIP_TEN: 0.02, Did.TWO: 0.02, Did.TWO_OTHER: 0.005, Did.CARRIED: 0.06, Did.CARRIED_LINE: 0.02,
    Did.SLIP_CARRIED: 0.02, Did.UNIT: 0.02, Did.PREFIX: 0.01, Did.SIGN: 0.01, Did.SLIP_SIGN: 0.005, Did.DIGITS: 0.01,
    Did.CHANGED: 0.04, Did.CHANGED_OTHER: 0.02, Did.NOISE: 0.03,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Measure:
    """One row: what is counted, the share that was measured, what is wanted of it, and how many were counted apart."""

    name: str
    share: Share
    wanted: float | None = None
    at_most: bool = False
    apart: int = 0

    @property
    def is_met(self) -> bool:
        """True where the share is as wanted, or nothing was counted."""
        if self.wanted is None or not self.share.count:
            return True
        return self.share.value <= self.wanted if self.at_most else self.share.value >= self.wanted


@dataclass(frozen=True, slots=True)
class Sureness:
    """One band of certainty: how many answers, what was stated on average, what was true, its 95 % interval, and how
    many were counted apart, since two ways give their digits."""

    low: float
    high: float
    count: int
    stated: float
    true: float
    interval: tuple[float, float]
    apart: int = 0

    @property
    def holds(self) -> bool:
        """True where what is stated lies in the interval of what is true."""
        return not self.count or self.interval[0] <= self.stated <= self.interval[1]


@dataclass(frozen=True, slots=True)
class Judgement:
    """Everything that strangers tell: the measures, certainty by bands, every kind of answer, and shares by figures."""

    answers: int
    measures: tuple[Measure, ...]
    kinds: tuple[Measure, ...]
    changes: tuple[Measure, ...]
    figures: tuple[Measure, ...]
    bands: tuple[Sureness, ...]


def judgement_of(judged: Sequence[Judged]) -> Judgement:
    """The judgement over these answers."""
    kinds = tuple(_measure(str(did), judged, (did,)) for did in Did if any(j.answer.did is did for j in judged))
    return Judgement(
        len(judged), tuple(_measures(judged)), kinds, tuple(_by_change(judged)), tuple(_by_figures(judged)),
        tuple(_band(low, high, judged) for low, high in BANDS),
    )  # fmt: skip


def _measures(judged: Sequence[Judged]) -> Iterator[Measure]:
    rough, judged = [j for j in judged if j.answer.rough], [j for j in judged if not j.answer.rough]
    yield _measure("right answers given all marks", judged, RIGHT, 1.0)
    yield _measure("the same, every operation rounded to 3 or 4 figures", rough, (Did.RIGHT_EACH,))
    yield _measure("slips named", judged, (Did.SLIP,), 0.9995)
    yield _measure("slips given all marks", judged, (Did.SLIP,), 0.0, at_most=True, hit=lambda j: j.full)
    yield _measure("slips with a power of ten named", judged, (Did.SLIP_TEN,), 0.995)
    yield _measure("two slips named", judged, (Did.TWO,), 0.99)
    yield _measure("two slips, one of another dimension, named", judged, (Did.TWO_OTHER,), 0.95)
    yield _measure("carried forward seen", judged, (Did.CARRIED, Did.CARRIED_LINE), 0.9995)
    yield _measure("one unit not converted, seen as that", judged, (Did.UNIT,), 0.98)
    yield _measure("the same, given a misconception's name", judged, (Did.UNIT,), 0.01, at_most=True, hit=_blamed)
    yield _measure("changed method described as the edit it is", judged, CHANGED, 0.60)
    yield _measure("changed method given a misconception's name", judged, CHANGED, 0.01, at_most=True, hit=_blamed)
    for name, did in ROUGHLY.items():
        yield _measure(f"roughly worked or written: {name}", rough, did)
    yield _measure("roughly worked or written: slips given all marks", rough, (Did.SLIP,), 0.0, at_most=True,
                   hit=lambda j: j.full)  # fmt: skip


def _blamed(one: Judged) -> bool:
    return one.blamed


def _named(one: Judged) -> bool:
    return one.named


def _measure(
    name: str,
    judged: Sequence[Judged],
    did: Sequence[Did],
    wanted: float | None = None,
    *,
    at_most: bool = False,
    hit: Callable[[Judged], bool] = _named,
) -> Measure:
    mine = [j for j in judged if j.answer.did in did]
    clear = [j for j in mine if not j.answer.like]
    return Measure(name, Share(sum(map(hit, clear)), len(clear)), wanted, at_most, len(mine) - len(clear))


def _by_change(judged: Sequence[Judged]) -> Iterator[Measure]:
    changed = [j for j in judged if j.answer.did in CHANGED]
    for kind in sorted({j.answer.detail for j in changed}):
        yield _measure(kind, [j for j in changed if j.answer.detail == kind], CHANGED)


def _by_figures(judged: Sequence[Judged]) -> Iterator[Measure]:
    for did in (Did.SLIP, Did.SLIP_TEN, Did.TWO, Did.CARRIED, Did.CHANGED):
        mine = [j for j in judged if j.answer.did is did]
        for figures in sorted({j.answer.figures for j in mine}):
            yield _measure(f"{did}, {figures} figures", [j for j in mine if j.answer.figures == figures], (did,))


def _band(low: float, high: float, judged: Sequence[Judged]) -> Sureness:
    """One band, kinds weighted as they are met; the interval counts weights as fewer answers (Kish's formula).

    Digits that two known ways give are counted apart whichever of them was gone: to leave out only the further fetched
    of the two would leave names that are right more often than they are said to be.
    """
    totals: dict[Did, int] = {}
    for j in judged:
        totals[j.answer.did] = totals.get(j.answer.did, 0) + 1
    named = [j for j in judged if j.verdict not in UNNAMED]
    here = [j for j in named if low <= j.sure < high or (high == 1.0 and j.sure >= low)]
    mine = [j for j in here if j.answer.told]
    weights = [MET[j.answer.did] / totals[j.answer.did] for j in mine]
    total = sum(weights)
    if not total:
        return Sureness(low, high, 0, 0.0, 0.0, (0.0, 1.0), len(here))
    true = sum(w for w, j in zip(weights, mine, strict=True) if j.named) / total
    stated = sum(w * j.sure for w, j in zip(weights, mine, strict=True)) / total
    effective = total * total / sum(w * w for w in weights)
    return Sureness(low, high, len(mine), stated, true, wilson(true, effective), len(here) - len(mine))
