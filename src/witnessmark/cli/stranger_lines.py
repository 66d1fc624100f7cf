"""How `trial` shows what strangers tell of the marker: measures against what is wanted, and certainty by bands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from witnessmark.trial.measures import Judgement, Measure, Sureness
    from witnessmark.trial.planted import PlantedMethods

SURE = "sure of the name given (as such answers are assumed to be met)"
HEAD = f"{'answers':>8} {'share':>8} {'95 % interval':>17} {'apart':>6}"


def strangers_lines(found: Judgement, planted: PlantedMethods | None) -> list[str]:
    """The judgement by students who share no code with the marker; `apart` counts numbers that two ways give."""
    lines = [
        f"{found.answers} answers of strangers, who share no code with the marker",
        "(apart: numbers that a known way as near or nearer gives too, to the figures typed; for certainty any way)",
        "",
        f"{'measure':62} {HEAD} {'wanted':>9}",
        *map(_wanted_line, (*found.measures, *(planted.measures if planted else ()))),
        "",
        f"{SURE:62} {'answers':>8} {'true':>8} {'95 % interval':>17} {'stated':>8}",
        *map(_band_line, found.bands),
    ]
    for title, rows in (*_tables(found), *_planted_tables(planted)):
        lines += ["", f"{title:62} {HEAD}", *map(_line, rows)]
    return lines


def _tables(found: Judgement) -> Iterator[tuple[str, Sequence[Measure]]]:
    yield "what strangers did, and how often that was said", found.kinds
    yield "changed methods, by change", found.changes
    yield "by figures typed", found.figures


def _planted_tables(planted: PlantedMethods | None) -> Iterator[tuple[str, Sequence[Measure]]]:
    if planted and planted.kinds:
        yield "planted methods found, by change", planted.kinds


def _line(row: Measure) -> str:
    low, high = row.share.interval
    return f"{row.name:62} {row.share.count:8} {row.share.value:8.4f} {low:8.4f}-{high:.4f} {row.apart:8}"


def _wanted_line(row: Measure) -> str:
    if row.wanted is None:
        return _line(row)
    sign, met = ("<=" if row.at_most else ">="), ("" if row.is_met else "  NOT MET")
    return f"{_line(row)} {sign:>2} {row.wanted:.4g}{met}"


def _band_line(band: Sureness) -> str:
    name = f"{band.low:.3f} to {band.high:.3f}"
    apart = f"  ({band.apart} apart)" if band.apart else ""
    if not band.count:
        return f"{name:62} {0:8}{apart}"
    holds = "holds" if band.holds else "DOES NOT HOLD"
    low, high = band.interval
    return f"{name:62} {band.count:8} {band.true:8.4f} {low:8.4f}-{high:.4f} {band.stated:8.4f}  {holds}{apart}"


def strangers_data(found: Judgement, planted: PlantedMethods | None) -> dict[str, object]:
    """The same as plain data."""
    tables = {"measures": found.measures, "kinds": found.kinds, "changes": found.changes,
              "figures": found.figures, "planted": planted.measures if planted else (),
              "planted_kinds": planted.kinds if planted else ()}  # fmt: skip
    rows = {name: [_row(row) for row in table] for name, table in tables.items()}
    bands = [{**asdict(band), "interval": list(band.interval), "holds": band.holds} for band in found.bands]
    return {"answers": found.answers, **rows, "bands": bands}


def _row(row: Measure) -> dict[str, object]:
    share = {"hits": row.share.hits, "count": row.share.count, "share": row.share.value,
             "interval": list(row.share.interval)}  # fmt: skip
    return {"name": row.name, **share, "apart": row.apart, "wanted": row.wanted, "met": row.is_met}
