"""The class record: what was issued, what came back, what was marked and why; one SQLite file a class.

Every change is one short transaction: done wholly, or not at all. Times are arguments and carry their zone.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from decimal import Decimal

from witnessmark.marking.outcome import Outcome
from witnessmark.questions.checking.accepted_slips import AcceptedSlip
from witnessmark.questions.checking.corrections import Correction
from witnessmark.questions.sheet.task import Return, Sheet, Task
from witnessmark.record import (
    acceptance,
    chain,
    corrections,
    counting,
    export,
    export_student,
    journal,
    kept_files,
    moderation,
    outcomes,
    removal,
    returns,
    sheets,
    steps,
    verifying,
    visits,
)
from witnessmark.record.connection import told
from witnessmark.record.of_students import OfStudents
from witnessmark.record.rows import (
    Acceptance,
    Change,
    Counts,
    Difference,
    Event,
    Given,
    JournalRow,
    Moderation,
    Noted,
    Outcomes,
    Removed,
    Source,
    Step,
    StoredReturn,
    TakenIn,
    TaskCounts,
    Undone,
)
from witnessmark.review.year.history import Visit
from witnessmark.words.problems import Problem


class Record(OfStudents):
    """The record in a file: what is kept of a class, and what may change in it."""

    @contextmanager
    def step(
        self, what: str, task_key: str, now: datetime, who: str = "", sheets: Sequence[str] | None = None
    ) -> Iterator[None]:
        """All changes inside as one that `undo` can take back; `what` names the command. Where only rows of some
        `sheets` can change, no others are looked at."""
        with self.together():
            before = steps.snapshot(self._db, task_key, sheets)
            yield
            after = steps.snapshot(self._db, task_key, sheets)
            steps.keep(self._db, task_key, what, who, before, after, now)

    def last_step(self) -> Step | None:
        """The step that `undo` would take back, or None."""
        with self._reading():
            return steps.last(self._db)

    def undo(self, who: str, why: str, now: datetime) -> Undone:
        """Take back the last step that still stands. ProblemsFound where there is none, or no name or reason."""
        with self.together():
            return steps.undo(self._db, who, why, now)

    def add_task(self, task: Task, now: datetime) -> None:
        """Store a task, or what changed in it. ProblemsFound when its questions changed after sheets were issued."""
        with self.together():
            sheets.store_task(self._db, task, now)

    def tasks(self) -> tuple[str, ...]:
        """The keys of all tasks, in the order in which they were set."""
        with self._reading():
            return sheets.task_keys(self._db)

    def add_sheets(
        self, new: Sequence[Sheet], now: datetime, expected: Mapping[str, Mapping[str, float]] | None = None
    ) -> int:
        """Store sheets whole, with their tasks where those are new; how many were not there yet.

        `expected` holds right results in SI by sheet code and ask key; they are worked out when it is left out. Sheets
        that are there already stay as they are; ProblemsFound when one of the same code has other contents.
        """
        with self.together():
            for task in {sheet.task.key: sheet.task for sheet in new}.values():
                if sheets.load_task(self._db, task.key) is None:
                    sheets.store_task(self._db, task, now)
            return sheets.store_sheets(self._db, new, now, expected)

    def sheets(self, task_key: str) -> tuple[Sheet, ...]:
        """The sheets of a task in the order of issue; none when it was not issued."""
        with self._reading():
            return sheets.load_sheets(self._db, task_key, self._questions)

    def sheet(self, code: str) -> Sheet | None:
        """The sheet of this code, or None."""
        with self._reading():
            return sheets.load_sheet(self._db, code, self._questions)

    def sheet_codes(self) -> tuple[tuple[str, str], ...]:
        """The code of every sheet with that of its student, task by task in the order of issue."""
        with self._reading():
            return sheets.codes_of_students(self._db)

    def expected(self, task_key: str) -> dict[str, dict[str, float]]:
        """The right results (SI) that were worked out at issue, by sheet code and ask key."""
        with self._reading():
            return sheets.load_expected(self._db, task_key)

    def add_returns(self, new: Sequence[Return], now: datetime, sha256: Mapping[str, str] | None = None) -> int:
        """Store returns as received; how many were not there yet. See `take_in`."""
        return self.take_in(new, now, sha256 or {}).new

    def take_in(
        self, new: Sequence[Return], now: datetime, sha256: Mapping[str, str], source: Source = Source.UNKNOWN,
        again: bool = False,
    ) -> TakenIn:  # fmt: skip
        """Store returns as received, and let their answers count where none counts yet; none that counts is replaced.

        `sha256` gives the hash of a file by `Return.file`. A file that says what it said when it was last taken in
        changes nothing, unless it is taken in `again` on purpose. ProblemsFound for a sheet that was not issued.
        """
        with self.together():
            return returns.take_in(self._db, new, now, sha256, source, again)

    def returns(self, task_key: str, sheet: str | None = None) -> tuple[Return, ...]:
        """For every sheet of a task that came back, or for one, the entries that count, as one return, in the order of
        issue."""
        with self._reading():
            return returns.standing_returns(returns.load_returns(self._db, task_key, sheet))

    def all_returns(self, task_key: str, sheet_code: str | None = None) -> tuple[StoredReturn, ...]:
        """Every return of a task, or of one sheet, with when it was received and for which answers it counts."""
        with self._reading():
            return returns.load_returns(self._db, task_key, sheet_code)

    def notes(self, task_key: str, sheet: str | None = None) -> tuple[Noted, ...]:
        """What students wrote to the teacher with their answers to a task, in the order of issue; or with one sheet."""
        return returns.notes_in(self.all_returns(task_key, sheet))

    def differences(self, task_key: str) -> tuple[Difference, ...]:
        """The entries that differ from those that count, where no teacher has decided yet."""
        with self._reading():
            return counting.differences(self._db, task_key)

    def choose_return(
        self, sheet_code: str, number: int, who: str, why: str, now: datetime, asks: Sequence[str] | None = None
    ) -> bool:
        """Let a stored return (by its `number`) count for some answers (ask keys), or alone for all; False when it does
        already.

        ProblemsFound without a name or reason, KeyError for no such return. Marks change at the next marking.
        """
        with self.together():
            return counting.choose(self._db, sheet_code, number, asks, who, why, now)

    def keep_file(self, data: bytes) -> str:
        """Keep a file as it was received, once for each content; its SHA-256."""
        with self.together():
            return kept_files.keep(self._db, data)

    def kept_file(self, sha256: str) -> bytes | None:
        """A file as it was received; None where it was not kept."""
        with self._reading():
            return kept_files.load(self._db, sha256)

    def set_outcomes(
        self, task_key: str, marked: Outcomes, now: datetime, reason: str, who: str = "witnessmark"
    ) -> tuple[Change, ...]:
        """Store the machine's proposals, with the reason for the journal; what changed.

        The outcomes of a sheet replace those it had; a teacher's mark stays. The same outcomes again change nothing.
        KeyError for a sheet of another task, ValueError without a reason, or for marks outside 0 to `out_of`.
        """
        if not reason.strip():
            raise ValueError("marks change for a reason")
        with self.together():
            return outcomes.store_outcomes(self._db, task_key, marked, now, reason, who)

    def changes(self, task_key: str, marked: Outcomes) -> tuple[Change, ...]:
        """What `set_outcomes` would change, without changing it."""
        with self._reading():
            return outcomes.changes(self._db, task_key, marked)

    def proposals(self, task_key: str, sheet: str | None = None) -> dict[str, dict[str, Outcome]]:
        """The machine's own outcomes of a task, or of one sheet of it, by sheet code and ask key."""
        with self._reading():
            return outcomes.load_proposals(self._db, task_key, sheet)

    def moderations(self, task_key: str, sheet: str | None = None) -> dict[str, dict[str, Moderation]]:
        """The teacher's marks in a task, or on one sheet of it, by sheet code and ask key."""
        with self._reading():
            return moderation.load_moderations(self._db, task_key, sheet)

    def outcomes(self, task_key: str, sheet: str | None = None) -> dict[str, dict[str, Outcome]]:
        """The outcomes as they stand, of a task or of one sheet of it: the machine's, with the teacher's mark and a
        note where there is one."""
        with self._reading():
            return moderation.standing(self.proposals(task_key, sheet), self.moderations(task_key, sheet))

    def waiting(self, task_key: str) -> dict[str, dict[str, Outcome]]:
        """The outcomes that wait for the teacher as they stand, by sheet code and ask key; no others are read."""
        with self._reading():
            return outcomes.load_waiting(self._db, task_key)

    def task(self, task_key: str) -> TaskCounts | None:
        """A task with how many sheets of it there are, are marked, and how many answers wait; None for an unknown one.
        No sheet is read for it."""
        with self._reading():
            task = sheets.load_task(self._db, task_key)
            if task is None:
                return None
            marked, waiting = outcomes.count_marked(self._db, task_key), outcomes.count_waiting(self._db, task_key)
            return TaskCounts(task, sheets.count_sheets(self._db, task_key), marked, waiting)

    def moderate(
        self, sheet_code: str, ask_key: str, marks: Decimal, who: str, why: str, now: datetime, say: str = "",
        criteria: tuple[Decimal, ...] = (),
    ) -> Moderation:  # fmt: skip
        """Set the teacher's mark of one answer, with what is written for the student and the marks of each criterion.

        ProblemsFound for marks that the part does not give, or no reason.
        """
        given = Given(marks, who, why, say, criteria)
        with self.together():
            return moderation.store_moderation(self._db, sheet_code, ask_key, given, now)

    def withdraw(self, sheet_code: str, ask_key: str, who: str, why: str, now: datetime) -> bool:
        """Take a teacher's mark back, so that the machine's stands; False when there was none."""
        with self.together():
            return moderation.withdraw_moderation(self._db, sheet_code, ask_key, who, why, now)

    def accepted(self, task_key: str) -> tuple[Acceptance, ...]:
        """The slips that a teacher accepted for a task after it was issued; its sheets are marked with them."""
        with self._reading():
            return acceptance.load_accepted(self._db, task_key)

    def accept(self, task_key: str, slip: AcceptedSlip, who: str, why: str, now: datetime) -> Acceptance:
        """Keep a slip for a task. ProblemsFound without a name or reason. Marks change at the next `set_outcomes`."""
        with self.together():
            return acceptance.store_accepted(self._db, task_key, slip, who, why, now)

    def drop(self, task_key: str, slip: AcceptedSlip, who: str, why: str, now: datetime) -> bool:
        """Take an accepted slip back; False when it was not accepted. Marks change at the next `set_outcomes`."""
        with self.together():
            return acceptance.drop_accepted(self._db, task_key, slip, who, why, now)

    def visits(self) -> tuple[Visit, ...]:
        """What was done on visits, in the order of days."""
        with self._reading():
            return visits.load_visits(self._db)

    def add_visits(self, new: Sequence[Visit], now: datetime) -> None:
        """Keep what was done on a visit. ProblemsFound without a name."""
        with self.together():
            visits.store_visits(self._db, new, now)

    def corrections(self, task_key: str) -> tuple[Correction, ...]:
        """What a teacher corrected in the questions of a task after it was issued."""
        with self._reading():
            return corrections.load_corrections(self._db, task_key)

    def correct(self, task_key: str, correction: Correction, told: str, who: str, why: str, now: datetime) -> None:
        """Keep a correction, in words too. ProblemsFound without a name or reason. Marks change at `set_outcomes`."""
        with self.together():
            corrections.store_correction(self._db, task_key, correction, told, who, why, now)

    def change_rules(self, task: Task, who: str, why: str, now: datetime) -> None:
        """Let an issued task be marked by other rules. Marks change at the next `set_outcomes`."""
        with self.together():
            corrections.store_rules(self._db, task, who, why, now)

    def journal(
        self, task_key: str | None = None, sheet_code: str | None = None, ask_key: str | None = None
    ) -> tuple[JournalRow, ...]:
        """What happened, in order: all of it, or of one task, sheet or ask."""
        with self._reading():
            return journal.rows(self._db, task_key, sheet_code, ask_key)

    def journal_of(self, sheet: Sheet) -> tuple[JournalRow, ...]:
        """What happened to a sheet, to its task as a whole, and to its student, in order."""
        with self._reading():
            return journal.rows_about(self._db, sheet.task.key, sheet.code, sheet.student.code)

    def verify(self) -> tuple[Problem, ...]:
        """Every fault: links of the journal, marks against it, sheets, returns, stored texts that cannot be read."""
        with self._reading():
            return verifying.problems(self._db, self.path, self._make)

    def mentions(self, texts: Sequence[str]) -> int:
        """How many rows of the journal hold one of these texts, as a word of its own."""
        named = re.compile("|".join(rf"(?<![\w-]){re.escape(text)}(?![\w-])" for text in texts if text))
        return sum(bool(named.search(f"{row.why} {row.detail} {row.who}")) for row in self.journal())

    def head(self) -> str:
        """The last link of the journal, which stands for all of it (64 hexadecimal digits)."""
        with self._reading():
            return chain.head(self._db)

    def counts(self) -> Counts:
        """How much there is of each kind."""
        with self._reading():
            tables = ("sheets", "returns", "outcomes", "journal")
            return Counts(*(self._db.execute(f"SELECT count(*) FROM {t}").fetchone()[0] for t in tables))  # noqa: S608

    def totals(self, task_key: str) -> dict[str, str]:
        """The marks that stand of every sheet that has some, added up, by sheet code."""
        standing = self.outcomes(task_key)
        return {code: str(sum((o.marks for o in asks.values()), Decimal(0))) for code, asks in standing.items()}

    def links(self) -> frozenset[str]:
        """Every link of the journal's chain."""
        with self._reading():
            return frozenset(link for (link,) in self._db.execute("SELECT link FROM chain"))

    def tell_of_restoring(self, copy: str, now: datetime) -> None:
        """A row that says which copy this record was made from."""
        with self.together():
            about, why = journal.About(), "a copy was put in the place of the record"
            journal.write(self._db, now, Event.RESTORED, why, about, detail=copy)

    def remove_student(self, code: str, now: datetime, who: str = "") -> Removed:
        """Remove all data of one student; the journal keeps a row that counts and names no student.

        Files outside the record, and the line in students.csv, are not touched.
        """
        with self.together():
            removed = removal.remove_student(self._db, code, who, now)
        with told(self.path):
            if removed.journal_rows:
                self._db.execute("VACUUM")
        return removed

    def export_jsonl(self, names: bool = False) -> Iterator[str]:
        """The whole record as lines of JSON; students by code alone unless `names` is set."""
        with self._reading():
            return iter(tuple(export.lines(self._db, names)))

    def export_student(self, code: str) -> tuple[str, ...]:
        """What is held of one student as lines of JSON, with the name; others who are named in it are left out."""
        with self._reading():
            return tuple(export_student.lines(self._db, code))
