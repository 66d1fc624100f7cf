"""The bytes of a file as text, or the place of the first byte that is none."""

from witnessmark.words.problems import Place, Problem

LARGEST = 5_000_000


def decoded(data: bytes, file: str) -> tuple[str, tuple[Problem, ...]]:
    """The text of a file in UTF-8, or UTF-16 with a mark, its line ends made one; with a problem, an empty text."""
    if len(data) > LARGEST:
        expected = f"at most {LARGEST} bytes"
        return "", (Problem("file-too-large", Place(file), expected, str(len(data)), "split the file"),)
    encoding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        before = data[: error.start].decode(encoding, errors="replace")
        found = f"the byte {data[error.start]:02X}"
        remedy = "save it again as UTF-8 (CSV UTF-8 in a spreadsheet)"
        return "", (Problem("not-utf-8", _end_of(before, file), "text in UTF-8", found, remedy),)
    return text.replace("\r\n", "\n").replace("\r", "\n"), ()


def _end_of(before: str, file: str) -> Place:
    lines = before.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return Place(file, len(lines), len(lines[-1]) + 1)
