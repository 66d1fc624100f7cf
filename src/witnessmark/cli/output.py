"""How the command line shows results: as sentences with paths, or as JSON; problems go to standard error."""

import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click


@dataclass(slots=True)
class Shown:
    """Prints the results of one command; remembers whether problems were found."""

    command: str
    as_json: bool
    problems: int = 0
    _bar: Any = None
    _doing: str = ""

    def progress(self, what: str, done: int, total: int) -> None:
        """A progress bar on standard error, where a person watches."""
        if self.as_json or not sys.stderr.isatty():
            return
        if self._doing != what:
            self._doing, self._bar = what, click.progressbar(length=total, label=what, file=sys.stderr)
        self._bar.update(done - self._bar.pos)
        if done >= total:
            self._bar.render_finish()

    def say(self, data: dict[str, Any], lines: Sequence[str]) -> None:
        """The result: `data` for machines or `lines` for people."""
        if self.as_json:
            click.echo(json.dumps({"command": self.command, **data}, indent=1, ensure_ascii=False, default=str))
        else:
            for line in lines:
                click.echo(line)

    def list_problems(self, problems: Sequence[Any]) -> None:
        """Every problem, a line each, on standard error."""
        self.problems += len(problems)
        if not self.as_json:
            for problem in problems:
                click.echo(str(problem), err=True)

    def checked(self, reports: Any) -> None:
        """The result of `check`."""
        data = [{"question": r.key, "topic": r.topic, "level": r.level, "variants": r.variants,
                 "issuable": r.issuable} for r in reports]  # fmt: skip
        lines = [f"{r.key:32} {r.topic:14} level {r.level}  {r.issuable:7} of {r.variants} variants can be issued"
                 + ("  (few)" if r.is_small else "") for r in reports]  # fmt: skip
        self.say({"questions": data}, [*lines, f"{len(reports)} questions, no problems"])

    def started(self, done: Any) -> None:
        """The result of `start`."""
        self.say({"files": done.files}, ["Started the class. Next:", *(f"  {step}" for step in done.next_steps)])

    def issued(self, done: Any) -> None:
        """The result of `issue`."""
        counts = f"{len(done.new)} sheets issued now, {len(done.before)} before"
        data = {"new": [s.code for s in done.new], "before": [s.code for s in done.before], "files": done.files}
        self.say(data, [f"{done.task.title}: {counts}", *_paths(done.files)])

    def marked(self, done: Any) -> None:
        """The result of `mark`."""
        self.list_problems(done.problems)
        counts = f"{done.taken_in} returns taken in, {len(done.outcomes)} of {len(done.sheets)} sheets marked"
        data = {"taken_in": done.taken_in, "marked": len(done.outcomes), "issued": len(done.sheets),
                "in_tray": done.waiting, "problems": [str(p) for p in done.problems]}  # fmt: skip
        self.say(data, [f"{counts}, {done.waiting} answers wait in the in-tray"])

    def moderated(self, done: Any) -> None:
        """The result of `moderate`."""
        data = {"sheet": done.sheet, "answer": done.label, "machine": str(done.machine), "marks": str(done.marks)}
        kept = f"the machine's {done.machine} is kept beside it"
        self.say(data, [f"{done.sheet} {done.label}: {done.marks} marks now, {kept}"])

    def returned(self, done: Any) -> None:
        """The result of `return`."""
        data = {"sheets": len(done.sheets), "feedback": done.feedback, "gradebook": done.gradebook}
        said = f"{len(done.sheets)} feedback sheets and the gradebook"
        self.say(data, [said, *_paths([done.feedback, done.gradebook])])

    def reviewed(self, done: Any) -> None:
        """The result of `review`."""
        found = done.review
        counts = f"{found.returned} of {found.issued} returned, {len(found.in_tray)} answers in the in-tray"
        top = [f"  {len(r.students):3} students: {r.misconception.key}" for r in found.recurrences[:5]]
        self.say({"page": done.page, "data": done.data}, [counts, *top, *_paths([done.page, done.data])])

    def removed(self, done: Any) -> None:
        """The result of `remove`."""
        said = f"{done.student}: {done.sheets} sheets and {len(done.files)} files removed. Look by hand for:"
        data = {"student": done.student, "sheets": done.sheets, "files": done.files, "by_hand": done.by_hand}
        self.say(data, [said, *(f"  {what}" for what in done.by_hand)])

    def demonstrated(self, done: Any) -> None:
        """The result of `demo`."""
        self.list_problems(done.problems)
        self.problems = 0
        self.say({"files": done.files}, [*done.story, "Open:", *_paths(done.files)])


def _paths(files: Sequence[Path]) -> list[str]:
    return [f"  {path}" for path in files]


def run(command: str, as_json: bool, act: Callable[[Shown], None]) -> None:
    """Run a command: exit code 1 with every problem shown when a person's files cannot be used."""
    from witnessmark.words.errors import ProblemsFound, WitnessMarkError

    shown = Shown(command, as_json)
    try:
        act(shown)
    except ProblemsFound as error:
        shown.list_problems(error.problems)
        shown.say({"problems": [str(p) for p in error.problems]}, [])
    except WitnessMarkError as error:
        shown.problems += 1
        if as_json:
            shown.say({"problems": [str(error)]}, [])
        else:
            click.echo(str(error), err=True)
    if shown.problems:
        sys.exit(1)
