"""The job `export`: the whole record of a class as lines of JSON, for other programs and for years to come; or what is
held of one student, for that student."""

import json
from dataclasses import asdict, dataclass
from pathlib import Path

from witnessmark.files.safe.atomic import write_file
from witnessmark.jobs.opened import open_class
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Exported:
    """The file that was written, how many lines it has, and whether it names students."""

    file: Path
    lines: int
    names: bool


def export(class_path: Path, file: Path, names: bool) -> Exported:
    """Write the record into a file, a line of JSON for each row; without `names`, students are codes alone."""
    with open_class(class_path).record() as record:
        lines = list(record.export_jsonl(names))
    return _written(file, lines, names)


def export_student(class_path: Path, file: Path, code: str) -> Exported:
    """Write what the class list and the record hold of one student into a file; nobody else is named in it.

    ProblemsFound for a code that neither knows.
    """
    opened = open_class(class_path)
    with opened.record() as record:
        lines = list(record.export_student(code))
    listed = [json.dumps({"kind": "student", **asdict(one)}) for one in opened.students if one.code == code]
    if not lines and not listed:
        raise ProblemsFound([Problem("no-student", Place(str(class_path)), "the code of a student", code)])
    return _written(file, [*listed, *lines], names=True)


def _written(file: Path, lines: list[str], names: bool) -> Exported:
    write_file(file, "".join(f"{line}\n" for line in lines).encode())
    return Exported(file, len(lines), names)
