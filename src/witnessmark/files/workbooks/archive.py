"""A workbook as the archive that it is, looked over before a reader opens it, so that none can exhaust the machine."""

import io
import xml.etree.ElementTree as ET
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass

from witnessmark.files.workbooks.markup import Damaged, Foreign, Look
from witnessmark.files.workbooks.pages import TooMuch
from witnessmark.words.problems import Place, Problem

LARGEST_FILE = 20_000_000
LARGEST_UNPACKED = 60_000_000
LARGEST_XML = 40_000_000
MOST_MEMBERS = 2_000
OLD_CONTAINER = bytes.fromhex("D0CF11E0A1B11AE1")
ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
UNICODE_MARKS = (b"\xef\xbb\xbf", b"\xff\xfe", b"\xfe\xff")
NOT_NEEDED = ("docProps/", "meta.xml", "META-INF/", "settings.xml")  # that one is damaged hides nothing
DAMAGED = "one that is damaged inside"
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
            return ET.fromstring(self.members[name])  # noqa: S314 - no document type and no entity, see `Look`
        except (ET.ParseError, LookupError, ValueError):  # LookupError: an encoding that nobody knows
            return None


def open_archive(data: bytes, file: str) -> tuple[Archive | None, tuple[Problem, ...]]:
    """The archive of a workbook; None with one problem when it cannot be one that we read."""
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
    left, left_of_xml = LARGEST_UNPACKED, LARGEST_XML
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        infos = archive.infolist()
        if len(infos) > MOST_MEMBERS:
            return None, (too_large(file, f"at most {MOST_MEMBERS} files inside", f"{len(infos)}"),)
        for info in infos:
            with archive.open(info) as member:
                content = member.read(left + 1)
            left -= len(content)
            if left < 0:
                return None, (too_large(file, f"at most {LARGEST_UNPACKED} bytes unpacked", "more"),)
            if _is_xml(info.filename, content):
                left_of_xml -= len(content)
                members[info.filename] = content
            if left_of_xml < 0:
                return None, (too_large(file, f"at most {LARGEST_XML} bytes of XML", "more"),)
    unpacked = Archive(data, members)
    problem = _another_kind(unpacked, file) or _unfit(unpacked, file)
    return (None, (problem,)) if problem else (unpacked, ())


def _is_xml(name: str, content: bytes) -> bool:
    start = content[:100].lstrip(b" \t\r\n\0")
    return name.endswith((".xml", ".rels")) or start.startswith((b"<", *UNICODE_MARKS))


def _another_kind(archive: Archive, file: str) -> Problem | None:
    if not archive.is_ods and not archive.is_xlsx:
        return Problem("not-a-workbook", Place(file), "a workbook (.xlsx or .ods)", "another kind of file", SAVE_AGAIN)
    if b"encryption-data" in archive.members.get("META-INF/manifest.xml", b""):
        remedy = "open it with its password and save it without one"
        return Problem("password", Place(file), "a workbook without a password", "one that is locked", remedy)
    return None


def _unfit(archive: Archive, file: str) -> Problem | None:
    look = Look()
    for name, content in archive.members.items():
        try:
            look.at(content)
        except Foreign:
            expected = "plain XML inside, as spreadsheet programs write it"
            found = f"a document type or entities in {name}"
            return Problem("foreign-markup", Place(file), expected, found, SAVE_AGAIN)
        except TooMuch as much:
            return too_large(file, much.expected, much.found)
        except Damaged as damaged:
            if not name.startswith(NOT_NEEDED):
                return broken(file, str(damaged) or DAMAGED)
    return None


def too_large(file: str, expected: str, found: str) -> Problem:
    """The problem of a workbook that holds more than is taken in."""
    return Problem("file-too-large", Place(file), expected, found, "keep only the answers in it, or split it")


def broken(file: str, found: str = DAMAGED) -> Problem:
    """The problem of a workbook that is not whole."""
    remedy = "ask for it once more, or open and save it again in the spreadsheet program"
    return Problem("broken-workbook", Place(file), "a whole workbook", found, remedy)
