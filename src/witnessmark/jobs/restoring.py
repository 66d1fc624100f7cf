"""The job `restore`: the copies of a record, and one of them put in its place."""

import shutil
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from witnessmark.files.bank.question_text import question_from_bundle
from witnessmark.jobs.opened import RECORD, alone
from witnessmark.record import copies
from witnessmark.record.copies import Copy
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Restored:
    """The copies that there are, which of them was put in the record's place (None: they were only listed), and where
    what was there before is kept."""

    folder: Path
    copies: tuple[Copy, ...]
    restored: Copy | None = None
    before: Path | None = None


def listed(class_path: Path) -> Restored:
    """The copies of a class's record, oldest first."""
    return Restored(class_path, copies.copies_of(class_path / RECORD))


def restore(class_path: Path, name: str, now: datetime) -> Restored:
    """Put a copy in the place of the record, after a copy of what is there; raises ProblemsFound for an unknown one.

    A record that is too damaged to be copied is kept as the file that it is.
    """
    with alone(class_path, "restore"):
        record = class_path / RECORD
        there = copies.copies_of(record)
        wanted = next((copy for copy in there if name in (copy.name, copy.path.name)), None)
        if wanted is None:
            names = ", ".join(copy.name for copy in there) or "there are none"
            raise ProblemsFound([Problem("no-copy", Place(str(class_path)), "the name of a copy", f"'{name}'", names)])
        before = _kept(record, now)
        copies.restore(record, wanted, question_from_bundle, now)
        return Restored(class_path, copies.copies_of(record), wanted, before)


def _kept(record: Path, now: datetime) -> Path | None:
    try:
        made = copies.keep_copy(record, "restore", now)
    except ProblemsFound:
        beside = record.parent / copies.FOLDER / copies.DAMAGED
        beside.parent.mkdir(exist_ok=True)
        shutil.copyfile(record, beside)
        return beside
    return made.path if made else None
