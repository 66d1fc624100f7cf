"""A workbook as the archive that it is, looked over before a reader opens it, so that none can exhaust the machine."""

import io
import re
import xml.etree.ElementTree as ET
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from witnessmark.words.problems import Place, Problem

LARGEST_FILE = 20_000_000
LARGEST_UNPACKED = 100_000_000
MOST_MEMBERS = 2_000
MOST_CELLS = 2_000_000  # of the rectangle that holds everything on a page
OLD_CONTAINER = bytes.fromhex("D0CF11E0A1B11AE1")
ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
MARKUP = (b"<!DOCTYPE", b"<!ENTITY")
XLSX_CELL = re.compile(rb"""<(?:\w+:)?c\s(?:[^>]*?\s)?r\s*=\s*["']([^"']*)["'][^>]*?(/?)>""")
ADDRESS = re.compile(rb"([A-Z]{1,3})([0-9]{1,7})")
SAVE_AGAIN = "open it in the spreadsheet program and save it as .xlsx or .ods"


@dataclass(frozen=True, slots=True)
class Archive:
    """A workbook's bytes, and its XML members by name."""

    data: bytes
    members: Mapping[str, bytes]

    @property
    def is_ods(self) -> bool:
        """True of an OpenDocument workbook."""
        return "content.xml" in self.members

    @property
    def is_xlsx(self) -> bool:
        """True of an Office Open XML workbook."""
        return "xl/workbook.xml" in self.members

    def tree(self, name: str) -> ET.Element | None:
        """A member as a tree; None when there is none or it is not XML."""
        if name not in self.members:
            return None
        try:
            return ET.fromstring(self.members[name])  # noqa: S314 - no document type and no entity, see `_foreign`
        except (ET.ParseError, LookupError):  # LookupError: an encoding that nobody knows
            return None


def open_archive(path: Path, file: str) -> tuple[Archive | None, tuple[Problem, ...]]:
    """The archive of a workbook; None with one problem when it cannot be one that we read."""
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE:
            return None, (_too_large(file, f"at most {LARGEST_FILE} bytes", f"{size}"),)
        data = path.read_bytes()
    except OSError as error:
        remedy = "close it in other programs and look whether you may read it"
        found = error.strerror or str(error)
        return None, (Problem("not-readable", Place(file), "a file that can be read", found, remedy),)
    problem = _not_a_zip(data, file)
    if problem:
        return None, (problem,)
    try:
        return _unpacked(data, file)
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, NotImplementedError, RuntimeError, ValueError):
        return None, (broken(file),)


def _not_a_zip(data: bytes, file: str) -> Problem | None:
    expected = "a workbook (.xlsx or .ods)"
    if not data:
        return Problem("not-a-workbook", Place(file), expected, "an empty file", "ask for it once more")
    if data.startswith(OLD_CONTAINER):
        if ENCRYPTED in data:
            remedy = "open it with its password and save it without one"
            return Problem("password", Place(file), "a workbook without a password", "one that is locked", remedy)
        return Problem("old-format", Place(file), expected, "a file of an older format", SAVE_AGAIN)
    if not zipfile.is_zipfile(io.BytesIO(data)):
        if data.startswith(b"PK"):
            return broken(file, "the end of the file is missing")
        return Problem("not-a-workbook", Place(file), expected, "something else", SAVE_AGAIN)
    return None


def _unpacked(data: bytes, file: str) -> tuple[Archive | None, tuple[Problem, ...]]:
    members: dict[str, bytes] = {}
    left = LARGEST_UNPACKED
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        infos = archive.infolist()
        if len(infos) > MOST_MEMBERS:
            return None, (_too_large(file, f"at most {MOST_MEMBERS} files inside", f"{len(infos)}"),)
        for info in infos:
            with archive.open(info) as member:
                content = member.read(left + 1)
            left -= len(content)
            if left < 0:
                return None, (_too_large(file, f"at most {LARGEST_UNPACKED} bytes unpacked", "more"),)
            if _is_xml(info.filename, content):
                members[info.filename] = content
    unpacked = Archive(data, members)
    problem = _unfit(unpacked, file)
    return (None, (problem,)) if problem else (unpacked, ())


def _is_xml(name: str, content: bytes) -> bool:
    return name.endswith((".xml", ".rels")) or content.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<")


def _unfit(archive: Archive, file: str) -> Problem | None:
    if not archive.is_ods and not archive.is_xlsx:
        return Problem("not-a-workbook", Place(file), "a workbook (.xlsx or .ods)", "another kind of file", SAVE_AGAIN)
    if b"encryption-data" in archive.members.get("META-INF/manifest.xml", b""):
        remedy = "open it with its password and save it without one"
        return Problem("password", Place(file), "a workbook without a password", "one that is locked", remedy)
    for name, content in archive.members.items():
        if _foreign(content):
            expected = "plain XML inside, as spreadsheet programs write it"
            found = f"a document type or entities in {name}"
            return Problem("foreign-markup", Place(file), expected, found, SAVE_AGAIN)
        if not archive.is_ods:
            problem = _too_wide(content, file)
            if problem:
                return problem
    return None


def _foreign(content: bytes) -> bool:
    """True of XML that declares a document type or entities, or hides in an encoding where one could not see it."""
    return any(mark in content for mark in MARKUP) or b"\0" in content[:200]


def _too_wide(content: bytes, file: str) -> Problem | None:
    """A page whose filled cells span more than a machine should hold: readers fill the whole rectangle."""
    last_row = last_column = 0
    for match in XLSX_CELL.finditer(content):
        address = ADDRESS.fullmatch(match[1])
        if not address:
            return broken(file, f"the cell address {match[1].decode(errors='replace')[:20]}")
        if not match[2]:
            last_row = max(last_row, int(address[2]))
            last_column = max(last_column, column_number(address[1].decode()))
    if last_row * last_column > MOST_CELLS:
        found = f"{last_row} rows by {last_column} columns"
        return _too_large(file, f"at most {MOST_CELLS} cells on a page", found)
    return None


def column_number(letters: str) -> int:
    """1 for A, 27 for AA."""
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - ord("A") + 1
    return number


def column_letters(number: int) -> str:
    """A for 1, AA for 27."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _too_large(file: str, expected: str, found: str) -> Problem:
    return Problem("file-too-large", Place(file), expected, found, "keep only the answers in it, or split it")


def broken(file: str, found: str = "one that is damaged inside") -> Problem:
    """The problem of a workbook that is not whole."""
    remedy = "ask for it once more, or open and save it again in the spreadsheet program"
    return Problem("broken-workbook", Place(file), "a whole workbook", found, remedy)
