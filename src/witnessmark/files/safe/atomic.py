"""Writing that cannot be caught half done: a reader, or a machine that stops, sees the files of before or of after.

One file, and one new folder, are a single rename, which the operating system does wholly or not at all. Several files
that join others in a folder cannot be one rename: they are staged with a list beside them, the renaming of that list
decides, and `finish_interrupted` carries out (or drops) what an interruption left. Every call does that first. Files
that belong to something stored elsewhere are carried out where that is there, and dropped where it is not.
"""

import json
import os
import re
import secrets
import shutil
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

STAGED = ".together-"
LIST = "list.json"
PART = ".part"
AT_ONCE = 60
"""So many files of a stage are brought to the disk while further ones are made."""
UNFINISHED = re.compile(r"\.[0-9a-f]{16}\.part(-journal)?")
Holds = Callable[[Sequence[str]], bool]
"""Whether what files belong to is stored."""


def write_file(path: Path, data: bytes) -> None:
    """Write one file, with the folders above it; raises ProblemsFound when the place cannot be written.

    A link is followed, and a file that is replaced keeps its permissions.
    """
    target = path.resolve() if path.is_symlink() else path
    part = target.parent / f".{secrets.token_hex(8)}{PART}"
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            _write_through(part, data)
            if target.exists():
                part.chmod(target.stat().st_mode)
            part.replace(target)
        finally:
            part.unlink(missing_ok=True)
        _sync_folder(target.parent)
    except OSError as error:
        raise ProblemsFound([_unwritable(path, error)]) from error


def make_folder(path: Path, files: Mapping[str, bytes]) -> None:
    """Make a folder with these files (by path inside it, with `/`; a name that ends with `/` is an empty folder).

    Raises ProblemsFound when something of that name is there (an empty folder may be), or on an unwritable place.
    """
    stage = path.parent / f".{secrets.token_hex(8)}{PART}"
    try:
        if path.is_dir() and not any(path.iterdir()):
            path.rmdir()
        if path.exists() or path.is_symlink():
            raise ProblemsFound([_taken(path)])
        stage.mkdir(parents=True)
        try:
            _fill(stage, files)
            stage.rename(path)
        finally:
            shutil.rmtree(stage, ignore_errors=True)
        _sync_folder(path.parent)
    except OSError as error:
        raise ProblemsFound([_unwritable(path, error)]) from error


def ensure_folder(path: Path) -> None:
    """Make a folder with those above it, unless it is there; raises ProblemsFound when the place cannot be written."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise ProblemsFound([_unwritable(path, error)]) from error


class Stage:
    """Files on their way into a folder that may hold others, under names that nobody looks at until all are there."""

    def __init__(self, folder: Path, stage: Path) -> None:
        self._folder, self._stage = folder, stage
        self._names: list[str] = []
        self._syncing: list[Future[None]] = []
        self._aside = ThreadPoolExecutor(1)
        self.is_decided = False

    def add(self, name: str, data: bytes) -> None:
        """Write a file that is to have this name (a path inside the folder, with `/`).

        Raises ValueError for a name that leads outside, ProblemsFound for an unwritable place.
        """
        _inside(self._folder, name)
        try:
            (self._stage / str(len(self._names))).write_bytes(data)
        except OSError as error:
            raise ProblemsFound([_unwritable(self._folder, error)]) from error
        self._names.append(name)
        if len(self._names) % AT_ONCE == 0:
            some = range(len(self._names) - AT_ONCE, len(self._names))
            self._syncing.append(self._aside.submit(self._sync_files, some))

    def carry_out(
        self,
        others: Mapping[str, str] | None = None,
        needs: Sequence[str] = (),
        store: Callable[[], object] | None = None,
    ) -> None:
        """Put all files under their names, of which `others` gives some others instead, or none.

        `store` and `needs` are as in `write_together`.
        """
        names = [(others or {}).get(name, name) for name in self._names]
        try:
            self._sync_files(range(len(self._syncing) * AT_ONCE, len(names)))
            for syncing in self._syncing:
                syncing.result()
            listed = self._stage / f"{LIST}{PART}"
            _write_through(listed, json.dumps({"files": names, "needs": list(needs)}).encode())
            listed.rename(self._stage / LIST)
            _sync_folder(self._stage)
            if store is not None:
                store()
            self.is_decided = True
            _carry_out(self._folder, self._stage)
        except OSError as error:
            raise ProblemsFound([_unwritable(self._folder, error)]) from error

    def end(self) -> None:
        """Wait until nothing works on files of the stage."""
        self._aside.shutdown(cancel_futures=True)

    def _sync_files(self, numbers: Iterable[int]) -> None:
        for n in numbers:
            _sync(self._stage / str(n))


@contextmanager
def staged(folder: Path) -> Iterator[Stage]:
    """Files that join others in a folder, written as they come; what is not carried out in the end was never there.

    Raises ProblemsFound for an unwritable place.
    """
    path = folder / f"{STAGED}{secrets.token_hex(8)}"
    try:
        finish_interrupted(folder)
        path.mkdir(parents=True)
    except OSError as error:
        _drop(path)
        raise ProblemsFound([_unwritable(folder, error)]) from error
    stage = Stage(folder, path)
    try:
        yield stage
    finally:
        stage.end()
        if not stage.is_decided:
            _drop(path)


def write_together(
    folder: Path, files: Mapping[str, bytes], needs: Sequence[str] = (), store: Callable[[], object] | None = None
) -> None:
    """Write files into a folder that may hold others: all of them or none, also when it is interrupted at any instant.

    Names are paths inside the folder, with `/`. `store` stores something elsewhere, all or nothing, and `needs` names
    it: then the files are there where it is, and only there, as soon as `finish_interrupted` was told what is stored.
    Raises ValueError for a name that leads outside, ProblemsFound for an unwritable place.
    """
    for name in files:
        _inside(folder, name)
    with staged(folder) as stage:
        for name, data in files.items():
            stage.add(name, data)
        stage.carry_out(needs=needs, store=store)


def finish_interrupted(folder: Path, holds: Holds | None = None) -> tuple[str, ...]:
    """Carry out what an interrupted `write_together` had decided, drop what it had not; the names carried out.

    A stage that was decided but could not be carried out wholly stays, so that the next call can; so does one that
    needs something where `holds` cannot tell whether that is stored.
    """
    carried: list[str] = []
    for stage in sorted(folder.glob(f"{STAGED}*")):
        needs = _listed(stage)[1] if (stage / LIST).is_file() else None
        if needs is None or (needs and holds and not holds(needs)):
            _drop(stage)
        elif not needs or holds:
            carried += _carry_out(folder, stage)
    return tuple(carried)


def finish_below(folder: Path, holds: Holds) -> None:
    """Carry out or drop what interrupted calls left in a folder and in those below it."""
    for stage in sorted(folder.rglob(f"{STAGED}*")):
        if stage.is_dir():
            finish_interrupted(stage.parent, holds)
    for part in sorted(folder.rglob(f".*{PART}*")):
        if UNFINISHED.fullmatch(part.name):
            shutil.rmtree(part, ignore_errors=True) if part.is_dir() else part.unlink(missing_ok=True)


def _carry_out(folder: Path, stage: Path) -> list[str]:
    names, _ = _listed(stage)
    carried = []
    for n, name in enumerate(names):
        if (stage / str(n)).is_file():
            target = _inside(folder, name)
            target.parent.mkdir(parents=True, exist_ok=True)
            (stage / str(n)).replace(target)
            carried.append(name)
    for above in {_inside(folder, name).parent for name in names}:
        _sync_folder(above)
    _drop(stage)
    return carried


def _listed(stage: Path) -> tuple[list[str], list[str]]:
    """The names of the files of a stage, and what it needs."""
    told = json.loads((stage / LIST).read_bytes())
    found = told if isinstance(told, dict) else {"files": told}
    return [str(name) for name in found["files"]], [str(name) for name in found.get("needs", ())]


def _drop(stage: Path) -> None:
    """Delete a stage; the list that decides goes first."""
    (stage / LIST).unlink(missing_ok=True)
    shutil.rmtree(stage, ignore_errors=True)


def _inside(folder: Path, name: str) -> Path:
    pure = PurePosixPath(name)
    if pure.is_absolute() or ".." in pure.parts or not pure.parts or "\\" in name or pure.parts[0].startswith(STAGED):
        raise ValueError(f"{name!r} does not name a file inside {folder}")
    return folder.joinpath(*pure.parts)


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write all files, then bring all to the disk: the first such call takes most of the others along."""
    written = []
    for name, data in files.items():
        target = _inside(folder, name)
        if name.endswith("/"):
            target.mkdir(parents=True, exist_ok=True)
        else:
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
            written.append(target)
    for target in written:
        _sync(target)
    _sync_folder(folder)


def _write_through(path: Path, data: bytes) -> None:
    path.write_bytes(data)
    _sync(path)


def _sync(path: Path) -> None:
    with path.open("r+b") as file:
        os.fsync(file.fileno())


def _sync_folder(folder: Path) -> None:
    """Bring renames inside a folder to the disk; Windows has no such call."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _unwritable(path: Path, error: OSError) -> Problem:
    remedy = "close it in other programs, look whether you may write there and whether the disk is full"
    found = error.strerror or str(error)
    return Problem("not-writable", Place(str(path)), "a place that can be written", found, remedy)


def _taken(path: Path) -> Problem:
    found = "a folder with files" if path.is_dir() else "a file of that name"
    return Problem("folder-exists", Place(str(path)), "a name that is free", found, "choose another name")
