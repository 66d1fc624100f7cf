"""The job `start`: a class to begin with, never over something else."""

from pathlib import Path

import pytest

from jobs.small_class import BANK_FOLDER, NOW, contents
from witnessmark.files.class_folder.folder import read_class
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.starting import start
from witnessmark.words.errors import ProblemsFound


def test_a_started_class_is_read_and_told_what_it_lacks(tmp_path: Path) -> None:
    folder = tmp_path / "class"
    done = start(folder, "First years", BANK_FOLDER, NOW)
    assert all(file.is_file() for file in done.files)
    found = read_class(folder)
    assert (found.title, found.bank) == ("First years", BANK_FOLDER.resolve())
    assert [p.code for p in found.problems] == ["no-students"]
    with pytest.raises(ProblemsFound) as raised:
        issue(folder, "example", NOW)
    assert [p.code for p in raised.value.problems] == ["no-students"]


def test_a_class_is_never_started_over_another_folder(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("x", encoding="utf-8")
    before = contents(tmp_path)
    with pytest.raises(ProblemsFound) as raised:
        start(tmp_path, "First years", BANK_FOLDER, NOW)
    assert [p.code for p in raised.value.problems] == ["folder-exists"]
    assert contents(tmp_path) == before
