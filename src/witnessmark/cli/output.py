"""How the command line shows results: as sentences with paths, or as JSON; problems go to standard error."""

from __future__ import annotations

import gc
import io
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TextIO

import click

from witnessmark.cli.accept_lines import accepted_data, accepted_lines, shared_lines
from witnessmark.cli.check_lines import data_of, lines_of
from witnessmark.cli.correct_lines import corrected_data, corrected_lines
from witnessmark.cli.explained import explained_data, explained_lines
from witnessmark.cli.moderate_lines import file_data, file_lines, waiting_line
from witnessmark.cli.record_lines import (
    history_data,
    history_lines,
    restored_data,
    restored_lines,
    undone_data,
    undone_lines,
    verified_data,
    verified_lines,
)
from witnessmark.cli.removed_lines import removed_data, removed_lines
from witnessmark.cli.returns_lines import (
    chosen_data,
    chosen_lines,
    listed_data,
    listed_lines,
    marked_data,
    marked_lines,
)
from witnessmark.cli.stale_lines import stale_lines
from witnessmark.cli.teaching_lines import (
    followed_up_data,
    followed_up_lines,
    planned_data,
    planned_lines,
    visited_data,
    visited_lines,
    visits_data,
    visits_lines,
)
from witnessmark.cli.trial_lines import trial_data, trial_lines
from witnessmark.cli.words import counted
from witnessmark.documents.page.signs import on_screen

if TYPE_CHECKING:
    from witnessmark.jobs.accepting import Accepted
    from witnessmark.jobs.authoring import Begun
    from witnessmark.jobs.checking import Checked
    from witnessmark.jobs.correcting import TaskCorrected
    from witnessmark.jobs.counting import Chosen
    from witnessmark.jobs.demonstrating import Demonstrated
    from witnessmark.jobs.explaining import AnswerExplained
    from witnessmark.jobs.exporting import Exported
    from witnessmark.jobs.following_up import FollowedUp
    from witnessmark.jobs.issuing import Issued
    from witnessmark.jobs.listing_returns import ReturnsListed
    from witnessmark.jobs.marking import Marked
    from witnessmark.jobs.moderating import Moderated
    from witnessmark.jobs.moderating_file import FileModerated
    from witnessmark.jobs.planning import Planned
    from witnessmark.jobs.previewing import Previewed
    from witnessmark.jobs.removing import Removal
    from witnessmark.jobs.restoring import Restored
    from witnessmark.jobs.returning import Returned, Waiting
    from witnessmark.jobs.reviewing import Reviewed
    from witnessmark.jobs.starting import Started
    from witnessmark.jobs.telling_history import History
    from witnessmark.jobs.trying import Tried
    from witnessmark.jobs.undoing import TakenBack
    from witnessmark.jobs.verifying import Verified
    from witnessmark.jobs.visiting import Visited, VisitsWritten
    from witnessmark.words.faults import Fault
    from witnessmark.words.problems import Problem


DEBUG = "witnessmark.debug"
NOT_WRITTEN = "the others are written; a file of that name is an earlier one. --debug shows where; please report it"
SET_ASIDE = "it waits for you as unreadable, the others are marked. --debug shows where; please report it"
NOT_SEARCHED = "the other answers were searched. --debug shows where; please report it"
NOT_LOOKED_AT = "the other questions were looked at. --debug shows where; please report it"
REPORT = "--debug shows where in the program; please report it"


class Bar(Protocol):
    """What is used of click's progress bar, whose own type is private."""

    pos: int

    def update(self, n_steps: int) -> None:
        """So much more is done."""

    def render_finish(self) -> None:
        """The bar is left as it is."""


@dataclass(slots=True)
class Shown:
    """Prints the results of one command; remembers whether problems were found."""

    command: str
    as_json: bool
    problems: int = 0
    _bar: Bar | None = None
    _doing: str = ""

    def progress(self, what: str, done: int, total: int) -> None:
        """A progress bar on standard error, where a person watches."""
        if self.as_json or not sys.stderr.isatty():
            return
        if self._bar is None or self._doing != what:
            self._doing, self._bar = what, click.progressbar(length=total, label=what, file=sys.stderr)
        self._bar.update(done - self._bar.pos)
        if done >= total:
            self._bar.render_finish()

    def say(self, data: Mapping[str, object], lines: Sequence[str]) -> None:
        """The result: `data` for machines or `lines` for people."""
        if self.as_json:
            told = {"command": self.command, **data}
            click.echo(json.dumps(told, indent=1, ensure_ascii=not _takes_all_signs(sys.stdout), default=str))
        else:
            for line in lines:
                click.echo(on_screen(line))

    def list_problems(self, problems: Sequence[Problem]) -> None:
        """Every problem, a line each, on standard error."""
        self.problems += len(problems)
        if not self.as_json:
            for problem in problems:
                click.echo(on_screen(str(problem)), err=True)

    def list_faults(self, faults: Sequence[Fault], expected: str, remedy: str) -> dict[str, object]:
        """Every fault as a problem, with its trace where that is asked for; the same as data."""
        problems = [fault.problem(expected, remedy) for fault in faults]
        self.list_problems(problems)
        if not self.as_json and _debugs():
            for fault in faults:
                click.echo(fault.trace, err=True)
        told = [{"problem": str(p), "trace": f.trace} for p, f in zip(problems, faults, strict=True)]
        return {"faults": told} if told else {}

    def failed(self, said: str) -> None:
        """A command that could not do its work, with the reason."""
        self.problems += 1
        if self.as_json:
            self.say({"problems": [said]}, [])
        else:
            click.echo(on_screen(said), err=True)

    def list_notes(self, notes: Sequence[Problem]) -> dict[str, object]:
        """What is to be known and stops nothing, a line each on standard error; the same as data."""
        if not self.as_json:
            for note in notes:
                click.echo(on_screen(f"note: {note}"), err=True)
        return {"notes": [str(note) for note in notes]} if notes else {}

    def exported(self, done: Exported) -> None:
        """The result of `export`."""
        named = "with names" if done.names else "without names"
        data = {"file": done.file, "lines": done.lines, "names": done.names}
        self.say(data, [f"{counted(done.lines, 'line')} written, {named}", *_paths([done.file])])

    def begun(self, done: Begun) -> None:
        """The result of `new`."""
        steps = [f"  {step}" for step in done.next_steps]
        self.say({"file": done.file}, [f"Wrote {done.file}. Next:", *steps])

    def previewed(self, done: Previewed) -> None:
        """The result of `preview`."""
        found = done.report
        counts = f"{found.key}: {done.variants} of {found.issuable} variants shown"
        remarks = [str(remark) for remark in found.remarks]
        data = {"file": done.file, "variants": done.variants, "remarks": remarks}
        self.say(data, [counts, *remarks, *_paths([done.file])])

    def checked(self, done: Checked) -> None:
        """The result of `check`."""
        self.list_problems(done.problems)
        data = [data_of(report) for report in done.questions]
        notes = [str(note) for note in done.notes]
        remarks = sum(len(r.remarks) for r in done.questions)
        counts = {"question": len(done.questions), "problem": len(done.problems), "note": len(notes), "remark": remarks}
        said = ", ".join(counted(count, what) for what, count in counts.items())
        problems = [str(problem) for problem in done.problems]
        told = {"questions": data, "notes": notes, "problems": problems}
        told |= self.list_faults(done.faults, "a question that can be looked at", NOT_LOOKED_AT)
        self.say(told, [*lines_of(done), *notes, said])

    def tried(self, done: Tried) -> None:
        """The result of `trial`."""
        self.say(trial_data(done), trial_lines(done))

    def started(self, done: Started) -> None:
        """The result of `start`."""
        notes = self.list_notes(done.notes)
        self.say(
            {"files": done.files} | notes, ["Started the class. Next:", *(f"  {step}" for step in done.next_steps)]
        )

    def issued(self, done: Issued) -> None:
        """The result of `issue`."""
        counts = f"{counted(len(done.new), 'sheet')} issued now, {len(done.before)} before"
        data: dict[str, object] = {
            "new": [s.code for s in done.new],
            "before": [s.code for s in done.before],
            "files": done.files,
            "kept": [{"file": one.path, "fresh": one.fresh} for one in done.kept],
        }
        data |= self.list_faults(done.faults, "a document", NOT_WRITTEN) | self.list_notes(done.notes)
        kept = [f"kept, since it differs from what was written, {one.path}: fresh as {one.fresh}" for one in done.kept]
        self.say(data, [f"{done.task.title}: {counts}", *_paths(done.files), *kept])

    def marked(self, done: Marked) -> None:
        """The result of `mark`."""
        self.list_problems(done.problems)
        data = dict(marked_data(done))
        data |= self.list_faults(done.faults, "an entry that can be marked", SET_ASIDE) | self.list_notes(done.notes)
        self.say(data, marked_lines(done))

    def listed(self, done: ReturnsListed) -> None:
        """The result of `returns`."""
        self.say(listed_data(done), listed_lines(done))

    def chosen(self, done: Chosen) -> None:
        """The result of `counts`."""
        self.say(chosen_data(done), chosen_lines(done))

    def moderated(self, done: Moderated) -> None:
        """The result of `moderate`."""
        data = {"sheet": done.sheet, "answer": done.label, "machine": str(done.machine), "marks": str(done.marks),
                "stale": done.stale}  # fmt: skip
        kept = f"the machine's {done.machine} is kept beside it"
        self.say(data, [f"{done.sheet} {done.label}: {done.marks} marks now, {kept}", *stale_lines(done.stale)])

    def file_moderated(self, done: FileModerated) -> None:
        """The result of `moderate` with a file."""
        self.list_problems(done.problems)
        self.say(file_data(done), file_lines(done))

    def explained(self, done: AnswerExplained) -> None:
        """The result of `explain`."""
        self.say(explained_data(done), explained_lines(done))

    def waits(self, waiting: Waiting) -> None:
        """What `return` says before it writes."""
        if waiting.answers and not self.as_json:
            click.echo(on_screen(waiting_line(waiting)))

    def returned(self, done: Returned, waits: Waiting) -> None:
        """The result of `return`."""
        data: dict[str, object] = {
            "sheets": len(done.sheets), "feedback": done.feedback, "gradebook": done.gradebook,
            "waiting": {"answers": waits.answers, "students": waits.students, "unmarked": waits.unmarked},
            "kept": [{"file": one.path, "fresh": one.fresh} for one in done.kept],
        }  # fmt: skip
        data |= self.list_faults(done.faults, "a document", NOT_WRITTEN)
        said = f"{counted(len(done.sheets), 'feedback sheet')} and the gradebook"
        kept = [f"kept, since you typed into it, {one.path}: fresh as {one.fresh}" for one in done.kept]
        self.say(data, [said, *_paths([done.feedback, done.gradebook]), *kept])

    def reviewed(self, done: Reviewed) -> None:
        """The result of `review`."""
        found = done.review
        counts = f"{found.returned} of {found.issued} returned, in the in-tray: {counted(len(found.in_tray), 'answer')}"
        top = [f"  {counted(len(r.students), 'student'):12} {r.misconception.key}" for r in found.recurrences[:5]]
        methods = [{"answer": m.label, "number": m.number, "entry": m.entry, "students": [w.student for w in m.who],
                    "log_odds": m.log_odds, "accidental": m.accidental} for m in found.searched.shared]  # fmt: skip
        data = {"page": done.page, "data": done.data, "shared": methods}
        data |= self.list_faults(found.searched.faults, "a search for shared methods", NOT_SEARCHED)
        self.say(data, [counts, *top, *shared_lines(done), *_paths([done.page, done.data])])

    def accepted(self, done: Accepted) -> None:
        """The result of `accept`."""
        self.say(accepted_data(done), accepted_lines(done))

    def visits_written(self, done: VisitsWritten) -> None:
        """The result of `visits`."""
        faults = self.list_faults(done.faults, "a document", NOT_WRITTEN)
        self.say({**visits_data(done), **faults}, visits_lines(done))

    def visit_kept(self, done: Visited) -> None:
        """The result of `visited`."""
        self.say(visited_data(done), visited_lines(done))

    def followed_up(self, done: FollowedUp) -> None:
        """The result of `follow-up`."""
        faults = self.list_faults(done.faults, "a document", NOT_WRITTEN)
        self.say({**followed_up_data(done), **faults}, followed_up_lines(done))

    def planned(self, done: Planned) -> None:
        """The result of `plan`."""
        self.say(planned_data(done), planned_lines(done))

    def corrected(self, done: TaskCorrected) -> None:
        """The result of `correct`."""
        self.say(corrected_data(done), corrected_lines(done))

    def verified(self, done: Verified) -> None:
        """The result of `check` on a class."""
        self.list_problems(done.problems)
        self.say(verified_data(done), [*(str(note) for note in done.notes), *verified_lines(done)])

    def told(self, done: History) -> None:
        """The result of `history`."""
        self.say(history_data(done), history_lines(done))

    def undone(self, done: TakenBack) -> None:
        """The result of `undo`."""
        self.say(undone_data(done), undone_lines(done))

    def restored(self, done: Restored) -> None:
        """The result of `restore`."""
        self.say(restored_data(done), restored_lines(done))

    def removed(self, done: Removal) -> None:
        """The result of `remove`."""
        self.say(removed_data(done), removed_lines(done))

    def demonstrated(self, done: Demonstrated) -> None:
        """The result of `demo`."""
        self.list_problems(done.problems)
        self.problems = 0
        self.say({"files": done.files}, [*done.story, "Open:", *_paths(done.files)])


def _paths(files: Sequence[Path]) -> list[str]:
    return [f"  {path}" for path in files]


def remember_debug(context: click.Context, _option: click.Parameter, asked: bool) -> None:
    """Keep for the time of a command that traces of faults are shown."""
    context.meta[DEBUG] = asked


def _debugs() -> bool:
    context = click.get_current_context(silent=True)
    return bool(context and context.meta.get(DEBUG))


def _takes_all_signs(stream: TextIO) -> bool:
    return "utf" in (stream.encoding or "").lower()


def _never_refuse() -> None:
    """Let a terminal that knows few signs show the numbers of others, instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _collect_garbage() -> None:
    """From here on, where the start put it off, and only of what is made from here on: what was loaded stays."""
    if not gc.isenabled():
        gc.freeze()
        gc.enable()


def run(command: str, as_json: bool, act: Callable[[Shown], None]) -> None:
    """Run a command: exit code 1 with every problem shown when a person's files cannot be used."""
    from witnessmark.words.errors import ProblemsFound, WitnessMarkError
    from witnessmark.words.faults import fault
    from witnessmark.words.problems import Place, Problem

    _collect_garbage()
    _never_refuse()
    shown = Shown(command, as_json)
    try:
        act(shown)
    except ProblemsFound as error:
        shown.list_problems(error.problems)
        shown.say({"problems": [str(p) for p in error.problems]}, [])
    except WitnessMarkError as error:
        shown.failed(str(error))
    except BrokenPipeError:  # whoever read what was said has gone; what was done is done
        sys.stdout = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115 - until the process ends
    except OSError as error:
        where = error.filename if isinstance(error.filename, str) else ""
        place = Place(where or command)
        remedy = "look whether it is there, whether you may use it and whether the disk is full"
        expected = "a place that can be read and written"
        shown.failed(str(Problem("system", place, expected, error.strerror or type(error).__name__, remedy)))
    except Exception as error:  # noqa: BLE001 - a fault of the program is told in a sentence, with its trace on request
        shown.say(shown.list_faults([fault(error, Place(command))], "no fault of the program", REPORT), [])
    if shown.problems:
        sys.exit(1)
