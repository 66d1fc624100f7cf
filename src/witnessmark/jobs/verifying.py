"""The job `check` on a class: whether its record holds what it says, and whether its folder lies well."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isclose
from pathlib import Path

from witnessmark.files.class_folder.folder import CLASS
from witnessmark.files.class_folder.whereabouts import whereabouts
from witnessmark.jobs.opened import RECORD, open_class
from witnessmark.questions.sheet.task import Sheet
from witnessmark.record import copies
from witnessmark.record.record import Record
from witnessmark.words.problems import Place, Problem

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
    notes: tuple[Problem, ...] = whereabouts(class_path)
    if not (class_path / RECORD).is_file():
        return Verified(class_path, 0, 0, 0, 0, "", (), notes)
    with opened.record() as record:
        faults = record.verify()
        counts = record.counts()
        notes = (*notes, *_worked_otherwise(record, class_path)) if not faults else notes
        if not faults:
            faults = tuple(copies.faults(record))
        return Verified(
            class_path, counts.sheets, counts.marks, counts.journal_rows, len(copies.copies_of(record.path)),
            record.head()[:LINK_SHOWN], (*record.warnings, *faults), notes,
        )  # fmt: skip


def _worked_otherwise(record: Record, class_path: Path) -> Iterator[Problem]:
    """Sheets whose right results this program works out otherwise than the one that issued them."""
    for task in record.tasks():
        if record.corrections(task):
            continue
        issued, now = record.expected(task), {sheet.code: expected_now(sheet) for sheet in record.sheets(task)}
        other = [code for code, results in issued.items() if not _same(results, now[code])]
        if other:
            expected, found = "the right results that were worked out at issue", f"others: {', '.join(other)}"
            remedy = "look at one of them with witnessmark explain before the task is marked again"
            yield Problem("results-changed", Place(str(class_path)), expected, found, remedy)


def expected_now(sheet: Sheet) -> dict[str, float]:
    """The right results (SI) of a sheet by ask key, as this program works them out."""
    return {f"{n}.{key}": x for n, variant in enumerate(sheet.variants, 1) for key, x in variant.expected_si.items()}


def _same(issued: Mapping[str, float], now: Mapping[str, float]) -> bool:
    """True where both have the same results, but for the last digits of the arithmetic."""
    return issued.keys() == now.keys() and all(isclose(x, now[key], rel_tol=1e-9) for key, x in issued.items())
