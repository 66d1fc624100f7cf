"""The job `check` on a class: whether its record holds what it says, and whether its folder lies well."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.class_folder.folder import CLASS
from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.jobs.opened import RECORD, open_class
from witnessmark.record import copies
from witnessmark.words.problems import Problem

LINK_SHOWN = 12


@dataclass(frozen=True, slots=True)
class Verified:
    """What was looked at in a class, every fault, what is only to be known, and the beginning of the journal's last
    link: the same as long as nothing happened."""

    folder: Path
    sheets: int
    marks: int
    journal_rows: int
    copies: int
    seal: str
    problems: tuple[Problem, ...]
    notes: tuple[Problem, ...]


def is_class(source: Path) -> bool:
    """True of a class folder."""
    return (source / CLASS).is_file()


def verify(class_path: Path) -> Verified:
    """Look through the record of a class and its copies; raises ProblemsFound where it cannot be opened at all."""
    opened = open_class(class_path)
    notes = whereabouts(class_path)
    if not (class_path / RECORD).is_file():
        return Verified(class_path, 0, 0, 0, 0, "", (), notes)
    with opened.record() as record:
        faults = record.verify()
        counts = record.counts()
        if not faults:
            faults = tuple(copies.faults(record))
        return Verified(
            class_path, counts.sheets, counts.marks, counts.journal_rows, len(copies.copies_of(record.path)),
            record.head()[:LINK_SHOWN], (*record.warnings, *faults), notes,
        )  # fmt: skip
