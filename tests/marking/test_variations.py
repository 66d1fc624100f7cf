"""Workings within two changes of the right one: each is worked as its own method says, and none is lost or hidden."""

import numpy as np
import numpy.typing as npt
import pytest

from witnessmark.marking.search.changes import Context
from witnessmark.marking.search.samples import Sample
from witnessmark.marking.search.tables import worked
from witnessmark.marking.search.variations import Variations
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import parse
from witnessmark.questions.working.evaluation import number_of
from witnessmark.questions.working.methods import Method, Step
from witnessmark.questions.working.working import AskedNumber

Floats = npt.NDArray[np.float64]
LENGTHS = {name: unit("m").dimension for name in ("a", "b", "d")}
SAMPLE = {"a": np.array([2.0, 3.0, 7.0]), "b": np.array([5.0, 11.0, 4.0]), "d": np.array([13.0, 6.0, 9.0])}


def varied(formula: str, of: str, columns: dict[str, Floats] = SAMPLE, lines: tuple[Step, ...] = ()) -> Variations:
    """The changed workings of a formula of lengths."""
    right = Method(lines, AskedNumber("x", parse(formula), of, 3))
    known = {name: LENGTHS[name] for name in columns}
    powers = {name: np.array(dimension.powers) for name, dimension in known.items()}
    asked = np.array(unit(of).dimension.powers)
    return Variations(right, Sample(columns, powers, 3), Context(known, tuple(known)), asked, [])


@pytest.fixture(scope="module")
def of_d_twice() -> Variations:
    """Of a formula in which d stands twice."""
    return varied("d*(a + d)", "m^2")


def test_every_changed_working_gives_what_its_own_method_gives(of_d_twice: Variations) -> None:
    values = of_d_twice.values(SAMPLE, 3)
    throughout = [n for n in range(of_d_twice.count) if any(c.throughout for c in of_d_twice.done(n))]
    assert {len(of_d_twice.done(n)) for n in throughout} == {1, 2}
    for row in [*range(0, of_d_twice.count, 41), *throughout[::5]]:
        alone = number_of(of_d_twice.method(row), SAMPLE, LENGTHS)
        assert values[row] == pytest.approx(alone, rel=1e-9), of_d_twice.done(row)


def test_a_name_that_stands_twice_may_be_changed_wherever_it_stands(of_d_twice: Variations) -> None:
    """With b in the place of d everywhere it is a b + b^2."""
    changes = [[c.throughout for c in of_d_twice.done(n)] for n in range(of_d_twice.count)]
    row = changes.index([{"d": parse("b")}])
    assert of_d_twice.values(SAMPLE, 3)[row].tolist() == [2 * 5 + 5 * 5, 3 * 11 + 11 * 11, 7 * 4 + 4 * 4]


def test_a_name_changes_throughout_where_it_stands_twice_and_two_names_change_places(of_d_twice: Variations) -> None:
    """What is done to a name that stands once is done there; a and d in each other's place make a (d + a)."""
    throughout = [c.throughout for c in of_d_twice.changes if c.throughout]
    assert {tuple(trees) for trees in throughout} == {("d",), ("d", "a")}
    swapped = SAMPLE["a"] * (SAMPLE["d"] + SAMPLE["a"])
    assert (of_d_twice.values(SAMPLE, 3) == swapped).all(1).any()


def test_a_term_that_is_nothing_in_one_variant_hides_no_change_of_the_others() -> None:
    nothing = {"a": np.array([2.0, 0.0, 7.0]), "d": SAMPLE["d"]}
    found = varied("a + d", "m", nothing)
    values = found.values(nothing, 3)
    assert (values == nothing["a"] + 2 * nothing["d"]).all(1).any()
    assert np.isfinite(np.log10(np.abs(values))).all()


def test_no_changed_working_is_kept_that_is_nothing_in_some_variant() -> None:
    """With 0 for a in one variant all that a multiplies is nothing there."""
    nothing = {"a": np.array([2.0, 0.0, 7.0]), "b": SAMPLE["b"]}
    values = varied("a*(a + b)", "m^2", nothing).values(nothing, 3)
    assert (values != 0).all()


def test_of_changes_that_give_equal_numbers_one_is_gone_on_with(of_d_twice: Variations) -> None:
    """What is joined with every other change would be tried as often as it is written."""
    alone, *changed = worked(of_d_twice._root, of_d_twice.with_lines(SAMPLE), 3)
    assert alone.tolist() == [(SAMPLE["d"] * (SAMPLE["a"] + SAMPLE["d"])).tolist()]
    for table in changed:
        signed = np.concatenate([np.sign(table), np.round(np.log10(np.abs(table)), 9)], axis=1)
        assert len(np.unique(signed, axis=0)) == len(table)


def test_no_two_formulas_are_one_power_of_ten_apart_in_every_variant(of_d_twice: Variations) -> None:
    """An answer is compared whatever its power of ten."""
    logs = np.log10(np.abs(of_d_twice.values(SAMPLE, 3)))
    assert len(np.unique(np.round(logs - np.round(logs[:, :1]), 9), axis=0)) == of_d_twice.count


def test_a_change_in_a_line_that_is_used_often_is_seen_wherever_it_stands() -> None:
    """With L = a + b in L (d + L) (b + L): a left out, the line doubled, a difference for the sum, and a three times,
    which two changes in the formula itself do not reach."""
    line = Step("L", AskedNumber("x.L", parse("a + b"), "m", 3))
    found = varied("L*(d + L)*(b + L)", "m^3", lines=(line,))
    values, (a, b, d) = found.values(SAMPLE, 3), SAMPLE.values()
    for changed in (b, 2 * (a + b), a - b, 3 * a + b):
        wanted = changed * (d + changed) * (b + changed)
        assert np.isclose(np.abs(values), np.abs(wanted), rtol=1e-9).all(1).any(), changed
    for row in range(0, found.count, 397):
        assert np.abs(values[row]) == pytest.approx(np.abs(number_of(found.method(row), SAMPLE, LENGTHS)), rel=1e-9)


def test_what_is_done_to_the_whole_is_told_as_done_to_the_result(of_d_twice: Variations) -> None:
    said = {change.form.done for change in of_d_twice.changes}
    assert {"the result were doubled", "half of d were taken"} <= said
    assert not {"half of d*(a + d) were taken", "a factor were doubled"} & said
