"""Whether a text stands in a file, whatever its name says: in its bytes, and in those of the members of a package."""

import io
import zipfile
import zlib
from collections.abc import Collection, Iterator
from pathlib import Path

DEEPEST = 2
"""An archive of archives of books is looked through; more is not."""
MOST_BYTES = 200_000_000
"""What is looked through of one file, members and all; whoever is asked to look by hand is told of the rest."""


def texts_in(path: Path, texts: Collection[str]) -> frozenset[str] | None:
    """Those of the texts that the file holds; None where it could not be looked through whole."""
    wanted = {text: text.encode() for text in texts if text}
    try:
        if path.stat().st_size > MOST_BYTES:
            return None
        data = path.read_bytes()
        found = {text for text, needle in wanted.items() if needle in data}
        for member in _members(data, MOST_BYTES):
            found |= {text for text, needle in wanted.items() if needle in member}
    except (OSError, ValueError, zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError):
        return None
    return frozenset(found)


def _members(data: bytes, left: int, depth: int = 0) -> Iterator[bytes]:
    """What a package (xlsx, ods, zip) holds, and what the packages in it hold; nothing of any other file."""
    if not data.startswith(b"PK") or depth > DEEPEST:
        return
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        for member in package.infolist():
            left -= member.file_size
            if left < 0:
                raise ValueError("a package that unpacks to too much")
            with package.open(member) as opened:
                content = opened.read(member.file_size)
            yield content
            yield from _members(content, left, depth + 1)
