"""The report of a trial: truth against verdict by kind, method, question and level, with intervals; calibration."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.trial.tallies import MEETING, Tally

BANDS = ((0.0, 0.5), (0.5, 0.8), (0.8, 0.95), (0.95, 0.99), (0.99, 1.0))
Z = 1.959964  # 95 % of a normal distribution

# In what shares the kinds are mixed for calibration: those of which strangers are assumed to be met (measures.py), and
# slips with a power of ten as the weighing has them (marking/weights.py).
MIX: Mapping[str, float] = {
    "right": 0.50, "carried": 0.10, "slip": 0.18, "power of ten": 0.06, "edit": 0.06, "slip and power of ten": 0.04,
    "two slips": 0.03, "noise": 0.03,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Share:
    """A share of a count with its 95 % interval (Wilson 1927)."""

    hits: int
    count: int

    @property
    def value(self) -> float:
        """The share, 0 to 1."""
        return self.hits / self.count if self.count else 0.0

    @property
    def interval(self) -> tuple[float, float]:
        """Its 95 % interval."""
        return wilson(self.value, self.count)


def wilson(share: float, count: float) -> tuple[float, float]:
    """The 95 % interval of a share of a (possibly weighted) count, after Wilson (1927)."""
    if not count:
        return 0.0, 1.0
    middle = (share + Z * Z / (2 * count)) / (1 + Z * Z / count)
    room = Z * math.sqrt(share * (1 - share) / count + Z * Z / (4 * count * count)) / (1 + Z * Z / count)
    return max(middle - room, 0.0), min(middle + room, 1.0)


@dataclass(frozen=True, slots=True)
class KindRow:
    """One kind of truth: named exactly, named or among the leading explanations, given a slip's name, full marks."""

    kind: str
    named: Share
    in_evidence: Share
    slip_named: Share
    full: Share
    verdicts: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Band:
    """One band of `sure`: how many (weighted) answers fell in it, the share that was true, its 95 % interval."""

    low: float
    high: float
    count: int
    true: float
    interval: tuple[float, float]

    @property
    def holds(self) -> bool:
        """True where the share that is true lies in the band, or the band meets its interval."""
        return self.interval[0] <= self.high and self.interval[1] >= self.low


@dataclass(frozen=True, slots=True)
class Group:
    """The share named exactly within one wrong method, question or level, leaving out what no digits can tell."""

    name: str
    named: Share


@dataclass(frozen=True, slots=True)
class Report:
    """The whole report; `methods` are the modelled slips, made alone, by misconception."""

    answers: int
    kinds: tuple[KindRow, ...]
    bands: tuple[Band, ...]
    methods: tuple[Group, ...]
    questions: tuple[Group, ...]
    levels: tuple[Group, ...]


def report_of(tallies: Sequence[Tally]) -> Report:
    """The report of these simulated answers."""
    kinds = dict.fromkeys(t.kind for t in tallies)
    rows = tuple(_kind_row(kind, [t for t in tallies if t.kind == kind]) for kind in kinds)
    clear = [t for t in tallies if MEETING not in t.kind]
    slips = [t for t in clear if t.kind == "slip"]
    return Report(
        len(tallies), rows, tuple(_band(low, high, clear) for low, high in BANDS),
        _groups((t.truth for t in slips), slips),
        _groups((t.question for t in clear), clear), _groups((f"level {t.level}" for t in clear), clear),
    )  # fmt: skip


def _kind_row(kind: str, mine: Sequence[Tally]) -> KindRow:
    n = len(mine)
    verdicts: dict[str, int] = {}
    for t in mine:
        verdicts[str(t.verdict)] = verdicts.get(str(t.verdict), 0) + 1
    return KindRow(
        kind, Share(sum(t.named for t in mine), n), Share(sum(t.named or t.in_evidence for t in mine), n),
        Share(sum(t.slip_named for t in mine), n), Share(sum(t.full for t in mine), n),
        tuple(sorted(verdicts.items(), key=lambda v: -v[1])),
    )  # fmt: skip


def _band(low: float, high: float, tallies: Sequence[Tally]) -> Band:
    """One band of calibration, kinds weighted as they are mixed; the interval counts weights as fewer answers."""
    totals: dict[str, int] = {}
    for t in tallies:
        totals[t.kind] = totals.get(t.kind, 0) + 1
    mine = [t for t in tallies if low <= t.sure < high or (high == 1.0 and t.sure >= low)]
    weights = [MIX.get(t.kind, 0.0) / totals[t.kind] for t in mine]
    total = sum(weights)
    if not total:
        return Band(low, high, len(mine), 0.0, (0.0, 1.0))
    true = sum(w for w, t in zip(weights, mine, strict=True) if t.named) / total
    effective = total * total / sum(w * w for w in weights)
    return Band(low, high, len(mine), true, wilson(true, effective))


def _groups(names: Iterable[str], tallies: Sequence[Tally]) -> tuple[Group, ...]:
    hits: dict[str, int] = {}
    counts: dict[str, int] = {}
    for name, t in zip(names, tallies, strict=True):
        counts[name] = counts.get(name, 0) + 1
        hits[name] = hits.get(name, 0) + t.named
    return tuple(Group(name, Share(hits[name], counts[name])) for name in sorted(counts))
