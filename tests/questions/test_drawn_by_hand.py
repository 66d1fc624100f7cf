"""What is drawn of a question and what a pick stands for, what a seed asks for again, and what a class is told that is
too large."""

from decimal import Decimal

import numpy as np
import pytest

from witnessmark.files.bank.question_text import question_from_text
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.drawing import draw as module
from witnessmark.questions.drawing.draw import Space, allowed, count_allowed, draw_class, draw_several
from witnessmark.questions.drawing.space import (
    asks_for_numbers,
    choices,
    columns_of,
    nth_pick,
    pick_of,
    space,
    variant_at,
)
from witnessmark.questions.drawing.unmodelled_clashes import Crowding
from witnessmark.questions.model.question import Table
from witnessmark.questions.sheet.task import Rules, Task
from witnessmark.words.errors import NoVariant

WOODS = Table(
    "woods", "invented", {"weight": "kg/m^3", "bend": "MPa"},
    {
        "larch": {"weight": Decimal(590), "bend": Decimal(90)},
        "oak": {"weight": Decimal(710), "bend": Decimal(97), "finish": "oiled"},
        "teak": {"weight": Decimal(640), "bend": Decimal(100)},
    },
)  # fmt: skip
TEXT = """
question: oars
title: Oars
topic: lengths
level: 1
setting: S
given:
  blade: {row of: woods, rows: [teak, larch]}
  loom:  {row of: woods}
  L: {is: length, unit: m, from: 2.5, to: 4, step: 0.5}
  e: {is: half of it, unit: m, value: L/2}
  n: {is: oars, one of: [2, 4, 6, 8]}
find:
  x: {ask: A, is: B, unit: m, answer: 1.01*n*e, marks: 1}
"""
AREA = """
question: decks
title: Decks
topic: lengths
level: 1
setting: S
given:
  a: {{is: length, unit: m, {a}}}
  b: {{is: width, unit: m, {b}}}
keep: [{keep}]
find:
  x: {{ask: A, is: area, unit: m^2, answer: a*b, marks: 2, slips: [{slips}]}}
"""


def loaded(text: str) -> DrawableQuestion:
    """The question of a text."""
    found, problems = question_from_text(text, "q.yaml", {"woods": WOODS})
    assert problems == ()
    assert found is not None
    return found


def deck(a: str, b: str, keep: str = "", slips: str = "") -> DrawableQuestion:
    """A question of two lengths and their area."""
    return loaded(AREA.format(a=a, b=b, keep=keep, slips=slips))


def upto(last: int) -> str:
    return f"from: 1, to: {last}, step: 1"


# The space.


def test_rows_are_drawn_first_and_then_givens_each_from_its_own_values() -> None:
    told = [(c.name, c.unit, [str(v) for v in c.values] or list(c.rows)) for c in choices(loaded(TEXT))]
    assert told == [
        ("blade", "", ["teak", "larch"]), ("loom", "", ["larch", "oak", "teak"]),
        ("L", "m", ["2.5", "3.0", "3.5", "4.0"]), ("n", "", ["2", "4", "6", "8"]),
    ]  # fmt: skip
    assert [c.count for c in choices(loaded(TEXT))] == [2, 3, 4, 4]
    assert space(loaded(TEXT)) == 96


def test_a_pick_stands_for_a_row_of_each_table_a_value_of_each_given_and_what_follows() -> None:
    variant = variant_at(loaded(TEXT), (0, 1, 3, 1))
    assert variant.row_names == {"blade": "teak", "loom": "oak"}
    assert {name: f"{shown.number:f} {shown.unit}" for name, shown in variant.shown.items()} == {
        "L": "4.0 m", "n": "4 ", "e": "2 m",
    }  # fmt: skip


def test_the_columns_of_picks_are_the_numbers_of_their_variants() -> None:
    found = loaded(TEXT.replace("1.01*n*e", "n*e*blade.bend/loom.bend*loom.weight/blade.weight"))
    picks = [(0, 1, 3, 1), (1, 2, 0, 0), (0, 0, 2, 3)]
    columns = columns_of(found, picks)
    assert columns["blade.bend"].tolist() == [100e6, 90e6, 100e6]
    assert columns["loom.weight"].tolist() == [710.0, 640.0, 590.0]
    assert columns["e"].tolist() == [2.0, 1.25, 1.75]
    for row, pick in enumerate(picks):
        assert {name: column[row] for name, column in columns.items()} == variant_at(found, pick).values


def test_a_column_that_only_some_of_the_rows_have_is_no_column() -> None:
    """The blade is of elm, of which the table tells the strength; the loom is of elm or of ash."""
    rows: dict[str, dict[str, Decimal | str]] = {
        "elm": {"weight": Decimal(600), "bend": Decimal(70)}, "ash": {"weight": Decimal(690)},
    }  # fmt: skip
    text = TEXT.replace("[teak, larch]", "[elm]").replace("1.01*n*e", "n*e*loom.weight/blade.weight")
    tables = {"woods": Table("woods", "invented", {"weight": "kg/m^3", "bend": "MPa"}, rows)}
    found, problems = question_from_text(text + "keep: [blade.bend > 1 MPa]\n", "q.yaml", tables)
    assert problems == ()
    assert found is not None
    columns = columns_of(found, [(0, 1, 0, 0)])
    assert sorted(columns) == ["L", "blade.bend", "blade.weight", "e", "loom.weight", "n"]


def test_a_pick_has_an_index_for_each_choice_the_first_one_changing_fastest() -> None:
    assert [nth_pick([2, 3], n) for n in range(6)] == [(0, 0), (1, 0), (0, 1), (1, 1), (0, 2), (1, 2)]
    assert {len(pick_of([2, 3, 4], str(n))) for n in range(9)} == {3}


def test_numbers_are_asked_where_any_part_asks_one() -> None:
    words = "  x: {ask: A, points: {one: [first], two: [second]}, needed: 1, marks: 1}\n"
    alone = loaded(AREA.format(a=upto(3), b=upto(3), keep="", slips="").partition("  x:")[0] + words)
    assert not asks_for_numbers(alone)
    number = "  y: {ask: A, is: area, unit: m^2, answer: a*b, marks: 2}\n"
    both = loaded(AREA.format(a=upto(3), b=upto(3), keep="", slips="").partition("  x:")[0] + words + number)
    assert asks_for_numbers(both)


# What a seed asks for.


def test_every_number_that_may_go_out_of_those_a_seed_asks_for_first_is_drawn_at_once() -> None:
    found = deck(upto(12), upto(12), "a < b")
    wished = list(dict.fromkeys(Space(found).wishes("gull", 0)))
    may = [pick for pick, good in zip(wished, allowed(found, wished), strict=True) if good]
    assert 2 < len(may) < len(wished)
    assert [v.identity for v in draw_several(found, "gull")] == [variant_at(found, pick).identity for pick in may]


@pytest.mark.parametrize("seed", ["gull", "tern", "heron"])
def test_several_are_drawn_of_the_first_round_that_holds_any(seed: str) -> None:
    found = deck(upto(90), upto(90), "a > 88.5 m, b > 80.5 m")
    rounds = [Space(found).wishes(seed, n) for n in range(64)]
    first = next(n for n, picks in enumerate(rounds) if allowed(found, picks).any())
    assert first > 0
    wanted = [variant_at(found, pick).identity for pick in rounds[first] if allowed(found, [pick])[0]]
    assert [v.identity for v in draw_several(found, seed)] == wanted


def test_where_nothing_may_go_out_the_search_for_several_says_that_one_was_wanted() -> None:
    with pytest.raises(NoVariant) as error:
        draw_several(deck(upto(3), upto(3), "a > 5 m"), "gull")
    assert (error.value.count, error.value.needed) == (0, 1)


def test_what_is_free_is_the_least_crowded_that_may_go_out_and_is_not_taken() -> None:
    found = deck(upto(9), upto(9), slips="{misconception: m, answer: a*a, keeps: 1}")
    picks = [nth_pick([9, 9], n) for n in range(81)]
    seen = Space(found)
    seen.look_at(picks)
    may = allowed(found, picks)
    crowds = Crowding(found, 3).of(columns_of(found, picks), len(picks))
    ranked = sorted((n for n in range(81) if may[n]), key=lambda n: crowds[n])
    assert len({int(crowds[n]) for n in ranked}) > 1
    assert seen.usable([*picks, *picks]) == [pick for pick, good in zip(picks, may, strict=True) if good]
    taken: set[tuple[tuple[str, str], ...]] = set()
    for n in ranked:
        assert seen.best_free(picks, taken) == picks[n]
        taken.add(seen.variant(picks[n]).identity)
    assert seen.best_free(picks, taken) is None


def test_what_was_looked_at_is_not_looked_at_again(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def counted(question: DrawableQuestion, picks: list[tuple[int, ...]], figures: int) -> object:
        asked.append(len(picks))
        return allowed(question, picks, figures)

    monkeypatch.setattr(module, "allowed", counted)
    seen = Space(deck(upto(9), upto(9)))
    for picks in ([(1, 2), (1, 2), (3, 4)], [(3, 4)], [(3, 4), (5, 6)]):
        seen.look_at(picks)
    assert asked == [2, 1]
    assert seen.variant((1, 2)) is seen.variant((1, 2))


# Classes.


TASK = Task("decks-1", "Decks", ("decks",), rules=Rules())


def test_a_class_larger_than_the_space_less_what_is_taken_is_told_before_anything_is_drawn(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    found = deck("one of: [11, 13, 17]", "one of: [19, 23, 29]")
    taken = frozenset(v.identity for v in draw_class(found, TASK, ["A", "B", "C"], frozenset()).values())
    monkeypatch.setattr(module, "draw_all", None)
    with pytest.raises(NoVariant) as error:
        draw_class(found, TASK, list("DEFGHIJ"), taken)
    assert (error.value.count, error.value.needed) == (9, 10)


def test_where_numbers_may_come_again_one_variant_serves_a_whole_class() -> None:
    found = deck("one of: [11]", "one of: [19]")
    assert count_allowed(found) == 1
    drawn = draw_class(found, TASK, ["A", "B", "C"], frozenset(), repeats=True)
    assert sorted(drawn) == ["A", "B", "C"]


def test_a_later_attempt_has_the_numbers_of_its_own_seed() -> None:
    found = deck(upto(40), upto(50))
    first = draw_class(found, TASK, ["A", "B"], frozenset())
    second = draw_class(found, TASK, ["A", "B"], frozenset(), attempts={"B": 2})
    assert first["A"].identity == second["A"].identity == found.draw("decks-1|A|1").identity
    assert second["B"].identity == found.draw("decks-1|B|2").identity != first["B"].identity


# How crowded a variant is.


def test_a_variant_is_crowded_by_each_unmodelled_way_to_the_digits_of_a_known_one() -> None:
    """Of a length times a width: with the width left out, doubled or halved, added or divided the digits are those of
    the area where the width is 1, never where it is 7 and the length 23."""
    found = deck(upto(30), upto(30))
    columns = {"a": np.array([23.0, 23.0, 23.0]), "b": np.array([1.0, 7.0, 10.0])}
    one, seven, ten = Crowding(found, 3).of(columns, 3).tolist()
    assert one > 3
    assert ten > 3
    assert seven == 0
