"""How `trial` shows what became of simulated students: tables for people, plain data for machines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING

from witnessmark.cli.stranger_lines import strangers_data, strangers_lines

if TYPE_CHECKING:
    from witnessmark.jobs.trying import Tried
    from witnessmark.trial.classes import ClassTrial
    from witnessmark.trial.report import Band, Group, KindRow, Report, Share

MOST_METHODS = 20
HEAD = f"{'answers':>8} {'named':>8} {'95 % interval':>17}"


def trial_lines(done: Tried) -> list[str]:
    """The report: by what was done, calibration, by wrong method, by level and by question."""
    found = done.report
    bent = f"habits bent by {done.bend:+g}" if done.bend else "habits as assumed"
    lines = [f"{found.answers} simulated answers, seed {done.seed}, {bent}", ""]
    lines += [f"{'what the students did':48} {HEAD} {'in evidence':>12} {'as a slip':>10} {'full marks':>11}"]
    lines += [_kind_line(row) for row in found.kinds]
    lines += [
        "",
        f"{'sure (kinds mixed as they are assumed to be met)':48} {'answers':>8} {'true':>8} {'95 % interval':>17}",
        *map(_band_line, found.bands),
    ]
    for title, groups in _tables(found):
        lines += ["", f"{title:48} {HEAD}", *map(_group_line, groups)]
    lines += ["", *strangers_lines(done.judgement, done.planted)]
    return [*lines, *(["", _class_line(done.classes)] if done.classes is not None else [])]


def _tables(found: Report) -> Iterator[tuple[str, Sequence[Group]]]:
    seldom = sorted(found.methods, key=lambda g: (g.named.value, g.name))[:MOST_METHODS]
    if len(seldom) < len(found.methods):
        yield f"the {len(seldom)} of {len(found.methods)} wrong methods named least", seldom
    elif seldom:
        yield "wrong method", found.methods
    yield "level", found.levels
    yield "question", found.questions


def _kind_line(row: KindRow) -> str:
    return (
        f"{_share_line(row.kind, row.named)} {row.in_evidence.value:12.4f} {row.slip_named.value:10.4f}"
        f" {row.full.value:11.4f}"
    )


def _share_line(name: str, share: Share) -> str:
    return f"{name:48} {share.count:8} {share.value:8.4f} {_span(share.interval)}"


def _group_line(group: Group) -> str:
    return _share_line(group.name, group.named)


def _band_line(band: Band) -> str:
    name = f"{band.low:4.2f} to {band.high:4.2f}"
    if not band.count:
        return f"{name:48} {0:8}"
    holds = "holds" if band.holds else "DOES NOT HOLD"
    return f"{name:48} {band.count:8} {band.true:8.4f} {_span(band.interval)}  {holds}"


def _span(interval: tuple[float, float]) -> str:
    return f"{interval[0]:8.4f}-{interval[1]:.4f}"


def _class_line(done: ClassTrial) -> str:
    found = f"planted method found in {done.found} of {done.planted} classes, another formula in {done.other}"
    return f"class-wide search: {found}; of {done.noise} classes of noise alone, {done.false} reported one"


def trial_data(done: Tried) -> dict[str, object]:
    """The whole report as plain data; every share with its count and its 95 % interval."""
    found = done.report
    kinds = [
        {"kind": row.kind, "named": _share(row.named), "in_evidence": _share(row.in_evidence),
         "slip_named": _share(row.slip_named), "full": _share(row.full), "verdicts": dict(row.verdicts)}
        for row in found.kinds
    ]  # fmt: skip
    tables = {"methods": found.methods, "levels": found.levels, "questions": found.questions}
    groups = {name: [{"name": g.name, "named": _share(g.named)} for g in table] for name, table in tables.items()}
    bands = [{**asdict(band), "interval": list(band.interval), "holds": band.holds} for band in found.bands]
    classes = asdict(done.classes) if done.classes is not None else None
    return {"seed": done.seed, "bend": done.bend, "answers": found.answers, "kinds": kinds, "bands": bands, **groups,
            "strangers": strangers_data(done.judgement, done.planted), "classes": classes}  # fmt: skip


def _share(share: Share) -> dict[str, object]:
    return {"hits": share.hits, "count": share.count, "share": share.value, "interval": list(share.interval)}
