"""What the desk holds while it is open: the folder of its classes, the banks that were read, the work that is done."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock
from typing import Any, TypeVar

from witnessmark.desk.staying import what_stays
from witnessmark.desk.works import Works
from witnessmark.files.bank.folder import load_bank
from witnessmark.jobs.desk_settings import DeskSettings, read_settings
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.overlooking import classes_in, read_latest
from witnessmark.jobs.writing_question import Looked
from witnessmark.questions.bank import Bank
from witnessmark.words.errors import ProblemsFound

Seal = tuple[tuple[str, int, int], ...]
"""Every file of a bank with its time and size: another seal, another bank."""
MOST_BANKS = 4
MOST_LOOKED_AT = 8
MOST_WORKED_OUT = 64
T = TypeVar("T")


def clock() -> datetime:
    """The time, with its zone."""
    return datetime.now(UTC)


@dataclass(slots=True)
class Keeping:
    """The folder in which the classes lie, the `only` one of them where the desk is that of one class, and everything
    that outlives a request."""

    home: Path
    only: str = ""
    works: Works = field(default_factory=Works)
    now: Callable[[], datetime] = clock
    banks: dict[Path, tuple[Seal, Bank]] = field(default_factory=dict)
    looked_at: dict[int, Looked] = field(default_factory=dict)
    worked_out: dict[tuple[str, str], tuple[Bank, Any]] = field(default_factory=dict)
    _one_at_a_time: Lock = field(default_factory=Lock)

    @property
    def own_folder(self) -> Path:
        """Where what the teacher set for the desk itself is kept: with the classes, or in the one class."""
        return self.home / self.only

    def speech(self) -> DeskSettings:
        """How the teacher wants the desk to speak now."""
        return read_settings(self.own_folder)[0]

    def bank(self, class_path: Path) -> Bank:
        """The bank of a class, read again only where one of its files has changed; raises ProblemsFound."""
        folder = open_class(class_path).folder.bank
        with self._one_at_a_time:
            seal = _seal(folder)
            if folder not in self.banks or self.banks[folder][0] != seal:
                with what_stays():
                    bank = load_bank(folder)
                if len(self.banks) >= MOST_BANKS:
                    self.banks.clear()
                self.banks[folder] = seal, bank
            return self.banks[folder][1]

    def of_question(self, what: str, bank: Bank, key: str, work_out: Callable[[], T]) -> T:
        """What is worked out of a question of a bank, once for the bank as it is read now."""
        made = self.worked_out.get((what, key))
        if made is None or made[0] is not bank:
            made = bank, work_out()
            if len(self.worked_out) >= MOST_WORKED_OUT:
                self.worked_out.clear()
            self.worked_out[what, key] = made
        found: T = made[1]
        return found

    def read_ahead(self) -> None:
        """Read the banks of the classes that are here, and the questions of their latest tasks, before somebody waits
        for them."""
        for name, _title in classes_in(self.home):
            if self.only in ("", name) and len(self.banks) < MOST_BANKS:
                with suppress(ProblemsFound, OSError):
                    self.bank(self.home / name)
                    read_latest(self.home / name)

    def hold(self, looked: Looked) -> int:
        """The number under which a question that is being written can be seen in variants; the latest few are held."""
        with self._one_at_a_time:
            number = max(self.looked_at, default=0) + 1
            self.looked_at[number] = looked
            for old in list(self.looked_at)[:-MOST_LOOKED_AT]:
                del self.looked_at[old]
            return number


def _seal(folder: Path) -> Seal:
    files = ((path, path.stat()) for path in sorted(folder.rglob("*")) if path.is_file())
    return tuple((str(path), stat.st_mtime_ns, stat.st_size) for path, stat in files)
