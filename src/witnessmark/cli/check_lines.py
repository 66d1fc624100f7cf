"""How the result of `check` reads: a table of the bank, or all that is known of one question; and as data."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from witnessmark.jobs.checking import Checked, QuestionReport
    from witnessmark.questions.checking.method_clashes import Pair
    from witnessmark.questions.checking.spread import Spread

SHOWN_BELOW = 0.75
"""A question whose separable share is smaller has the methods that meet most named below the table of a bank."""
NEGLIGIBLE = 0.0005
HEADINGS = (
    f"{'question':21} {'topic':10} {'level':>5} {'steps':>5} {'variants':>8} {'kept':>7} {'separable':>9} "
    f"{'to issue':>8} {'plain':>6} {'conv.':>5}  judged yes"
)
LEGEND = (
    "kept: satisfy keep. separable: of those, the share in which no two methods meet. ~: about, from a sample.",
    "plain: of those kept, what is left out since one figure says a result. conv.: conversions of units on the way.",
)


def data_of(report: QuestionReport) -> dict[str, object]:
    """One question for machines, in plain values; shares are of the variants kept, those of `even` of the issuable."""
    found = report.spread
    return {
        "question": report.key, "file": report.file, "topic": report.topic, "level": report.level,
        "steps": report.steps, "variants": found.variants, "kept": found.kept, "issuable": found.issuable,
        "counted": found.counted, "separable": found.separable,
        "lost": {why.replace(" ", "_"): share for why, share in found.lost},
        "meet": [{"place": m.key, "first": m.first, "second": m.second, "share": m.share} for m in found.meetings],
        "pairs": [_pair_data(pair) for pair in found.pairs],
        "powers_of_ten": [{"place": p.key, "first": p.first, "second": p.second, "power": p.power}
                          for p in found.power_pairs],
        "even": {"figures": {key: list(shares) for key, shares in found.figures},
                 "conversions": list(found.conversions), "judged": dict(found.judged)},
        "judged": dict(found.judged), "never_drawn": {name: list(values) for name, values in found.never_drawn},
        "problems": [str(problem) for problem in report.problems],
        "remarks": [str(remark) for remark in report.remarks],
    }  # fmt: skip


def _pair_data(pair: Pair) -> dict[str, object]:
    return {"place": pair.key, "first": pair.first, "second": pair.second, "known_by": str(pair.known_by),
            "parted_by": list(pair.parted_by), "keeps": [str(marks) for marks in pair.keeps]}  # fmt: skip


def lines_of(done: Checked) -> list[str]:
    """The whole result for people, without problems, notes and counts."""
    if done.one_file:
        return [line for report in done.questions for line in _all_of(report)]
    rows = [_row(report) for report in done.questions]
    return ["", HEADINGS, *rows, "", *LEGEND, *_where_it_matters(done.questions)]


def _row(r: QuestionReport) -> str:
    found = r.spread
    least, most = found.conversions
    about = " " if found.counted else "~"
    judged = "".join(f"  {key} {share:.0%}" for key, share in found.judged)
    row = (
        f"{r.key:21} {r.topic:10} {r.level:5} {r.steps:5} {found.variants:8} {about + str(found.kept):>7} "
        f"{found.separable:9.1%} {about + str(found.issuable):>8} {dict(found.lost)['plain number']:6.1%} "
        f"{least if least == most else f'{least}-{most}':>5}{judged}"
    )
    return row + ("  PROBLEM" if r.problems else "")


def _where_it_matters(reports: Sequence[QuestionReport]) -> list[str]:
    lines = []
    for r in reports:
        if r.spread.separable < SHOWN_BELOW:
            lines += [f"  {r.key:21} {meeting}" for meeting in _meetings(r.spread)[:3]]
    named = [f"  {r.key} {line}" for r in reports for line in _pairs(r.spread)]
    remarks = [str(remark) for r in reports for remark in r.remarks]
    often = ["", "Where methods meet most:", *lines] if lines else []
    always = ["", "Methods that no numbers part:", *named] if named else []
    return [*often, *always, *([""] if remarks else []), *remarks, ""]


def _all_of(r: QuestionReport) -> list[str]:
    found = r.spread
    least, most = found.conversions
    how = "every one looked at" if found.counted else "about, from a sample"
    counts = f"{found.variants} variants, {found.kept} satisfy keep, {found.issuable} can be issued ({how})"
    lost = ", ".join(f"{why} {share:.1%}" for why, share in found.lost if share > NEGLIGIBLE)
    lines = [f"{r.key} ({r.topic}, level {r.level}, {r.steps} {'step' if r.steps == 1 else 'steps'})", f"  {counts}",
             f"  {found.separable:.1%} of those that satisfy keep are separable"]  # fmt: skip
    lines += [f"  not issued: {lost}"] if lost else []
    lines += _headed("methods that meet, and in how many of those:", _meetings(found))
    lines += _headed("methods that are one number in every variant:", _pairs(found))
    lines += _headed("methods that are one power of ten apart in every variant:", _powers(found))
    lines += _headed("figures that say a result exactly, in those that can be issued:", _figures(found))
    units = f"{least}" if least == most else f"{least} to {most}"
    lines.append(f"  conversions of units: {units} in every variant")
    lines += [f"  {key}: yes in {share:.0%} of those that can be issued" for key, share in found.judged]
    lines += [f"  never issued: {name} {', '.join(values)}" for name, values in found.never_drawn]
    return [*lines, *(f"  {remark}" for remark in r.remarks)]


def _headed(heading: str, lines: list[str]) -> list[str]:
    return [f"  {heading}", *(f"    {line}" for line in lines)] if lines else []


def _meetings(found: Spread) -> list[str]:
    return [f"{m.key:8} {m.share:6.1%}  {m.first} and {m.second}" for m in found.meetings]


def _pairs(found: Spread) -> list[str]:
    lines = []
    for pair in found.pairs:
        parted = f"; parted where {', '.join(pair.parted_by)} is entered" if pair.parted_by else ""
        lines.append(f"{pair} (known by {pair.known_by}{parted})")
    return lines


def _powers(found: Spread) -> list[str]:
    return [f"{p.key}: {p.second} = {p.first} * 10^{p.power}" for p in found.power_pairs]


def _figures(found: Spread) -> list[str]:
    return [
        f"{key}: one {one:.0%}, two {two:.0%}, three {three:.0%}, more {more:.0%}"
        for key, (one, two, three, more) in found.figures
    ]
