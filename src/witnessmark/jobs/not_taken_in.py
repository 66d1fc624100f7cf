"""Files that lie where answer books are looked for, and of which nothing was taken in: they came since, their taking in
was stopped or taken back, or they could not be read."""

import hashlib
from collections.abc import Sequence
from pathlib import Path

from witnessmark.files.workbooks.archive import LARGEST_FILE
from witnessmark.files.workbooks.found_files import files_below
from witnessmark.files.workbooks.returns import ARCHIVE
from witnessmark.record.rows import StoredReturn


def not_taken_in(folder: Path, returns: Sequence[StoredReturn]) -> tuple[str, ...]:
    """The names of these files, by path. A file counts as taken in by its content, an archive by its name."""
    stand = [one for one in returns if not one.taken_back]
    contents = {one.sha256 for one in stand}
    named = {part for one in stand for part in Path(one.handed_in.file).parts}
    files, _unseen = files_below(folder)
    return tuple(file.name for file in files if not _is_taken_in(file, contents, named))


def _is_taken_in(file: Path, contents: set[str], named: set[str]) -> bool:
    if file.suffix.lower() == ARCHIVE:
        return file.name in named
    try:
        if file.stat().st_size > LARGEST_FILE:
            return False
        return hashlib.sha256(file.read_bytes()).hexdigest() in contents
    except OSError:  # it went meanwhile, or may not be read: taking it in tells why
        return False
