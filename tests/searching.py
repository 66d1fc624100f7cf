"""How many examples a property is tried with, in proportion to the profile that was chosen (`conftest`)."""

from hypothesis import settings

USUAL = 100


def examples(count: int) -> settings:
    """So many examples usually; as many times more where the profile asks for more."""
    return settings(max_examples=count * settings().max_examples // USUAL)
