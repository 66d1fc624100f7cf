"""The only door to pandas: a table of many students' answers to one question, marked by columns."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt
import pandas as pd

from witnessmark.marking.answered import Answered
from witnessmark.marking.answers import column_texts, judgements_of
from witnessmark.marking.kinds.dispatch import Variants
from witnessmark.marking.marker import QuestionMarked, mark_question
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.pieces import BLOCK, Added, Alone, Piece, Workers, evenly, pieces_of
from witnessmark.marking.reweighing import reweighed
from witnessmark.marking.table_columns import columns_of_table, nothing_marked
from witnessmark.marking.weighing.class_priors import ClassPriors
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import unit
from witnessmark.maths.same_rows import MOST_CODES, closed_up, firsts_of
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.kinds import has_letters
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import USUAL_G, Rules
from witnessmark.questions.sheet.variant import declared_units, row_cells, taking_g, variant_of
from witnessmark.questions.working.evaluation import as_told
from witnessmark.questions.working.working import ALL_CONSTANTS
from witnessmark.reading.column.columns import FEW_REPEAT, LOOKED_AT
from witnessmark.reading.column.texts import Texts
from witnessmark.words.errors import UnknownName
from witnessmark.words.nearest import there_are

Rows = npt.NDArray[np.intp]
Table = pd.DataFrame
EXPECTED = 4
"""One row in so many is taken to be different from those before, where they are counted: room is made for them."""


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
    told = _told(used, columns.givens)
    first_of_each = used if told is None else used.iloc[firsts_of(told)]
    rules = rules or Rules()
    marking = _Marking(question, used, columns.answers, rules, _givens(question, first_of_each, rules), told)
    if as_class and len(frame):
        marked = _as_class(marking).set_axis(frame.index)
    else:
        marked = _joined(*_by_pieces(marking, workers), frame.index)
    if len(frame) and marked.columns.empty:
        raise nothing_marked(question, columns)
    return pd.concat([frame, marked], axis=1)


def _told(frame: pd.DataFrame, givens: Sequence[str]) -> Rows | None:
    """A number for each row, the same for the same givens; None where one of these is another in every row."""
    which, count = np.zeros(len(frame), np.int64), 1
    for name in givens:
        codes, values = pd.factorize(frame[name], use_na_sentinel=False)
        if len(values) == len(frame):
            return None
        which, count = _further(which, count, codes, len(values))
    return closed_up(which, count) if count <= len(frame) else pd.factorize(which)[0]


def _further(which: Rows, count: int, codes: Rows, several: int) -> tuple[Rows, int]:
    """Numbers of rows, below a count, made different where the codes of one more column are; and their new count."""
    if count * several > MOST_CODES:
        which, rest = pd.factorize(which)
        count = len(rest)
    return which * several + codes, count * several


def _texts_of(question: Question, frame: pd.DataFrame, answered: Sequence[str]) -> dict[str, pd.Series]:
    """The answers of every column as texts: objects, since texts of pyarrow cannot hold every sign that is typed."""
    judged = judgements_of(question)
    return {key: _texts(key, frame[key], key in judged) for key in answered}


def _texts(key: str, column: pd.Series, judged: bool) -> pd.Series:
    cells = zip(column.to_numpy(dtype=object), column.isna(), strict=True)
    texts = column_texts(key, (None if empty else cell for cell, empty in cells), judged)
    return pd.Series(texts, column.index, dtype=object)


def _plain(column: pd.Series) -> list[str]:
    """The texts of a column that holds nothing else, blank where one is missing."""
    return list(column.to_numpy(dtype=object, na_value="").tolist())


def _repeated(frame: pd.DataFrame, rows: Rows) -> dict[str, Texts]:
    """Some rows of columns of texts, each text told once; none where one of them is another text in every row."""
    found: dict[str, Texts] = {}
    for name in frame.columns:
        codes, values = _texts_numbered(frame[name].to_numpy(dtype=object), rows)
        if len(values) == len(rows):
            return {}
        found[name] = Texts(_plain(pd.Series(values)), codes)
    return found


def _texts_numbered(objects: npt.NDArray[np.object_], rows: Rows) -> tuple[Rows, npt.NDArray[np.object_]]:
    """A number for each text in some rows, and the different ones. What reads a file keeps one object for texts that
    are the same and near each other, so that far fewer texts are compared where the same objects were counted
    before."""
    if len(set(map(id, objects[:LOOKED_AT].tolist()))) > FEW_REPEAT * min(len(objects), LOOKED_AT):
        return pd.factorize(objects[rows], use_na_sentinel=False)
    same = pd.factorize(np.asarray(_Addresses(objects))[rows], size_hint=len(rows) // EXPECTED)[0]
    codes, values = pd.factorize(objects[rows[firsts_of(same)]], use_na_sentinel=False)
    return codes[same], values


class _Addresses:
    """An array of objects as the addresses at which they stand: a number for each object."""

    def __init__(self, objects: npt.NDArray[np.object_]) -> None:
        self.__array_interface__ = {**objects.__array_interface__, "typestr": np.dtype(np.intp).str}
        self.objects = objects  # which lives as long as its addresses are looked at


@dataclass(frozen=True, slots=True)
class _Alike:
    """Rows that are the same are marked once: where each distinct row stands first, and which of them each row is."""

    firsts: Rows
    which: Rows


def _alike(told: Rows, texts: Iterable[Rows]) -> _Alike:
    """The distinct rows of numbers of texts, those who were told the same (a number) together."""
    which, count = told, int(told.max()) + 1
    for codes in texts:
        which, count = _further(which, count, codes, int(codes.max()) + 1)
    which = pd.factorize(which, size_hint=len(told) // EXPECTED)[0]
    firsts = firsts_of(which)
    who = told[firsts]
    order = np.argsort(who.astype(np.min_scalar_type(who.max())), kind="stable")
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    return _Alike(firsts[order], place[which])


@dataclass(frozen=True, slots=True)
class _Marking:
    """A table to be marked: its columns of givens and of texts, and the values of givens by number, which `told` has
    for each row; without such numbers, by row."""

    question: Question
    frame: pd.DataFrame
    keys: Sequence[str]
    rules: Rules
    givens: Mapping[str, Array]
    told: Rows | None

    def of(self, rows: slice | Rows) -> tuple[_Alike, Mark]:
        """The distinct rows among some, and what marks some of these."""
        rows = np.arange(len(self.frame))[rows] if isinstance(rows, slice) else rows
        texts = {} if self.told is None else _repeated(self.frame[[*self.keys]], rows)
        if self.told is None or not texts:
            return _Alike(np.arange(len(rows)), np.arange(len(rows))), self._mark(rows, {})
        alike = _alike(self.told[rows], [column.which for column in texts.values()])
        distinct = {key: Texts(column.different, column.which[alike.firsts]) for key, column in texts.items()}
        return alike, self._mark(rows[alike.firsts], distinct)

    def _mark(self, rows: Rows, texts: Mapping[str, Texts]) -> Mark:
        entries: Mapping[str, Sequence[str]] = texts
        if not texts:
            entries = {key: _plain(self.frame[key].iloc[rows]) for key in self.keys}
        who = rows if self.told is None else self.told[rows]
        variants = _variants(self.question, self.frame, rows, entries, self.rules)
        givens = {name: values[who] for name, values in self.givens.items()}
        answered = Answered(givens, entries, len(rows), variants, told=who if texts else None)

        def mark(rows: range | Rows, priors: ClassPriors | None = None) -> QuestionMarked:
            return mark_question(self.question, answered.only(rows), self.rules, priors)

        return mark

    def piece(self, rows: slice | Rows) -> Piece:
        """Some rows marked."""
        alike, mark = self.of(rows)
        size = len(alike.firsts)
        return Piece([_added(mark(block), self.keys) for block in evenly(size, -(-size // BLOCK))], alike.which)


def _by_pieces(marking: _Marking, workers: Workers) -> tuple[list[Added], Rows]:
    """A table marked piece by piece: what is added to the distinct rows, and which of them each row is."""
    pieces = pieces_of(marking.told, len(marking.frame), workers.count)
    which, count = np.empty(len(marking.frame), np.intp), 0
    blocks: list[Added] = []
    for rows, piece in zip(pieces, workers.each(lambda n: marking.piece(pieces[n]), range(len(pieces))), strict=True):
        which[rows] = piece.which + count
        count += int(piece.which.max()) + 1
        blocks += piece.blocks
    return blocks, which


def _as_class(marking: _Marking) -> pd.DataFrame:
    """The rows marked as the students of one class, all at once: each distinct row counts as often as it stands
    there."""
    alike, mark = marking.of(slice(None))
    students = np.bincount(alike.which, minlength=len(alike.firsts))
    found = reweighed(mark(range(len(students))), mark, students)
    first = _joined([_added(found.first, marking.keys)], np.arange(len(students)))
    again = [_joined([_added(a.marked, marking.keys)], a.at, pd.Index(a.rows)) for a in found.again]
    rest = first.drop(index=[row for a in found.again for row in a.rows.tolist()])
    return pd.concat([rest, *again]).sort_index().take(alike.which)


def _added(done: QuestionMarked, answered: Sequence[str]) -> Added:
    return {f"{key}.{name}": c for key in answered if key in done.keys for name, c in _columns(done, key).items()}


@dataclass(frozen=True, slots=True)
class _Coded:
    """A column of a few different texts: which of them stands in each row."""

    codes: npt.NDArray[np.int16]
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Hundredths:
    """A column of marks, as whole hundredths, which are soon sent from one process to another."""

    marks: npt.NDArray[np.int32]


def _joined(parts: Sequence[Added], rows: Rows, index: pd.Index | None = None) -> pd.DataFrame:
    """One table of these rows of all blocks."""
    columns = {name: _column([part[name] for part in parts], rows) for name in (parts[0] if parts else ())}
    return pd.DataFrame(columns, index, copy=False)


def _column(parts: Sequence[Any], rows: Rows) -> Any:
    """One column, of these rows of all blocks."""
    first = parts[0]
    if isinstance(first, float):
        return np.full(len(rows), first)
    if isinstance(first, _Hundredths):
        return np.concatenate([part.marks for part in parts]).take(rows) / 100.0
    if not isinstance(first, _Coded):
        return np.concatenate([np.asarray(part) for part in parts]).take(rows)
    texts = pd.Index(list(dict.fromkeys(text for part in parts for text in part.texts)))
    codes = np.concatenate([texts.get_indexer(list(part.texts)).astype(np.int16)[part.codes] for part in parts])
    return texts.take(codes.take(rows)).array


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
    question: Question, frame: pd.DataFrame, some: Rows, entries: Mapping[str, Sequence[str]], rules: Rules
) -> Variants | None:
    """The variant of each of some rows, where a part needs it for its letters and the frame has all that is drawn."""
    lettered = any(has_letters(part) and part.key in entries for part in question.parts)
    drawn = [*_rows_named(question, frame), *question.stated]
    if not lettered or not set(drawn) <= set(frame.columns) or len(_rows_named(question, frame)) < len(question.rows):
        return None
    rows = frame[drawn].iloc[some].to_dict("records")
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
    verdicts, (which, names) = marked.verdicts(key), marked.misconceptions(key)
    return {
        "marks": _Hundredths(marked.marks(key).astype(np.int32)),
        "out_of": float(marked.out_of(key)),
        "verdict": _Coded(verdicts.astype(np.int16), tuple(map(str, Verdict))),
        "misconceptions": _Coded(which.astype(np.int16), names), "sure": marked.sure(key),
    }  # fmt: skip
