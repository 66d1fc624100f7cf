"""The files that a job writes, while they are made: one that cannot be made is a fault, and the others go on."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark.files.class_folder.typed_into import Sparing, sha256_of, sparing
from witnessmark.files.safe.atomic import Stage
from witnessmark.questions.sheet.task import Sheet, Student
from witnessmark.words.faults import Fault, attempt
from witnessmark.words.problems import Place

WORKBOOK = ".xlsx"


def gradebook_name(task_key: str) -> str:
    """The file of a task's gradebook, in the class folder."""
    return f"gradebook-{task_key}.xlsx"


def review_names(task_key: str) -> tuple[str, str]:
    """The files of a task's review, in the class folder: the page, and the same as data."""
    return f"review-{task_key}.html", f"review-{task_key}.json"


def file_name(sheet: Sheet) -> str:
    """What a sheet's files are called: the student's code, and the attempt beside a further one. No code has a dot."""
    return file_name_of(sheet.student.code, sheet.attempt)


def file_name_of(student: str, attempt: int) -> str:
    """The same, of a sheet of which only the student's code and the attempt are known."""
    return student if attempt == 1 else f"{student}.attempt-{attempt}"


def as_file_name(text: str) -> str:
    """A text such as the name of a group as part of the name of a file: `Quay-Lane-Boats`."""
    return re.sub(r"[^\w-]+", "-", text).strip("-")


@dataclass(slots=True)
class Documents:
    """Finished files by name, and the faults of those that could not be made."""

    files: dict[str, bytes] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def add(self, name: str, make: Callable[[], bytes], student: Student | None = None) -> None:
        """Make one file; the fault of one that fails names the student whose it is."""
        whose = f"{name} ({student.code} {student.name})" if student else name
        made = attempt(make, Place(whose))
        if isinstance(made, Fault):
            self.faults.append(made)
        else:
            self.files[name] = made


@dataclass(slots=True)
class Arriving:
    """Finished files that are written as they come, into a stage; of workbooks, which people type into, the SHA-256 is
    kept, so that none that was typed into is overwritten in the end."""

    folder: Path
    stage: Stage
    faults: list[Fault] = field(default_factory=list)
    books: dict[str, str] = field(default_factory=dict)

    def take(self, made: Documents) -> None:
        """Write files that were made."""
        self.faults.extend(made.faults)
        for name, data in made.files.items():
            self.stage.add(name, data)
            if name.endswith(WORKBOOK):
                self.books[name] = sha256_of(data)

    def carry_out(self, needs: Sequence[str] = (), store: Callable[[], object] | None = None) -> Sparing:
        """Put all under their names, a fresh workbook beside one that was typed into."""
        spared = sparing(self.folder, self.books)
        for name, data in spared.listed.items():
            self.stage.add(name, data)
        self.stage.carry_out(spared.names, needs, store)
        return spared
