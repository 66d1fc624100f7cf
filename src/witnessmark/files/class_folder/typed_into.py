"""Workbooks that people type into are never overwritten: one that differs from what was written stays where it is.

What the program wrote is known again by its SHA-256, kept in a hidden list beside the workbooks. The list names no
file, so that it tells of no student, and it outlives a change of the program that writes other bytes.
"""

import hashlib
import os
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import count
from pathlib import Path, PurePosixPath

from witnessmark.files.safe.atomic import write_file
from witnessmark.files.safe.bounded import read_bounded, text_or_nothing

LIST = ".written.txt"
LARGEST = 50_000_000  # bytes: far more than the program writes


@dataclass(frozen=True, slots=True)
class Kept:
    """A workbook that differs from what was written, and the fresh one that was written beside it."""

    path: Path
    fresh: Path


@dataclass(frozen=True, slots=True)
class Spared:
    """What to write into a folder so that nothing typed is lost: files by name, the name that each wanted name became,
    and what stays."""

    files: Mapping[str, bytes]
    names: Mapping[str, str]
    kept: tuple[Kept, ...]


@dataclass(frozen=True, slots=True)
class Sparing:
    """The name under which each wanted workbook overwrites nothing but what was written, what stays, and the list (by
    its name) by which these workbooks are known again."""

    names: Mapping[str, str]
    kept: tuple[Kept, ...]
    listed: Mapping[str, bytes]


def sparing_typed(folder: Path, workbooks: Mapping[str, bytes]) -> Spared:
    """The workbooks (by path in the folder, with `/`) under names that overwrite nothing but what was written, with the
    list by which they are known again."""
    found = sparing(folder, {name: sha256_of(data) for name, data in workbooks.items()})
    files = {found.names[name]: data for name, data in workbooks.items()}
    return Spared({**found.listed, **files}, found.names, found.kept)


def sparing(folder: Path, hashes: Mapping[str, str]) -> Sparing:
    """The same of workbooks of which only the SHA-256 is at hand."""
    own = _listed(folder) | set(hashes.values())
    names = {name: _free_name(folder, name, own) for name in hashes}
    kept = tuple(
        Kept(folder / name, folder / written)
        for name, written in names.items()
        if written != name
    )  # fmt: skip
    return Sparing(names, kept, {LIST: "".join(f"{one}\n" for one in sorted(own)).encode()})


def may_go(folder: Path, file: Path) -> None:
    """Let a workbook of the folder be overwritten, since all that was typed into it was taken in."""
    if file.resolve().parent == folder.resolve():
        listed = _listed(folder) | {sha256_of(file.read_bytes())}
        write_file(folder / LIST, "".join(f"{one}\n" for one in sorted(listed)).encode())


def is_typed_into(folder: Path, file: Path) -> bool:
    """True of a workbook of the folder that differs from what was written."""
    return not _is_own(file, _listed(folder))


def _listed(folder: Path) -> set[str]:
    return set(text_or_nothing(folder / LIST, LARGEST).split())


def sha256_of(data: bytes) -> str:
    """The SHA-256 by which a workbook is known again."""
    return hashlib.sha256(data).hexdigest()


def _free_name(folder: Path, name: str, own: set[str]) -> str:
    """The name, or the first of `name (2)`, `name (3)` … at which there is nothing, or what the program wrote."""
    pure = PurePosixPath(name)
    for n in count(1):
        tried = name if n == 1 else str(pure.with_stem(f"{pure.stem} ({n})"))
        if not os.path.lexists(folder / tried) or _is_own(folder / tried, own):
            return tried
    raise AssertionError("one of all names is free")


def _is_own(path: Path, own: set[str]) -> bool:
    """False of what cannot be read as well: who cannot say what is in it must not replace it."""
    data, problems = read_bounded(path, LARGEST)
    return not problems and not path.is_symlink() and sha256_of(data) in own
