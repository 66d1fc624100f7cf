"""Spelling mistakes: what is taken for a known word, and what must not be."""

import pytest

from witnessmark.reading.text.near_words import nearest

KNOWN = ("tension", "compression", "yielding", "brittle fracture", "soluble", "elastic", "safe", "hardness")
WORDINGS = {word: word for word in KNOWN}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("tensoin", "tension"),
        ("tenssion", "tension"),
        ("compresion", "compression"),
        ("yeilding", "yielding"),
        ("britle fracture", "brittle fracture"),
        ("brittlefracture", "brittle fracture"),
        ("hardnes", "hardness"),
        ("etnsion", "tension"),
    ],
)
def test_a_typing_mistake_is_taken_for_the_word(typed: str, meant: str) -> None:
    near = nearest(typed, WORDINGS)
    assert near is not None
    assert near.wording == meant


# The first five score 77 to 95 by measures that look at parts of a text (libraries.md, section 12).
@pytest.mark.parametrize(
    "typed",
    ["no tension", "not yielding", "in compression not tension", "ductle fracture", "torsion", "insoluble", "inelastic",
     "unsafe", "same", "extension", "hardless", "", "t", "pension"],
)  # fmt: skip
def test_another_word_is_never_taken(typed: str) -> None:
    assert nearest(typed, WORDINGS) is None


def test_a_word_between_two_others_is_left_to_the_teacher() -> None:
    assert nearest("stiffners", {"stiffeners": "a part", "stiffness": "a property"}) is None
    assert (
        nearest("stiffners", {"stiffeners": "one", "stiffness": "one"}) is not None
    )  # wordings of one thing: no rivals
