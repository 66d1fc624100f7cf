"""Yes and no: a table of entries with what each must be read as, and why."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.reading.result import Certainty
from witnessmark.reading.short.judgements import read_judgement

CASES = Path(__file__).parents[1] / "cases" / "typed_judgements.csv"
VALUES = {"yes": True, "no": False, "": None}


def rows() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_an_entry_is_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_judgement(row["entry"])
    assert (reading.value, reading.certainty) == (VALUES[row["value"]], row["certainty"]), reading
    assert bool(reading.repairs) == (reading.certainty is Certainty.REPAIRED)
    assert bool(reading.reason) == (reading.certainty is Certainty.UNREADABLE)


@pytest.mark.parametrize("row", [r for r in rows() if r["value"]], ids=lambda r: r["entry"])
def test_capitals_and_spaces_change_nothing(row: dict[str, str]) -> None:
    for text in (
        row["entry"].upper(),
        row["entry"].lower(),
        f"  {row['entry']}\n",
        row["entry"].replace(" ", "\u00a0"),
    ):
        assert read_judgement(text).value is VALUES[row["value"]], text


@pytest.mark.parametrize(
    ("entry", "value"), [("it breaks", True), ("it survives", False), ("it does not break", False), ("yes", True)]
)
def test_a_question_can_turn_the_words_round(entry: str, value: bool) -> None:
    reading = read_judgement(entry, yes_words=["breaks", "break"], no_words=["survives"])
    assert reading.value is value


def test_a_question_can_add_words_of_its_own() -> None:
    assert read_judgement("it floats").value is None
    assert read_judgement("it floats", yes_words=["floats"]).value is True
    assert read_judgement("it does not float", yes_words=["float"]).value is False


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ("yse", "“yse” was read as yes"),
        ("yes?", "a question mark behind it was left out"),
        ("yes as expected", "“as expected” was not needed to see yes or no"),
    ],
)
def test_a_repair_is_told_in_a_sentence(entry: str, sentence: str) -> None:
    assert read_judgement(entry).repairs == (sentence,)


@pytest.mark.parametrize(
    ("entry", "reason"),
    [
        ("maybe", "“maybe” leaves it open"),
        ("yes and no", "it says both yes and no"),
        ("purple", "neither yes nor no was found in it"),
        ("y" * 1001, "an answer of at most 1000 characters was expected"),
    ],
)
def test_what_cannot_be_read_says_why(entry: str, reason: str) -> None:
    assert read_judgement(entry).reason == reason


WORDS = st.sampled_from(
    [
        "yes",
        "no",
        "not",
        "never",
        "it",
        "will",
        "won't",
        "fail",
        "fails",
        "survive",
        "safe",
        "but",
        "and",
        "if",
        "?",
        ".",
        "✓",
    ]
)


@given(text=st.one_of(st.text(max_size=200), st.lists(WORDS, max_size=12).map(" ".join)))
def test_any_text_gives_a_reading(text: str) -> None:
    reading = read_judgement(text)
    assert (reading.value is None) == (reading.certainty in (Certainty.BLANK, Certainty.UNREADABLE))


@pytest.mark.parametrize("subject", ["it", "the punch", "this part"])
@pytest.mark.parametrize(
    ("good", "denied"),
    [
        ("survives", "does not survive"),
        ("holds", "doesn't hold"),
        ("is safe", "is not safe"),
        ("is ok", "isn't ok"),
        ("will pass", "won't pass"),
    ],
)
def test_a_denial_turns_every_good_end_round(subject: str, good: str, denied: str) -> None:
    assert read_judgement(f"{subject} {good}").value is True
    assert read_judgement(f"{subject} {denied}").value is False
