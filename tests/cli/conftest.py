"""What tests of commands share: a clock that moves on by itself."""

from datetime import timedelta
from itertools import count

import pytest

import witnessmark.cli.shared
from jobs.small_class import LATER


@pytest.fixture
def a_second_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Commands run on the day after the class was marked, each a second after the one before."""
    times = (LATER + timedelta(days=1, seconds=n) for n in count())
    monkeypatch.setattr(witnessmark.cli.shared, "now", lambda: next(times))
