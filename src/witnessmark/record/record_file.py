"""The file of a class record: opened inside a `with` block, read as one look, changed by whole transactions."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Self

from witnessmark.questions.model.question import Question
from witnessmark.record import chain, migrations, sheets
from witnessmark.record.connection import (
    INTERRUPTED,
    WAIT_SECONDS,
    beside,
    connect,
    is_known_whole,
    stays_whole,
    tidy,
    told,
    transaction,
    unreadable,
)
from witnessmark.words.errors import ProblemsFound, UnitError
from witnessmark.words.problems import Problem


class RecordFile:
    """A record file, open inside a `with` block; the file is made when it is not there.

    `question_from_bundle` makes a question from the text that was stored with a sheet. All methods raise ProblemsFound
    for a file that is damaged, in use elsewhere, of a later program, or not to be written.
    """

    def __init__(self, path: Path, question_from_bundle: Callable[[str], Question], wait: float = WAIT_SECONDS) -> None:
        self.path = path
        self.warnings: tuple[Problem, ...] = ()
        """What looks odd beside the file, without hindering: an unfinished change, a second copy."""
        self._make, self._wait = question_from_bundle, wait
        self._open: tuple[sqlite3.Connection, sheets.Questions] | None = None

    def __enter__(self) -> Self:
        warnings = beside(self.path)
        db = connect(self.path, self._wait)
        try:
            migrations.bring_up_to_date(db, self.path)
            in_use = not tidy(db, self.path, self._wait)
        except BaseException:
            db.close()
            raise
        self.warnings = tuple(w for w in warnings if not (in_use and w.code == INTERRUPTED))
        self._open = db, sheets.Questions(db, self._make)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._open is not None:
            self._open[0].close()
        self._open = None

    @property
    def _db(self) -> sqlite3.Connection:
        return self._inside()[0]

    @property
    def _questions(self) -> sheets.Questions:
        return self._inside()[1]

    def _inside(self) -> tuple[sqlite3.Connection, sheets.Questions]:
        if self._open is None:
            raise RuntimeError("the record is open inside a with block only")
        return self._open

    @contextmanager
    def _reading(self) -> Iterator[None]:
        try:
            with told(self.path), transaction(self._db, "DEFERRED"):
                yield
        except (ValueError, ArithmeticError, UnitError) as error:  # a time, a mark, a unit, an event that is none
            raise ProblemsFound([unreadable(self.path, error)]) from error

    @contextmanager
    def together(self) -> Iterator[None]:
        """Several changes as one: all of them, or none when anything fails inside."""
        outermost = not self._db.in_transaction
        with told(self.path), transaction(self._db):
            was_whole = outermost and is_known_whole(self.path)
            before = chain.last_row(self._db)
            yield
            if outermost:
                chain.seal(self._db, before)
        if was_whole:
            stays_whole(self.path)

    @property
    def question_from_bundle(self) -> Callable[[str], Question]:
        """What makes a question from a stored text."""
        return self._make
