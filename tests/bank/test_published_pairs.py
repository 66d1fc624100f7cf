"""Pairs of the bank against what is published: a sign and its name, a job and its tool, a decay and its kind."""

import csv
from pathlib import Path

import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.questions.model.parts import MatchPart
from witnessmark.questions.sheet.listing import letter_of, lettered_options, numbered_things

CASES = Path(__file__).parents[1] / "cases" / "published_pairs.csv"
with CASES.open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
STATUS = {"confirmed in the source", "confirmed in a secondary source", "from memory", "no source"}


def part_of(row: dict[str, str]) -> MatchPart:
    part = BANK[row["question"]].part(row["part"])
    assert isinstance(part, MatchPart)
    return part


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['question']}: {row['option']}")
def test_a_published_pair_earns_its_share_and_no_other_option_does(row: dict[str, str]) -> None:
    part, variant = part_of(row), BANK[row["question"]].draw("fulmar")
    number = numbered_things(part, variant).index(row["thing"]) + 1
    share = part.marks / len(part.pairs)
    for letter, option in enumerate(lettered_options(part, variant)):
        out = wm.mark(variant, {part.key: f"{number}{letter_of(letter)}"})[part.key]
        assert out.marks == (share if option == row["option"] else 0), option


def test_every_pair_of_the_bank_has_a_row_that_names_its_source() -> None:
    asked = {
        (question.key, part.key, thing)
        for question in BANK.values() for part in question.parts if isinstance(part, MatchPart)
        for thing in part.things
    }  # fmt: skip
    assert {(row["question"], row["part"], row["thing"]) for row in ROWS} == asked
    assert all(row["source"] and row["status"] in STATUS and row["seen as"] for row in ROWS)
