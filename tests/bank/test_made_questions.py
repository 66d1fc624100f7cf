"""A question that is made of another, of some of its parts: it keeps the same variants, though parts that a condition
names are not asked any more."""

import pytest

import witnessmark as wm
from bank_fixture import BANK
from searching import every
from witnessmark.documents.kinds.dispatch import right_text
from witnessmark.files.bank.derived_text import find_the_fault, focused
from witnessmark.files.bank.fault_text import as_fault
from witnessmark.questions.model.kinds import shown_by

KEEPING = [key for key, question in BANK.items() if question.keep]
NAMING_LATER_RESULTS = ["brinell-shaft", "capstan-efficiency", "fibre-share", "shaft-in-bush"]


@pytest.mark.parametrize("key", [*NAMING_LATER_RESULTS, *every(KEEPING, 12)])
def test_one_part_alone_keeps_the_variants_that_the_whole_question_keeps(key: str) -> None:
    question = BANK[key]
    assert focused(question, question.parts[0].key).keep == question.keep


def test_somebody_elses_working_of_a_part_keeps_them_too() -> None:
    question = BANK["brinell-shaft"]
    wrong = question.misconceptions[next(filter(None, shown_by(question.parts[0])))]
    assert find_the_fault(question, "a", wrong, (), "fault-").keep == question.keep


FAULTS = [
    ("brinell-shaft", "flat-circle-for-dent"),  # its `keep` names the strength, which is not asked
    ("pressed-bush", "bush-opens-when-pressed"),  # carries one of two limits
    ("sheave-in-block", "limits-added"),  # carries both
    ("modulus-readings", "modulus-times-strain"),  # names results by the letters of their parts
    ("hub-heating", "radius-grows-for-diameter"),  # has a given with the letter that would come next
]


@pytest.mark.parametrize(("key", "misconception"), FAULTS)
def test_a_fault_to_find_can_be_made_of_it_and_its_right_answers_are_right(key: str, misconception: str) -> None:
    question = BANK[key]
    made = as_fault(question, misconception)
    variant = made.draw("heron")
    line = right_text(variant, made.part("a"), None).partition(", ")[2]
    entries = {"a": line} | {part: f"{value:.6g~P}" for part, value in variant.expected.items() if "." not in part}
    marked = wm.mark(variant, entries)
    assert {part: marked[part].verdict for part in entries} == dict.fromkeys(entries, "right")
    assert made.keep == question.keep
