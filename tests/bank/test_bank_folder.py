"""A folder as a bank: order, topics, notes, tables, and how long it takes."""

import shutil
import time
from pathlib import Path

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank

BANK = Path(__file__).parents[2] / "bank"


def test_a_bank_is_a_mapping_of_keys_to_questions_by_topic_and_key() -> None:
    bank = load_bank(SMALL_BANK)
    assert list(bank) == ["drain-hole", "cut-edge"]
    assert len(bank) == 2
    assert bank["drain-hole"].key == "drain-hole"
    assert "nothing" not in bank
    assert bank.topics() == ("shear", "words")
    assert [question.key for question in bank.of_topic("words")] == ["cut-edge"]
    with pytest.raises(KeyError):
        bank["nothing"]


def test_a_bank_knows_its_misconceptions_tables_and_figures() -> None:
    bank = load_bank(SMALL_BANK)
    assert bank.misconceptions["face-area-for-sheared-edge"].kit == ("biscuit cutter", "rolled clay", "paper strip")
    assert bank.tables["tool-steels"].source == "invented for the demo"
    assert bank.figures_path == SMALL_BANK / "figures"
    assert bank.notes == ()


def test_the_library_loads_a_bank_by_the_text_of_its_path() -> None:
    assert list(wm.load_bank(str(SMALL_BANK))) == ["drain-hole", "cut-edge"]


def test_the_shipped_bank_has_no_problems() -> None:
    assert len(load_bank(BANK)) >= 1


def test_tables_and_misconceptions_that_nothing_uses_are_notes(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(SMALL_BANK, bank)
    shutil.copy(bank / "tables" / "tool-steels.yaml", bank / "tables" / "spare.yaml")
    with (bank / "misconceptions.yaml").open("a", encoding="utf-8") as file:
        file.write("spare-one:\n  believes: A.\n  shows: B.\n  say: C.\n")
    assert [str(note).replace(f"{bank}/", "") for note in load_bank(bank).notes] == [
        "tables/spare.yaml: [unused-table] expected a question that draws from spare, found none",
        "misconceptions.yaml:16:1: [unused-misconception] expected a slip or option that shows spare-one, found none",
    ]


def test_the_order_of_files_has_no_say(tmp_path: Path) -> None:
    shutil.copytree(SMALL_BANK, tmp_path / "bank")
    (tmp_path / "bank" / "words").rename(tmp_path / "bank" / "a")
    first, second = load_bank(SMALL_BANK), load_bank(tmp_path / "bank")
    assert list(first) == list(second)
    assert [q.fingerprint for q in first.values()] == [q.fingerprint for q in second.values()]


def test_two_hundred_questions_load_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copytree(SMALL_BANK, tmp_path / "bank")
    text = (SMALL_BANK / "shear" / "drain-hole.yaml").read_text(encoding="utf-8")
    for number in range(198):
        copy = text.replace("question: drain-hole", f"question: drain-hole-{number}").replace(
            "to: 8", f"to: {8 + number}"
        )
        (tmp_path / "bank" / "shear" / f"drain-hole-{number}.yaml").write_text(copy, encoding="utf-8")
    start = time.perf_counter()
    bank = load_bank(tmp_path / "bank")
    with capsys.disabled():
        print(f"\n{len(bank)} questions loaded in {time.perf_counter() - start:.2f} s")  # noqa: T201 (asked for)
    assert len(bank) == 200
    assert len({question.fingerprint for question in bank.values()}) == 199  # number 0 draws as the original does


def test_a_topics_folder_is_the_bank_around_it_with_the_questions_of_that_topic_alone() -> None:
    topic = load_bank(SMALL_BANK / "shear")
    assert list(topic) == ["drain-hole"]
    assert topic.misconceptions == load_bank(SMALL_BANK).misconceptions
    assert topic.figures_path == SMALL_BANK / "figures"
    assert topic.notes == ()  # what the other topics use is no spare part


def test_a_folder_with_questions_beside_no_bank_is_a_bank_of_its_own(tmp_path: Path) -> None:
    own = tmp_path / "own"
    shutil.copytree(SMALL_BANK / "words", own)
    (tmp_path / "tables").mkdir()
    with pytest.raises(wm.ProblemsFound) as raised:
        load_bank(own)
    assert "misconception" in str(raised.value)
