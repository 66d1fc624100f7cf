"""The right results of sheets as plain numbers: sheets that share a question are worked together, by columns."""

from collections.abc import Mapping, Sequence

import numpy as np

from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.alike import Alike, Groups
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.working import worked

Expected = Mapping[str, float]
"""Right results in SI by ask key: `1.a`, `1.a.A_s`."""


def expected_of(sheets: Sequence[Sheet]) -> dict[str, Expected]:
    """The right results of every quantity of every sheet, by sheet code."""
    groups: dict[Alike, list[tuple[str, int, Variant]]] = {}
    alike = Groups(sheets)
    for sheet in sheets:
        for number, variant in enumerate(sheet.variants, 1):
            groups.setdefault(alike.of(variant), []).append((sheet.code, number, variant))
    found: dict[str, dict[str, float]] = {sheet.code: {} for sheet in sheets}
    for group in groups.values():
        for (code, number, _), results in zip(group, _worked_together(group[0][2].question, group), strict=True):
            found[code] |= {f"{number}.{key}": value for key, value in results.items()}
    return {code: dict(sorted(results.items())) for code, results in found.items()}


def _worked_together(question: Question, group: Sequence[tuple[str, int, Variant]]) -> list[dict[str, float]]:
    values = [variant.values for _, _, variant in group]
    columns = {name: np.array([v[name] for v in values]) for name in values[0]}
    results = {key: np.broadcast_to(column, len(group)) for key, column in worked(question, columns).items()}
    return [{key: float(column[row]) for key, column in results.items()} for row in range(len(group))]
