"""How much of a search the usual run makes: examples in proportion to the profile (`conftest`), some of many cases."""

from collections.abc import Sequence

import pytest
from hypothesis import settings

USUAL = 100


def examples(count: int) -> settings:
    """So many examples usually; as many times more where the profile asks for more."""
    return settings(max_examples=count * settings().max_examples // USUAL)


def every(cases: Sequence[str], step: int) -> list[object]:
    """Each case, of which the usual run tries every so many and `--deep` the rest."""
    deep = pytest.mark.deep
    return [case if n % step == 0 else pytest.param(case, marks=deep) for n, case in enumerate(cases)]
