"""Choices, orders and points: tables of entries with what each must be read as, and why."""

import csv
import itertools
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.reading.result import Certainty
from witnessmark.reading.short.choices import read_choice
from witnessmark.reading.short.limits import read_limits
from witnessmark.reading.short.orders import read_order
from witnessmark.reading.short.pairs import read_pairs
from witnessmark.reading.short.points import read_points
from witnessmark.reading.short.several import read_several
from witnessmark.reading.short.sizes import SizeList, read_size

CASES = Path(__file__).parents[1] / "cases"
OPTIONS = {
    "loads": ["In tension", "In compression", "In shear", "It does not fail"],
    "numbers": ["2", "4", "8"],
    "letters": ["d", "t", "r", "D squared"],
    "fits": ["Loose running fit", "Close running fit", "Not a running fit"],
    "steels": ["Steel", "Stainless steel", "Cast iron", "None"],
}
STEPS = ["Mark out", "Centre punch", "Drill", "Deburr"]
THINGS = ["Bore of a bush", "Keyway in a hub", "Flat face"]
PROCESSES = ["Reaming", "Broaching", "Face milling", "Hot forging"]
SEVERAL = ["Zinc block", "Lead sheet", "Oak wedge", "Hot pitch and tar"]
AREAS = (1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0)
STRESS_AREAS = {6: 20.1, 8: 36.6, 10: 58.0, 12: 84.3, 16: 157.0, 20: 245.0}
RATINGS = (5.0, 7.5, 10.0, 15.0, 20.0)
SIZES = {
    "cables": SizeList(tuple(f"{area:g} mm²" for area in AREAS), AREAS, "mm^2"),
    "threads": SizeList(tuple(f"M{d}" for d in STRESS_AREAS), tuple(STRESS_AREAS.values()), "mm^2"),
    "fuses": SizeList(tuple(f"{rating:g} A" for rating in RATINGS), RATINGS, "A"),
}
POINTS = {
    "tough": ["tough", "toughness"],
    "hard": ["hard", "hardness", "high hardness"],
    "rustless": ["does not rust", "corrosion resistant", "resists corrosion"],
    "tension": ["tension"],
    "yield": ["yielding", "yields"],
    "light": ["light", "low weight"],
    "brittle": ["brittle fracture"],
    "elastic": ["elastic"],
}


def rows(name: str) -> list[dict[str, str]]:
    with (CASES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def told(certainty: Certainty, repairs: tuple[str, ...], reason: str) -> bool:
    """True when repairs and reason are there exactly where the certainty needs them."""
    return bool(repairs) >= (certainty is Certainty.REPAIRED) and bool(reason) == (
        certainty in (Certainty.AMBIGUOUS, Certainty.UNREADABLE)
    )


@pytest.mark.parametrize("row", rows("typed_choices.csv"), ids=lambda r: f"{r['options']} {r['entry']} ({r['reason']})")
def test_a_choice_is_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_choice(row["entry"], OPTIONS[row["options"]])
    index = int(row["index"]) if row["index"] else None
    assert (reading.index, reading.certainty) == (index, row["certainty"]), reading
    assert told(reading.certainty, reading.repairs, reading.reason)
    assert (len(reading.candidates) > 1) == (reading.certainty is Certainty.AMBIGUOUS)


@pytest.mark.parametrize("row", rows("typed_limits.csv"), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_two_limits_are_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_limits(row["entry"])
    assert ("|".join(reading.texts), reading.certainty) == (row["texts"], row["certainty"]), reading
    assert told(reading.certainty, reading.repairs, reading.reason)


@pytest.mark.parametrize("row", rows("typed_sizes.csv"), ids=lambda r: f"{r['sizes']} {r['entry']} ({r['reason']})")
def test_a_size_is_read_as_the_table_says(row: dict[str, str]) -> None:
    listed = SIZES[row["sizes"]]
    reading = read_size(row["entry"], listed)
    size = "" if reading.index is None else listed.names[reading.index]
    assert (size, reading.certainty) == (row["size"], row["certainty"]), reading
    assert told(reading.certainty, reading.repairs, reading.reason)
    assert bool(reading.read_as) is (reading.certainty in (Certainty.CERTAIN, Certainty.REPAIRED))


@given(text=st.text(max_size=40), listed=st.sampled_from(list(SIZES.values())))
def test_no_text_typed_for_a_size_raises(text: str, listed: SizeList) -> None:
    assert read_size(text, listed).certainty in tuple(Certainty)


@pytest.mark.parametrize("joint", [" and ", ", ", "; ", " / ", "/", " to ", " - ", "-", " – ", "\n", " mm, "])
@given(values=st.lists(st.decimals("0.001", 9999, places=3), min_size=2, max_size=2))
def test_two_values_are_read_with_every_sign_between(joint: str, values: list[Decimal]) -> None:
    found = read_limits(f"{values[0]}{joint}{values[1]} mm")
    assert [text.removesuffix(" mm") for text in found.texts] == [str(value) for value in values]


@pytest.mark.parametrize("row", rows("typed_several.csv"), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_several_options_are_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_several(row["entry"], SEVERAL)
    sets = ["".join("abcd"[i] for i in sorted(chosen)) for chosen in reading.sets]
    nobody = [""] if row["certainty"] == Certainty.CERTAIN else []
    assert (sets, reading.certainty) == (row["sets"].split() or nobody, row["certainty"]), reading
    assert told(reading.certainty, reading.repairs, reading.reason)


@pytest.mark.parametrize("joint", ["", " ", ", ", ";", " and ", " & ", "/", "\n", ") "])
@pytest.mark.parametrize("count", range(1, 5))
def test_every_set_of_letters_is_read_with_every_sign_between(joint: str, count: int) -> None:
    for chosen in itertools.combinations(range(4), count):
        for letters in (joint.join("abcd"[i] for i in chosen), joint.join("DCBA"[3 - i] for i in reversed(chosen))):
            assert read_several(letters, SEVERAL).sets == (frozenset(chosen),), letters


@pytest.mark.parametrize("row", rows("typed_pairs.csv"), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_pairs_are_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_pairs(row["entry"], THINGS, PROCESSES)
    given = "".join("_" if i is None else "abcd"[i] for i in reading.options or ())
    assert (given, reading.certainty) == (row["pairs"], row["certainty"]), reading
    assert told(reading.certainty, reading.repairs, reading.reason)


@pytest.mark.parametrize("inside", ["", " ", "-", ": ", " = ", ") "])
@pytest.mark.parametrize("between", [" ", ", ", "; ", "\n"])
def test_every_set_of_pairs_is_read_with_every_sign_between(inside: str, between: str) -> None:
    for letters in list(itertools.product("abcd", repeat=3))[::5]:
        text = between.join(f"{number}{inside}{letter}" for number, letter in enumerate(letters, 1))
        turned = between.join(f"{letter.upper()}{inside}{number}" for number, letter in enumerate(letters, 1))
        wanted = tuple(map("abcd".index, letters))
        both = [read_pairs(typed, THINGS, PROCESSES).options for typed in (text, turned)]
        assert both == [wanted, wanted], text


def test_a_thing_without_words_is_known_by_its_number_alone() -> None:
    assert read_pairs("1c 3d", ["", "", ""], PROCESSES).options == (2, None, 3)
    assert read_pairs("bore: c", ["", "", ""], PROCESSES).options is None


@pytest.mark.parametrize("row", rows("typed_orders.csv"), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_an_order_is_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_order(row["entry"], STEPS)
    orders = ["".join("abcd"[i] for i in order) for order in reading.orders]
    assert (orders, reading.certainty) == (row["orders"].split(), row["certainty"]), reading
    assert told(reading.certainty, reading.repairs, reading.reason)


@pytest.mark.parametrize("row", rows("typed_points.csv"), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_points_are_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_points(row["entry"], POINTS)
    assert (list(reading.names), reading.certainty) == (row["names"].split(), row["certainty"]), reading
    assert len(reading.doubtful) == int(row["doubtful"])
    assert told(reading.certainty, reading.repairs, reading.reason)


@pytest.mark.parametrize("separator", ["\n", ", ", "; ", " > ", " then ", " → "])
@given(order=st.permutations(range(4)))
def test_names_are_read_in_every_order_with_every_sign_between(separator: str, order: list[int]) -> None:
    reading = read_order(separator.join(STEPS[i] for i in order), STEPS)
    assert (reading.orders, reading.certainty) == ((tuple(order),), Certainty.CERTAIN)


@given(order=st.permutations(range(4)))
def test_numbers_beside_the_names_give_their_places(order: list[int]) -> None:
    lines = "\n".join(f"{order.index(i) + 1}. {step}" for i, step in enumerate(STEPS))
    assert read_order(lines, STEPS).orders == (tuple(order),)


@given(order=st.permutations(range(4)))
def test_bare_numbers_keep_both_meanings(order: list[int]) -> None:
    reading = read_order(" ".join(str(i + 1) for i in order), STEPS)
    places = tuple(order.index(i) for i in range(4))
    assert set(reading.orders) == {tuple(order), places}


@pytest.mark.parametrize("letters", list(itertools.permutations("abcd")), ids="".join)
def test_letters_are_read_in_every_order(letters: tuple[str, ...]) -> None:
    expected = tuple("abcd".index(x) for x in letters)
    assert all(read_order(joint.join(letters), STEPS).orders == (expected,) for joint in ("", " ", ",", ">", " - "))


@pytest.mark.parametrize("option", range(4))
@pytest.mark.parametrize("shape", ["{low}", "{high}", "({low})", "{low})", "{low}.", "{text}", "{low}) {text}"])
def test_every_option_is_found_in_every_shape(option: int, shape: str) -> None:
    entry = shape.format(low="abcd"[option], high="ABCD"[option], text=OPTIONS["loads"][option])
    reading = read_choice(entry, OPTIONS["loads"])
    assert (reading.index, reading.certainty) == (option, Certainty.CERTAIN)


@pytest.mark.parametrize("joint", [", ", "; ", "\n"])
@given(names=st.lists(st.sampled_from(sorted(POINTS)), min_size=1, max_size=4, unique=True))
def test_points_are_found_in_every_order(joint: str, names: list[str]) -> None:
    reading = read_points(joint.join(POINTS[name][-1] for name in names), POINTS)
    assert (list(reading.names), reading.certainty) == (names, Certainty.CERTAIN)


@given(name=st.sampled_from(sorted(POINTS)), denial=st.sampled_from(["not", "no", "never", "it isn't", "without"]))
def test_a_denied_point_is_never_counted(name: str, denial: str) -> None:
    assert all(read_points(f"{denial} {wording}", POINTS).names == () for wording in POINTS[name])


def test_what_was_typed_for_a_point_is_kept() -> None:
    (point,) = read_points("it shows yeilding", POINTS).found
    assert (point.name, point.wording, point.typed, point.misspelt) == ("yield", "yielding", "yeilding", True)


def test_clauses_without_a_point_are_kept_for_the_teacher() -> None:
    assert read_points("tough, shiny, made in a yard", POINTS).unmatched == ("shiny", "made in a yard")


@pytest.mark.parametrize(
    ("entry", "reason"),
    [
        ("a b c", "step d is missing"),
        ("a a b c", "step a is named twice"),
        ("a b c e", "there is no step “e”"),
        ("1,2,3,9", "the steps are numbered 1 to 4"),
        ("a=1, b=1, c=2, d=3", "the numbers beside the steps are not one after the other"),
        ("mark out, saw, drill, deburr", "“saw” is not clearly one of the steps"),
    ],
)
def test_an_order_that_cannot_be_read_says_why(entry: str, reason: str) -> None:
    assert read_order(entry, STEPS).reason == reason


@given(text=st.text(max_size=120))
def test_any_text_gives_a_reading_of_each_kind(text: str) -> None:
    choice, order, points = read_choice(text, OPTIONS["loads"]), read_order(text, STEPS), read_points(text, POINTS)
    assert (choice.index is None) == (choice.certainty not in (Certainty.CERTAIN, Certainty.REPAIRED))
    assert all(sorted(o) == [0, 1, 2, 3] for o in order.orders)
    assert len(set(points.names)) == len(points.names)
    assert len(read_limits(text).texts) <= 2
    several = read_several(text, SEVERAL)
    assert bool(several.sets) is (several.certainty not in (Certainty.BLANK, Certainty.UNREADABLE))
    pairs = read_pairs(text, THINGS, PROCESSES)
    assert (pairs.options is None) is (pairs.certainty in (Certainty.BLANK, Certainty.UNREADABLE))


WORDS = st.sampled_from(
    [*"abcd1234,;><→-().\n", "tension", "not", "in", "shear", "drill", "mark", "out", "then", "no", "hard", "tough"]
)


@given(text=st.lists(WORDS, max_size=14).map(" ".join))
def test_any_mixture_of_their_own_words_gives_a_reading_of_each_kind(text: str) -> None:
    assert read_choice(text, OPTIONS["loads"]).certainty in Certainty
    assert read_order(text, STEPS).certainty in Certainty
    assert read_points(text, POINTS).certainty in Certainty
    assert read_several(text, SEVERAL).certainty in Certainty
    assert read_pairs(text, THINGS, PROCESSES).certainty in Certainty
    assert len(read_limits(text).texts) <= 2


@pytest.mark.parametrize("text", ["a " * 4000, "(" * 4000, "not " * 600, "1 " * 999, "drill " * 300, "a>" * 999])
def test_long_texts_are_answered(text: str) -> None:
    assert read_choice(text, OPTIONS["loads"]).index is None
    assert read_order(text, STEPS).orders == ()
    assert read_points(text, POINTS).names == ()
