"""The only door to pandas: a table of many students' answers to one question, marked by columns."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from witnessmark.marking.marker import QuestionMarked, keys_of, mark_question
from witnessmark.marking.outcome import Verdict
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import names_in
from witnessmark.questions.question import Question
from witnessmark.questions.task import Rules
from witnessmark.questions.working import ALL_CONSTANTS


def mark_table(question: Question, frame: pd.DataFrame, rules: Rules | None = None) -> pd.DataFrame:
    """A copy of `frame` with the outcome of every answer beside it.

    `frame` has a column for each given, in its declared unit (numbers), and one for each part or line that was answered
    (`a`, `a.A_s`; text). Added for each: `a.marks`, `a.out_of`, `a.verdict`, `a.misconceptions` (ids joined by `+`),
    `a.sure`. Parts whose givens are absent are not marked. Raises KeyError when no column is a given of the question.
    """
    size = len(frame)
    givens = _givens(question, frame)
    if not givens:
        raise KeyError(f"no column is a given of {question.key}; expected some of {', '.join(_units(question))}")
    keys = keys_of(question)
    entries = {key: _texts(frame[key]) for key in keys if key in frame.columns}
    marked = mark_question(question, givens, entries, size, rules or Rules())
    result = frame.copy()
    for key in keys:
        if key in entries and key in marked.keys:
            for name, column in _columns(marked, key).items():
                result[f"{key}.{name}"] = column
    return result


def _texts(column: pd.Series) -> list[str]:
    empty = column.isna().to_numpy()
    texts: list[str] = column.astype(str).tolist() if empty.any() or column.dtype != object else column.tolist()
    if empty.any():
        texts = ["" if gone else text for gone, text in zip(empty.tolist(), texts, strict=True)]
    return [text if type(text) is str else str(text) for text in texts]


def _units(question: Question) -> dict[str, str]:
    units = {g.name: g.unit for g in question.givens}
    for row in question.rows:
        units |= {f"{row.name}.{c}": u for c, u in question.tables[row.table].units.items()}
    return units


def _givens(question: Question, frame: pd.DataFrame) -> Mapping[str, Array]:
    found: dict[str, Array] = {}
    for name, unit_name in _units(question).items():
        if name in frame.columns:
            u = unit(unit_name)
            found[name] = frame[name].to_numpy(dtype=np.float64) * u.scale + u.offset
    for given in question.givens:
        names = {**ALL_CONSTANTS, **found}
        if given.value is not None and given.name not in found and names_in(given.value) <= names.keys():
            found[given.name] = np.broadcast_to(compiled(given.value)(names), (len(frame),))
    return found


def _columns(marked: QuestionMarked, key: str) -> dict[str, Any]:
    if key in marked.words:
        outcomes = marked.words[key]
        return {
            "marks": [float(o.marks) for o in outcomes], "out_of": float(outcomes[0].out_of) if outcomes else 0.0,
            "verdict": [str(o.verdict) for o in outcomes],
            "misconceptions": ["+".join(o.misconceptions) for o in outcomes], "sure": [o.sure for o in outcomes],
        }  # fmt: skip
    verdicts = marked.verdicts(key)
    names = np.array([str(v) for v in Verdict], dtype=object)
    return {
        "marks": marked.marks(key) / 100.0, "out_of": float(marked.out_of(key)), "verdict": names[verdicts],
        "misconceptions": marked.misconceptions(key), "sure": marked.sure(key),
    }  # fmt: skip
