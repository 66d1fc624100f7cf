"""What tests of the desk share: a class that was issued and one that was marked, made once and copied for each test."""

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from desk.open_desk import Visitor, visitor
from jobs.small_class import BANK_FOLDER, LATER, NOW, TASK, hand_in, right_answers, sheets_of, small_class
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark

KLASS = "first-years"
UNREADABLE = "see my drawing"
NO_METHOD = "123456 kN"


@pytest.fixture(scope="session")
def issued_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of four whose task was issued."""
    folder = small_class(tmp_path_factory.mktemp("issued") / KLASS)
    settings = folder / "class.yaml"  # which names the bank in full here, so that copies of the class find it
    near = os.path.relpath(BANK_FOLDER, folder)
    settings.write_text(settings.read_text(encoding="utf-8").replace(near, str(BANK_FOLDER)), encoding="utf-8")
    issue(folder, TASK, NOW)
    return folder


@pytest.fixture(scope="session")
def marked_once(issued_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same, marked: two wrote the same that nobody can read, one a number of no method, one sent nothing."""
    folder = tmp_path_factory.mktemp("marked") / KLASS
    shutil.copytree(issued_once, folder)
    entries = {"HB01": UNREADABLE, "HB02": UNREADABLE, "LW01": NO_METHOD}
    for code, sheet in sheets_of(folder).items():
        if code in entries:
            hand_in(folder, sheet, {**right_answers(sheet), "1.a": entries[code]})
    mark(folder, TASK, LATER)
    return folder


@pytest.fixture
def issued(issued_once: Path, tmp_path: Path) -> Path:
    """A copy of the issued class, to be changed."""
    return Path(shutil.copytree(issued_once, tmp_path / "home" / KLASS))


@pytest.fixture
def marked(marked_once: Path, tmp_path: Path) -> Path:
    """A copy of the marked class, to be changed."""
    return Path(shutil.copytree(marked_once, tmp_path / "home" / KLASS))


@pytest.fixture
def at_desk() -> Callable[[Path], Visitor]:
    """Somebody at the desk of the folder in which a class lies."""
    return lambda class_path: visitor(class_path.parent)
