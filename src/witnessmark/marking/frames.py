"""The only door to pandas: a table of many students' answers to one question, marked by columns."""

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt
import pandas as pd

from witnessmark.marking.answered import Answered
from witnessmark.marking.answers import column_texts, judgements_of
from witnessmark.marking.kinds.alike import firsts_of
from witnessmark.marking.kinds.dispatch import Variants
from witnessmark.marking.marker import QuestionMarked, mark_question
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.reweighing import reweighed
from witnessmark.marking.table_columns import columns_of_table, nothing_marked
from witnessmark.marking.weighing.class_priors import ClassPriors
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.kinds import has_letters
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import USUAL_G, Rules
from witnessmark.questions.sheet.variant import declared_units, row_cells, taking_g, variant_of
from witnessmark.questions.working.evaluation import as_told
from witnessmark.questions.working.working import ALL_CONSTANTS
from witnessmark.reading.column.texts import Texts
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import there_are

Rows = npt.NDArray[np.intp]
Table = pd.DataFrame
Added = Mapping[str, Any]
"""The columns that are added to a table."""

BLOCK = 200_000  # rows marked at once at most, which bounds memory
LEAST_BLOCK = 20_000  # fewer rows are not worth a second process
MOST_CODES = 2**62  # what a code of several columns together may come to in 64 bits


class Mark(Protocol):
    """Something that marks some rows of a table."""

    def __call__(self, rows: range | Rows, priors: ClassPriors | None = None) -> QuestionMarked:
        """The rows marked by the assumed priors, or by those of a class."""


class Partitioned(Protocol):
    """A table in partitions, as far as it is used here."""

    def map_partitions(self, act: Any, /, *, meta: Any) -> Any:
        """A table of what is made of each partition, which will look like `meta`."""

    def head(self, n: int, npartitions: int) -> Any:
        """The first rows, of so many partitions (-1: of all)."""


class Workers(Protocol):
    """Those who mark the blocks of a table, and how many of them there are."""

    @property
    def count(self) -> int:
        """So many blocks are marked at once."""

    def each(self, act: Callable[[range], Added], pieces: Sequence[range]) -> list[Added]:
        """What `act` gives for every block, in order."""


@dataclass(frozen=True, slots=True)
class Alone:
    """Nobody else: one block after the other."""

    count: int = 1

    def each(self, act: Callable[[range], Added], pieces: Sequence[range]) -> list[Added]:
        """What `act` gives for every block, in order."""
        return [act(piece) for piece in pieces]


def mark_table(
    question: Question, frame: Table | Partitioned, rules: Rules | None, *, as_class: bool, workers: Workers
) -> Any:  # fmt: skip
    """A copy of `frame` with the outcome of every answer beside it; see `jobs/marking_tables.py`, which gives it the
    workers."""
    if isinstance(frame, pd.DataFrame):
        return _marked(question, frame, rules, as_class, workers)
    if hasattr(frame, "map_partitions"):
        return _in_partitions(question, frame, rules, as_class)
    raise TypeError(f"expected a table (pandas.DataFrame), found {type(frame).__name__}")


def _in_partitions(question: Question, frame: Partitioned, rules: Rules | None, as_class: bool) -> Any:
    """A table in partitions, each of which is a table by itself; one row is marked now, to know the columns."""
    if as_class:
        raise ValueError("the students of one class are marked in one table; call compute() on this one before")
    columns = _marked(question, frame.head(1, npartitions=-1), rules, False, Alone()).head(0)
    return frame.map_partitions(partial(_partition, question, rules, columns), meta=columns)


def _partition(question: Question, rules: Rules | None, columns: pd.DataFrame, part: pd.DataFrame) -> pd.DataFrame:
    """A partition marked; one without rows has the columns of the others."""
    return _marked(question, part, rules, False, Alone()) if len(part) else columns


def _marked(
    question: Question, frame: pd.DataFrame, rules: Rules | None, as_class: bool, workers: Workers
) -> pd.DataFrame:
    columns = columns_of_table(question, frame.columns)
    plain = [key for key in columns.answers if isinstance(frame[key].dtype, pd.StringDtype)]
    others = [key for key in columns.answers if key not in plain]
    used = frame[[*columns.givens, *plain]].assign(**_texts_of(question, frame, others))
    alike = _alike(used, columns.givens)
    mark = _marking(question, used.iloc[alike.firsts], columns.answers, rules or Rules(), alike)
    size = len(alike.firsts)
    students = np.bincount(alike.which, minlength=size)
    if as_class and len(frame):
        marked = _as_class(mark, columns.answers, students)
    else:
        marked = _joined(workers.each(lambda rows: _added(mark(rows), columns.answers), _blocks(size, workers.count)))
    if len(frame) and marked.columns.empty:
        raise nothing_marked(question, columns)
    return pd.concat([frame, marked.take(alike.which).set_axis(frame.index)], axis=1)


def _texts_of(question: Question, frame: pd.DataFrame, answered: Sequence[str]) -> dict[str, pd.Series]:
    """The answers of every column as texts: objects, since texts of pyarrow cannot hold every sign that is typed."""
    judged = judgements_of(question)
    return {key: _texts(key, frame[key], key in judged) for key in answered}


def _texts(key: str, column: pd.Series, judged: bool) -> pd.Series:
    cells = zip(column.to_numpy(dtype=object), column.isna(), strict=True)
    texts = column_texts(key, (None if empty else cell for cell, empty in cells), judged)
    return pd.Series(texts, column.index, dtype=object)


@dataclass(frozen=True, slots=True)
class _Alike:
    """Rows that are the same are marked once: where each distinct row stands first, and which of them each row is; of
    the distinct rows a number that is the same for the same givens, and the texts of each column. No number and no
    texts where every row is another."""

    firsts: Rows
    which: Rows
    told: Rows | None = None
    texts: Mapping[str, Texts] = field(default_factory=dict)


def _alike(frame: pd.DataFrame, givens: Sequence[str]) -> _Alike:
    which, count = np.zeros(len(frame), np.int64), 1
    told = which
    texts: dict[str, tuple[Sequence[str], Rows]] = {}
    for name in (*givens, *(name for name in frame.columns if name not in givens)):
        codes, values = pd.factorize(frame[name], use_na_sentinel=False)
        if len(values) == len(frame):
            return _Alike(np.arange(len(frame)), np.arange(len(frame)))
        if count * len(values) > MOST_CODES:
            which, rest = pd.factorize(which)
            count = len(rest)
        which, count = which * len(values) + codes, count * len(values)
        if name not in givens:
            texts[name] = _plain(pd.Series(values)), codes
        elif name == givens[-1]:
            told = which = pd.factorize(which)[0]
    which = pd.factorize(which)[0]
    firsts = firsts_of(which)
    columns = {name: Texts(different, codes[firsts]) for name, (different, codes) in texts.items()}
    return _Alike(firsts, which, told[firsts], columns)


def _plain(column: pd.Series) -> list[str]:
    """The texts of a column that holds nothing else, blank where one is missing."""
    return list(column.to_numpy(dtype=object, na_value="").tolist())


def _marking(question: Question, frame: pd.DataFrame, keys: Sequence[str], rules: Rules, alike: _Alike) -> Mark:
    """What marks some rows of a frame."""
    entries: dict[str, Sequence[str]] = {key: alike.texts.get(key) or _plain(frame[key]) for key in keys}
    variants = _variants(question, frame, entries, rules)
    answered = Answered(_givens(question, frame, rules), entries, len(frame), variants, told=alike.told)

    def mark(rows: range | Rows, priors: ClassPriors | None = None) -> QuestionMarked:
        return mark_question(question, answered.only(rows), rules, priors)

    return mark


def _blocks(size: int, most: int) -> list[range]:
    """Even blocks, as many for each of the workers."""
    workers = max(min(most, size // LEAST_BLOCK), 1)
    count = workers * max(-(-size // (workers * BLOCK)), 1)
    ends = [size * i // count for i in range(count + 1)]
    return [range(start, end) for start, end in itertools.pairwise(ends) if end > start]


def _as_class(mark: Mark, answered: Sequence[str], students: Rows) -> pd.DataFrame:
    """The same for the students of one class, all at once; `students` says how many did what each row tells."""
    found = reweighed(mark(range(len(students))), mark, students)
    first = _joined([_added(found.first, answered)])
    again = [_joined([_added(a.marked, answered)]).iloc[a.at].set_axis(a.rows) for a in found.again]
    rest = first.drop(index=[row for a in found.again for row in a.rows.tolist()])
    return pd.concat([rest, *again]).sort_index()


def _added(done: QuestionMarked, answered: Sequence[str]) -> Added:
    return {f"{key}.{name}": c for key in answered if key in done.keys for name, c in _columns(done, key).items()}


@dataclass(frozen=True, slots=True)
class _Coded:
    """A column of a few different texts: which of them stands in each row."""

    codes: Rows
    texts: tuple[str, ...]


def _joined(parts: Sequence[Added]) -> pd.DataFrame:
    return pd.DataFrame({name: _column([part[name] for part in parts]) for name in (parts[0] if parts else ())})


def _column(parts: Sequence[Any]) -> Any:
    """One column of all blocks."""
    if not isinstance(parts[0], _Coded):
        return np.concatenate([np.asarray(part) for part in parts])
    texts = pd.Index(list(dict.fromkeys(text for part in parts for text in part.texts)))
    return texts.take(np.concatenate([texts.get_indexer(list(part.texts))[part.codes] for part in parts])).array


def _rows_named(question: Question, frame: pd.DataFrame) -> list[str]:
    """The row givens that have a column of row names; UnknownName for a name that their table lacks."""
    given = [row for row in question.rows if row.name in frame.columns]
    for row in given:
        known = question.tables[row.table].rows
        for name in frame[row.name].unique().tolist():
            if name not in known:
                there = f"no row of {row.table}, in column {row.name}; {there_are(str(name), known)}"
                raise UnknownName(str(name), there)
    return [row.name for row in given]


def _cells(question: Question, frame: pd.DataFrame) -> dict[str, Array]:
    """The numeric cells of the rows that columns name, such as `material.shear_strength`, SI."""
    found: dict[str, Array] = {}
    for owner in _rows_named(question, frame):
        by_row = {name: row_cells(question, owner, str(name)) for name in frame[owner].unique().tolist()}
        shared = set[str].intersection(*(set(cells) for cells in by_row.values())) if by_row else set()
        found |= {cell: frame[owner].map({n: c[cell].si for n, c in by_row.items()}).to_numpy() for cell in shared}
    return found


def _givens(question: Question, frame: pd.DataFrame, rules: Rules) -> Mapping[str, Array]:
    found = _cells(question, frame)
    if rules.g != USUAL_G:
        found["g"] = np.full(len(frame), float(rules.g))
    for name, unit_name in declared_units(question).items():
        if name in frame.columns:
            u = unit(unit_name)
            found[name] = _numbers(frame[name], unit_name) * u.scale + u.offset
    for given in question.givens:
        names = {**ALL_CONSTANTS, **found}
        if given.value is not None and given.name not in found and names_in(given.value) <= names.keys():
            worked = np.broadcast_to(np.asarray(compiled(given.value)(names), dtype=np.float64), (len(frame),))
            found[given.name] = as_told(worked, given)
    return found


def _numbers(column: pd.Series, unit_name: str) -> Array:
    """The cells of a given as numbers; TypeError, which names the column, for one that is none."""
    numbers = pd.to_numeric(column, errors="coerce").to_numpy(dtype=np.float64)
    if len(wrong := np.flatnonzero(~np.isfinite(numbers))):
        expected = f"a number in {unit_name}" if unit_name else "a number"
        raise TypeError(f"column {column.name}: expected {expected} in every row, found {column.iloc[wrong[0]]!r}")
    return numbers


def _variants(
    question: Question, frame: pd.DataFrame, entries: Mapping[str, Sequence[str]], rules: Rules
) -> Variants | None:
    """Each row's variant, where some part needs it for its letters and the frame has all that is drawn."""
    lettered = any(has_letters(part) and part.key in entries for part in question.parts)
    drawn = [*_rows_named(question, frame), *question.stated]
    if not lettered or not set(drawn) <= set(frame.columns) or len(_rows_named(question, frame)) < len(question.rows):
        return None
    rows = frame[drawn].to_dict("records")
    made = (variant_of(question, {str(name): value for name, value in row.items()}) for row in rows)
    return [taking_g(variant, rules.g) for variant in made]


def _columns(marked: QuestionMarked, key: str) -> dict[str, Any]:
    if key in marked.words:
        outcomes = marked.words[key]
        return {
            "marks": [float(o.marks) for o in outcomes], "out_of": [float(o.out_of) for o in outcomes],
            "verdict": [str(o.verdict) for o in outcomes],
            "misconceptions": ["+".join(o.misconceptions) for o in outcomes], "sure": [o.sure for o in outcomes],
        }  # fmt: skip
    verdicts = marked.verdicts(key)
    return {
        "marks": marked.marks(key) / 100.0, "out_of": np.full(len(verdicts), float(marked.out_of(key))),
        "verdict": _Coded(verdicts.astype(np.int16), tuple(map(str, Verdict))),
        "misconceptions": _Coded(*marked.misconceptions(key)), "sure": marked.sure(key),
    }  # fmt: skip
