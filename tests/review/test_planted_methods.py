"""Wrong methods that no question models, planted in classes: how many the class-wide search finds, and that it finds
none among numbers without a method. A few in the usual run; the whole table and 3,000 classes of noise in the deep one.
"""

from collections import Counter

import pytest

from review.planting import found_in, noise_classes, planted_class, plants

PLANTS = plants()
ONE_CHANGE = ("edit", "product")
SAMPLE = (
    ("tube-strut", "pi*(D-t)*t*2"), ("davit", "pi*(D**4+d**4)/(32*D)"), ("cable-drop", "U-3*R*I"),
    ("oar", "F*(L+e)/2"), ("bollard-turns", "F_1*exp(2*mu*phi)"),
)  # fmt: skip


@pytest.mark.parametrize(("question", "formula"), SAMPLE)
def test_what_three_of_a_class_share_is_found_whatever_kind_of_change_it_is(question: str, formula: str) -> None:
    (plant,) = [p for p in PLANTS if (p.question, p.formula) == (question, formula)]
    assert found_in(planted_class(plant, 3, 1)) == (True, 0)


def test_two_classes_of_noise_share_nothing() -> None:
    assert [method for method in noise_classes((0, 402)) if method is not None] == []


def test_the_table_has_every_kind_of_change_and_more_than_a_hundred_methods() -> None:
    kinds = Counter(p.kind for p in PLANTS)
    assert len(PLANTS) > 100
    assert set(kinds) == {
        "edit", "product", "sum", "swap", "constant", "other given", "other function", "two",
    }  # fmt: skip


@pytest.mark.deep
@pytest.mark.parametrize("sharing", [3, 5])
def test_nearly_every_planted_method_is_found(sharing: int) -> None:
    tried: Counter[bool] = Counter()
    found: Counter[bool] = Counter()
    for plant in PLANTS:
        for seed in (1, 2, 3):
            is_found, _ = found_in(planted_class(plant, sharing, seed))
            tried[plant.kind in ONE_CHANGE] += 1
            found[plant.kind in ONE_CHANGE] += is_found
    assert found[True] >= 0.99 * tried[True], f"{found[True]} of {tried[True]} with one change"
    assert found.total() >= 0.9 * tried.total(), f"{found.total()} of {tried.total()} of all kinds"


@pytest.mark.deep
def test_of_three_thousand_classes_of_noise_at_most_two_share_a_formula() -> None:
    assert sum(method is not None for method in noise_classes(range(3000))) <= 2
