"""The job `export`: the whole record of a class as lines of JSON, for other programs and for years to come."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.safe.atomic import write_file
from witnessmark.jobs.opened import open_class


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
    write_file(file, "".join(f"{line}\n" for line in lines).encode())
    return Exported(file, len(lines), names)
