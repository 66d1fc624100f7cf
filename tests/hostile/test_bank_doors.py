"""Doors that look through a bank beside its loading open no pipe, and read no more than a bank needs."""

import os
from pathlib import Path
from threading import Thread

import pytest

from bank_fixture import BANK
from jobs.small_class import BANK_FOLDER
from witnessmark.files.bank.slip_text import question_file
from witnessmark.jobs.authoring import new_question
from witnessmark.jobs.bank_advice import known_misconceptions

PATIENCE = 60.0


@pytest.fixture
def bank(tmp_path: Path) -> Path:
    """A bank with one question, a pipe that nobody writes into, and a file of eight gigabytes without content."""
    if not hasattr(os, "mkfifo"):
        pytest.skip("no pipes on this system")
    (tmp_path / "shear").mkdir()
    question = BANK_FOLDER / "shear" / "drain-hole.yaml"
    (tmp_path / "shear" / "drain-hole.yaml").write_bytes(question.read_bytes())
    os.mkfifo(tmp_path / "a-pipe.yaml")
    for name in ("a-large-one.yaml", "misconceptions.yaml"):
        with (tmp_path / name).open("wb") as file:
            file.truncate(8 * 1024**3)
    return tmp_path


def test_the_file_of_a_question_is_found_beside_a_pipe_and_eight_gigabytes(bank: Path) -> None:
    found: list[Path | None] = []
    looking = Thread(target=lambda: found.append(question_file(bank, "drain-hole")), daemon=True)
    looking.start()
    looking.join(PATIENCE)
    assert found == [bank / "shear" / "drain-hole.yaml"]


def test_misconceptions_without_end_are_none(bank: Path) -> None:
    question = BANK["drain-hole"]
    assert known_misconceptions(bank, question) == question.misconceptions
    assert new_question(bank, "shear/a-new-one").file.is_file()
