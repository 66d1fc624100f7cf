"""A bank that was read is not read again, and whatever changes in it or around its questions is seen all the same."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from bank_cases import SMALL_BANK
from witnessmark.files.bank import read_once
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.words.errors import ProblemsFound


@pytest.fixture
def bank(tmp_path: Path) -> Path:
    """A bank that was read once."""
    shutil.copytree(SMALL_BANK, tmp_path / "bank")
    load_bank(tmp_path / "bank")
    return tmp_path / "bank"


def change(file: Path, old: str, new: str) -> None:
    """Another text in the place of one that stands in the file."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_the_same_texts_are_read_once_wherever_they_lie(
    bank: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    read: list[str] = []

    def told(text: str, file: str, *more: Any) -> Any:
        read.append(file)
        return question_from_text(text, file, *more)

    monkeypatch.setattr(read_once, "question_from_text", told)
    shutil.copytree(bank, tmp_path / "elsewhere")
    first, second = load_bank(bank), load_bank(tmp_path / "elsewhere")
    assert first["drain-hole"] is second["drain-hole"]
    assert read == []
    change(bank / "words" / "cut-edge.yaml", "t/3", "t/4")
    load_bank(bank)
    assert read == [str(bank / "words" / "cut-edge.yaml")]


def test_a_table_that_changes_changes_the_questions_that_draw_from_it(bank: Path) -> None:
    change(bank / "tables" / "sheet-metals.yaml", "pickled", "painted")
    assert load_bank(bank)["cut-edge"].tables["sheet-metals"].rows["mild steel"]["finish"] == "painted"


def test_a_misconception_that_changes_is_told_in_its_new_words(bank: Path) -> None:
    change(bank / "misconceptions.yaml", "Look at the slug.", "Look at the edge.")
    said = load_bank(bank)["cut-edge"].misconceptions["face-area-for-sheared-edge"].say
    assert said.startswith("Look at the edge.")


RELATIONS = """\
t:
  letters: {tau: {is: stress, unit: MPa}, F: {is: force, unit: kN}, d: {is: diameter, unit: mm}}
  relations:
    - {letter: tau, equals: F/(pi*d**2/4), needed by: [drain-hole]}
    - {letter: F, equals: tau*pi*d**2, holds: never}
    - {letter: d, equals: sqrt(F/tau)}
"""


def test_relations_follow_their_file_and_miss_a_question_that_has_gone(bank: Path, tmp_path: Path) -> None:
    topic = load_bank(bank)["drain-hole"].topic
    file = bank / "relations.yaml"
    file.write_text(RELATIONS.replace("t:", f"{topic}:", 1), encoding="utf-8")
    first = load_bank(bank).relations
    assert load_bank(bank).relations[topic] is first[topic]
    change(file, "sqrt(F/tau)", "2*sqrt(F/tau)")
    second = load_bank(bank).relations[topic]
    assert second != first[topic]
    question = next(file for file in bank.rglob("*.yaml") if "question: drain-hole" in file.read_text(encoding="utf-8"))
    question.rename(tmp_path / "away.yaml")
    with pytest.raises(ProblemsFound, match="unknown-topic"):
        load_bank(bank)
    (tmp_path / "away.yaml").rename(question)
    assert load_bank(bank).relations[topic] is second


@pytest.mark.parametrize(
    ("gone", "problem"),
    [
        ("misconceptions.yaml", "unknown-misconception"),
        ("tables/sheet-metals.yaml", "unknown-table"),
        ("figures/round-hole-in-plate.svg.j2", "no-figure"),
    ],
)
def test_what_a_question_needs_is_missed_though_the_question_was_read_before(
    bank: Path, gone: str, problem: str
) -> None:
    (bank / gone).rename(bank / "away")
    with pytest.raises(ProblemsFound) as caught:
        load_bank(bank)
    assert problem in {found.code for found in caught.value.problems}
    (bank / "away").rename(bank / gone)
    assert len(load_bank(bank)) == 2


def test_a_problem_names_the_file_in_which_it_stands_each_time(bank: Path, tmp_path: Path) -> None:
    change(bank / "words" / "cut-edge.yaml", "level: 1", "level: high")
    shutil.copytree(bank, tmp_path / "elsewhere")
    for folder in (bank, bank, tmp_path / "elsewhere"):
        with pytest.raises(ProblemsFound, match=str(folder / "words" / "cut-edge.yaml")):
            load_bank(folder)


def test_no_more_is_kept_than_was_said() -> None:
    kept: read_once.Kept[int] = read_once.Kept(2)
    for number in range(4):
        kept.keep(str(number), number)
    assert list(kept.values.values()) == [2, 3]
