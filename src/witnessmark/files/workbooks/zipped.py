"""The files in an archive (.zip) that somebody sent in place of single books; nothing of it is written anywhere."""

import io
import zipfile
import zlib
from pathlib import Path, PurePosixPath

from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.workbooks.archive import LARGEST_FILE
from witnessmark.words.problems import Place, Problem

LARGEST_ZIP = 50_000_000
MOST_MEMBERS = 1_000
LARGEST_UNPACKED = 60_000_000
FAILS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, ValueError)
SPLIT = "unpack it, and put the books there by themselves"


def members_of(path: Path) -> tuple[list[tuple[Path, bytes]], tuple[Problem, ...]]:
    """The files of an archive, each by the path that it would have inside a folder of the archive's name.

    Folders, what systems leave behind, and names that lead outside are passed over: of a name only its pieces count.
    """
    file = str(path)
    data, problems = read_bounded(path, LARGEST_ZIP)
    if problems:
        return [], problems
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return _read(archive, path)
    except FAILS:
        return [], (
            Problem("broken-archive", Place(file), "an archive that is whole and has no password", "another", SPLIT),
        )


def _read(archive: zipfile.ZipFile, path: Path) -> tuple[list[tuple[Path, bytes]], tuple[Problem, ...]]:
    infos = [info for info in archive.infolist() if not info.is_dir() and _wanted(info.filename)]
    if len(infos) > MOST_MEMBERS:
        return [], (_too_large(path, f"at most {MOST_MEMBERS} files inside", f"{len(infos)}"),)
    found: list[tuple[Path, bytes]] = []
    left = LARGEST_UNPACKED
    for info in infos:
        with archive.open(info) as member:
            content = member.read(min(left, LARGEST_FILE) + 1)
        left -= len(content)
        if left < 0 or len(content) > LARGEST_FILE:
            expected = f"files of at most {LARGEST_FILE} bytes, {LARGEST_UNPACKED} together"
            return found, (_too_large(path, expected, "more"),)
        found.append((path.joinpath(*_pieces(info.filename)), content))
    return found, ()


def _wanted(name: str) -> bool:
    pieces = _pieces(name)
    return bool(pieces) and not any(piece.startswith(".") or piece == "__MACOSX" for piece in pieces)


def _pieces(name: str) -> list[str]:
    plain = name.replace("\\", "/").replace("\0", "")
    return [piece for piece in PurePosixPath(plain).parts if piece.strip("/. ") and not piece.endswith(":")]


def _too_large(path: Path, expected: str, found: str) -> Problem:
    return Problem("file-too-large", Place(str(path)), expected, found, SPLIT)
