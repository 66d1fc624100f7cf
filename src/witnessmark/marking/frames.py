"""The only door to pandas: a table of many students' answers to one question, marked by columns."""

import itertools
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import Any, Protocol, TypeVar

import numpy as np
import numpy.typing as npt
import pandas as pd

from witnessmark.marking.kinds.dispatch import Variants
from witnessmark.marking.marker import QuestionMarked, keys_of, mark_question
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.reweighing import reweighed
from witnessmark.marking.weighing.class_priors import ClassPriors
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.question import Kind, Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import row_cells, variant_of
from witnessmark.questions.working.working import ALL_CONSTANTS

Rows = npt.NDArray[np.intp]
T = TypeVar("T")
LETTERED = (Kind.CHOICE, Kind.ORDER)

BLOCK = 200_000  # rows marked at once at most, which bounds memory
LEAST_BLOCK = 2_000  # fewer rows are not worth a second thread
WORKERS = 2


class Mark(Protocol):
    """Something that marks some rows of a table."""

    def __call__(self, rows: range | Rows, priors: ClassPriors | None = None) -> QuestionMarked:
        """The rows marked by the assumed priors, or by those of a class."""


def mark_table(
    question: Question, frame: pd.DataFrame, rules: Rules | None = None, *, as_class: bool = False
) -> pd.DataFrame:
    """A copy of `frame` with the outcome of every answer beside it.

    `frame` has a column for each given, in its declared unit (numbers), and one for each part or line that was answered
    (`a`, `a.A_s`; text). A column with the name of a row given (`material`) holds the names of rows, whose cells count
    as givens; where all that is drawn is there, the letters of choices are known. Added for each answer: `a.marks`,
    `a.out_of`, `a.verdict`, `a.misconceptions` (ids joined by `+`), `a.sure`. Parts whose givens are absent are not
    marked. With `as_class` the rows are the students of one class, whose wrong methods tell on answers that stay in
    doubt (see `reweighing.py`). Raises KeyError when no column is a given of the question.
    """
    givens = _units(question).keys() | {row.name for row in question.rows}
    answered = [key for key in keys_of(question) if key in frame.columns]
    if not givens & set(frame.columns):
        raise KeyError(f"no column is a given of {question.key}; expected some of {', '.join(_units(question))}")
    used = [name for name in frame.columns if name in givens] + answered
    firsts, which = _alike(frame[used])
    mark = _marking(question, frame[used].iloc[firsts], answered, rules or Rules())
    students = np.bincount(which, minlength=len(firsts))
    marked = _as_class(mark, answered, students) if as_class and len(frame) else _in_blocks(mark, answered, len(firsts))
    return pd.concat([frame, marked.take(which).set_axis(frame.index)], axis=1)


def _alike(frame: pd.DataFrame) -> tuple[Rows, Rows]:
    """Rows that are the same are marked once: where each distinct row stands first, and which of them each row is."""
    which = np.zeros(len(frame), np.int64)
    for name in frame.columns:
        codes, values = pd.factorize(frame[name], use_na_sentinel=False)
        which = pd.factorize(which * len(values) + codes)[0]
    distinct = int(which.max(initial=-1)) + 1
    firsts = np.zeros(distinct, np.intp)
    firsts[which[::-1]] = np.arange(len(which))[::-1]
    return firsts, which


def _marking(question: Question, frame: pd.DataFrame, answered: Sequence[str], rules: Rules) -> Mark:
    """What marks some rows of a frame."""
    givens = _givens(question, frame)
    entries = {key: _texts(frame[key]) for key in answered}
    variants = _variants(question, frame, entries)

    def mark(rows: range | Rows, priors: ClassPriors | None = None) -> QuestionMarked:
        where: Any = slice(rows.start, rows.stop) if isinstance(rows, range) else rows
        some = {k: v[where] for k, v in givens.items()}
        texts = {k: _at(v, rows) for k, v in entries.items()}
        who = None if variants is None else _at(variants, rows)
        return mark_question(question, some, texts, len(rows), rules, who, priors)

    return mark


def _at(values: Sequence[T], rows: range | Rows) -> Sequence[T]:
    return values[rows.start : rows.stop] if isinstance(rows, range) else [values[row] for row in rows.tolist()]


def _in_blocks(mark: Mark, answered: Sequence[str], size: int) -> pd.DataFrame:
    """The columns that are added to a frame, marked in blocks."""
    with ThreadPoolExecutor(WORKERS) as workers:  # numpy lets other threads go on while it works
        return _joined(list(workers.map(lambda rows: _added(mark(rows), answered), _blocks(size))))


def _blocks(size: int) -> list[range]:
    """Even blocks, as many for each worker."""
    count = 1 if size <= LEAST_BLOCK else WORKERS * -(-size // (WORKERS * BLOCK))
    ends = [size * i // count for i in range(count + 1)]
    return [range(start, end) for start, end in itertools.pairwise(ends) if end > start]


def _as_class(mark: Mark, answered: Sequence[str], students: Rows) -> pd.DataFrame:
    """The same for the students of one class, all at once; `students` says how many did what each row tells."""
    found = reweighed(mark(range(len(students))), mark, students)
    first = pd.DataFrame(_added(found.first, answered))
    again = [pd.DataFrame(_added(a.marked, answered)).iloc[a.at].set_axis(a.rows) for a in found.again]
    rest = first.drop(index=[row for a in found.again for row in a.rows.tolist()])
    return pd.concat([rest, *again]).sort_index()


def _added(done: QuestionMarked, answered: Sequence[str]) -> dict[str, Any]:
    return {f"{key}.{name}": c for key in answered if key in done.keys for name, c in _columns(done, key).items()}


def _joined(parts: Sequence[dict[str, Any]]) -> pd.DataFrame:
    names = parts[0] if parts else {}
    return pd.DataFrame({name: np.concatenate([np.asarray(part[name]) for part in parts]) for name in names})


def _texts(column: pd.Series) -> list[str]:
    empty = column.isna()
    texts: list[str] = column.astype(str).mask(empty, "").tolist()
    return texts


def _units(question: Question) -> dict[str, str]:
    units = {g.name: g.unit for g in question.givens}
    for row in question.rows:
        units |= {f"{row.name}.{c}": u for c, u in question.tables[row.table].units.items()}
    return units


def _rows_named(question: Question, frame: pd.DataFrame) -> list[str]:
    """The row givens for which a column names nothing but rows of their table."""
    given = [row for row in question.rows if row.name in frame.columns]
    return [row.name for row in given if frame[row.name].isin(list(question.tables[row.table].rows)).all()]


def _cells(question: Question, frame: pd.DataFrame) -> dict[str, Array]:
    """The numeric cells of the rows that columns name, such as `material.shear_strength`, SI."""
    found: dict[str, Array] = {}
    for owner in _rows_named(question, frame):
        by_row = {name: row_cells(question, owner, str(name)) for name in frame[owner].unique().tolist()}
        shared = set[str].intersection(*(set(cells) for cells in by_row.values())) if by_row else set()
        found |= {cell: frame[owner].map({n: c[cell].si for n, c in by_row.items()}).to_numpy() for cell in shared}
    return found


def _givens(question: Question, frame: pd.DataFrame) -> Mapping[str, Array]:
    found = _cells(question, frame)
    for name, unit_name in _units(question).items():
        if name in frame.columns:
            u = unit(unit_name)
            found[name] = frame[name].to_numpy(dtype=np.float64) * u.scale + u.offset
    for given in question.givens:
        names = {**ALL_CONSTANTS, **found}
        if given.value is not None and given.name not in found and names_in(given.value) <= names.keys():
            found[given.name] = np.broadcast_to(compiled(given.value)(names), (len(frame),))
    return found


def _variants(question: Question, frame: pd.DataFrame, entries: Mapping[str, list[str]]) -> Variants | None:
    """Each row's variant, where some part needs it for its letters and the frame has all that is drawn."""
    lettered = any(part.kind in LETTERED and part.key in entries for part in question.parts)
    drawn = [*_rows_named(question, frame), *(g.name for g in question.givens if g.value is None)]
    if not lettered or not set(drawn) <= set(frame.columns) or len(_rows_named(question, frame)) < len(question.rows):
        return None
    rows = frame[drawn].to_dict("records")
    return [variant_of(question, {str(name): value for name, value in row.items()}) for row in rows]


def _columns(marked: QuestionMarked, key: str) -> dict[str, Any]:
    if key in marked.words:
        outcomes = marked.words[key]
        return {
            "marks": [float(o.marks) for o in outcomes], "out_of": [float(o.out_of) for o in outcomes],
            "verdict": [str(o.verdict) for o in outcomes],
            "misconceptions": ["+".join(o.misconceptions) for o in outcomes], "sure": [o.sure for o in outcomes],
        }  # fmt: skip
    verdicts = marked.verdicts(key)
    names = np.array([str(v) for v in Verdict], dtype=object)
    return {
        "marks": marked.marks(key) / 100.0, "out_of": np.full(len(verdicts), float(marked.out_of(key))),
        "verdict": names[verdicts],
        "misconceptions": marked.misconceptions(key), "sure": marked.sure(key),
    }  # fmt: skip
