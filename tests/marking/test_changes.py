"""The grammar of changes: what may be done otherwise at a node, in a formula and in words that say the same.

The table `tests/cases/changes.txt` is the specification, read line by line by a person: under each node (`# a*b`) what
is worked instead, what a student did, and the weight (our assumption; common practice, no source).
"""

from pathlib import Path

import pytest

from witnessmark.marking.search.changes import Context, Form, forms_at, together, words_of
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Name, parse

TABLE = Path(__file__).parents[1] / "cases" / "changes.txt"
CONTEXT = Context(
    {name: unit(of).dimension for name, of in {"a": "m", "b": "m", "F": "N", "n": "1", "g": "m/s^2"}.items()},
    ("a", "b", "F", "n"),
)


def told(form: Form) -> str:
    """A change as the table has it; the node as a whole is `it`, what stands below it `left` and `right`."""
    changed = plain(form.template)
    for sign, said in (("§0", "left"), ("§1", "right"), ("§", "it")):
        changed = changed.replace(sign, said)
    return f"{changed} | {form.done} | {form.weight:g}"


def table() -> dict[str, list[str]]:
    """The lines of the table by node."""
    paragraphs = [p.splitlines() for p in TABLE.read_text(encoding="utf-8").split("\n\n")]
    return {lines[0].removeprefix("# "): lines[1:] for lines in paragraphs}


NODES = table()


@pytest.mark.parametrize("node", [node for node in NODES if node not in ("a term", "throughout")])
def test_what_may_be_done_otherwise_at_a_node_is_what_the_table_says(node: str) -> None:
    assert [told(form) for form in forms_at(parse(node), "it", CONTEXT, is_term=False)] == NODES[node]


def test_a_term_is_also_scaled_as_a_whole() -> None:
    without = forms_at(parse("a"), "it", CONTEXT, is_term=False)
    found = forms_at(parse("a"), "it", CONTEXT, is_term=True)
    assert found[: len(without)] == without
    assert [told(form) for form in found[len(without) :]] == NODES["a term"]
    assert all(form.whole for form in found[len(without) :])
    assert not any(form.whole for form in without)


def test_names_change_wherever_they_stand_and_two_may_change_places() -> None:
    found = [
        f"{', '.join(f'{name}: {plain(tree)}' for name, tree in places.items())} | {said} | {weight:g}"
        for places, said, weight in together(("a", "b", "F", "n"), CONTEXT)
    ]
    assert found == NODES["throughout"]


def test_two_numbers_without_a_dimension_change_places_more_rarely_than_two_lengths() -> None:
    context = Context({"n": unit("1").dimension, "m": unit("1").dimension}, ())
    ((places, _, weight),) = together(("n", "m"), context)
    assert (places, weight) == ({"n": Name("m"), "m": Name("n")}, 0.3)


def test_a_part_of_a_working_is_named_in_words_and_a_long_one_as_a_factor() -> None:
    said = {"a": "a", "2": "the 2", "a**2": "the power of a", "sqrt(a)": "sqrt(a)", "a + b": "a + b"}
    assert {text: words_of(parse(text)) for text in said} == said
    fits, too_long = "a + b - a*b + sin(a + b)", "a + b - a*b + asin(a + b)"  # of 24 signs and of 25
    assert (words_of(parse(fits)), words_of(parse(too_long))) == (fits, "a factor")


def test_two_numbers_without_a_dimension_stand_for_each_other_and_are_not_added() -> None:
    number = unit("1").dimension
    said = [form.done for form in forms_at(parse("n"), "n", Context({"n": number, "k": number}, ("n", "k")), False)]
    assert "k stood in the place of n" in said
    assert not [one for one in said if "added" in one or "mean" in one]
