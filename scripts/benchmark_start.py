"""How long the start takes: of `--help`, of what `mark` imports, of `mark` on the books of a class of 25.

Run with `python scripts/benchmark_start.py [RUNS [BOOKS]]` (9 runs, 25 books; no books: help and imports alone). Times
are seconds of the processor, the least of the runs, which take turns; each is told as a multiple of the same Python
doing nothing. Modules are compiled before, as an installer leaves them, whatever PYTHONDONTWRITEBYTECODE says.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

HELP_LIMIT = 5.0
IMPORT_SECONDS = 0.9
MARK_SECONDS = 2.0
RUNS, BOOKS = 9, 25
NOTHING = "pass"
HELP = "import sys; from witnessmark.cli.entry import main; sys.argv = ['witnessmark', '--help']; main()"
IMPORTS = (
    "from witnessmark.cli.entry import load_lightly; load_lightly()"
    "; import witnessmark.cli.main, witnessmark.jobs.marking"
)
MARK = "import sys; from witnessmark.cli.entry import main; sys.argv = ['witnessmark', 'mark', {!r}, 'big']; main()"


@dataclass(frozen=True, slots=True)
class Timed:
    """A program text to run, and what is done before each run, which is not timed."""

    text: str
    before: Callable[[], object] = lambda: None


def processor_seconds(text: str, environment: Mapping[str, str]) -> float:
    """Seconds of the processor that a fresh Python, and what it starts and waits for, takes for a text."""
    process = subprocess.Popen(
        [sys.executable, "-c", text], env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    said = process.stderr.read() if process.stderr else b""
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        raise SystemExit(f"{text} ended with {process.returncode}:\n{said.decode()}")
    return used.ru_utime + used.ru_stime


def least(what: Sequence[Timed], runs: int, compiled: Path) -> list[float]:
    """The least seconds of each; they take turns, so that a busy machine slows them alike."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment |= {"PYTHONPYCACHEPREFIX": str(compiled), "COLUMNS": "80"}
    rounds = []
    for _ in range(runs + 1):
        row = []
        for one in what:
            one.before()
            row.append(processor_seconds(one.text, environment))
        rounds.append(row)
    return [min(column) for column in zip(*rounds[1:], strict=True)]  # the first compiled the modules


def handed_in_class(folder: Path, books: int) -> Timed:
    """The marking of a class's books, the class each time as it was before."""
    from benchmark_class import NOW, handed_in, prepared  # loads all that is not to be loaded by the rest
    from witnessmark.jobs.crew import one_hand
    from witnessmark.jobs.issuing import issue

    kept, used = folder / "kept", folder / "used"
    prepared(kept, books)
    issue(kept, "big", NOW, crew=one_hand)
    handed_in(kept)

    def anew() -> None:
        shutil.rmtree(used, ignore_errors=True)
        shutil.copytree(kept, used)

    return Timed(MARK.format(str(used)), anew)


def main(arguments: Sequence[str]) -> int:
    """Prints seconds and multiples; 1 where a limit is missed."""
    runs, books = (*map(int, arguments), *(RUNS, BOOKS)[len(arguments) :])
    with tempfile.TemporaryDirectory() as temporary:
        what = [Timed(NOTHING), Timed(HELP), Timed(IMPORTS)]
        if books:
            what.append(handed_in_class(Path(temporary), books))
        nothing, help_page, imports, *marks = least(what, runs, Path(temporary) / "compiled")
    print(f"python -c pass      {nothing * 1000:7.1f} ms  (least of {runs}, processor)")
    print(f"witnessmark --help  {help_page * 1000:7.1f} ms  ratio {help_page / nothing:6.2f} (limit {HELP_LIMIT:g})")
    shown = f"{imports * 1000:7.1f} ms  ratio {imports / nothing:6.2f}"
    print(f"imports of mark     {shown} (limit {IMPORT_SECONDS:g} s on a machine at rest)")
    for mark in marks:
        shown = f"{mark * 1000:7.1f} ms  ratio {mark / nothing:6.2f}"
        print(f"mark of {books} books    {shown} (limit {MARK_SECONDS:g} s, the same)")
    slow = imports > IMPORT_SECONDS or any(seconds > MARK_SECONDS for seconds in marks)
    return int(slow or round(help_page / nothing, 2) > HELP_LIMIT)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
