"""Values refuse what they cannot be, where they are made, and say what was expected and what was found."""

import math
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

import witnessmark as wm

D = Decimal


def changed(name: str, value: object) -> dict[str, Any]:
    return {name: value}


def refused(make: Callable[[], object]) -> str:
    """What the refusal says."""
    with pytest.raises(ValueError, match="expected") as raised:
        make()
    return str(raised.value)


@pytest.mark.parametrize("figures", [0, -1, 10, 3.0, True, "3", None])
def test_rules_ask_for_one_to_nine_figures(figures: int) -> None:
    assert refused(lambda: wm.Rules(figures=figures)) == (
        f"figures: expected a whole number from 1 to 9, found {figures!r}"
    )


AMOUNTS = ["unit_missing", "rounded_early", "wrong_unit", "power_of_ten", "unknown_method", "figures_mark"]


@pytest.mark.parametrize("name", AMOUNTS)
@pytest.mark.parametrize("amount", [D(-1), D("NaN"), D("Infinity"), 0.5, "1", None])
def test_rules_take_exact_marks_off(name: str, amount: object) -> None:
    said = refused(lambda: replace(wm.Rules(), **changed(name, amount)))
    assert said == f"{name}: expected marks as a Decimal, finite, at least 0, found {amount!r}"


@pytest.mark.parametrize("share", [-0.1, 1.1, math.nan, "0.9", True])
def test_rules_ask_below_a_share(share: float) -> None:
    assert refused(lambda: wm.Rules(ask_below=share)).startswith("ask_below: expected a number from 0 to 1")


@pytest.mark.parametrize("name", ["carried_forward", "half_marks"])
def test_rules_have_switches_that_are_on_or_off(name: str) -> None:
    assert refused(lambda: replace(wm.Rules(), **changed(name, "no"))) == f"{name}: expected True or False, found 'no'"
