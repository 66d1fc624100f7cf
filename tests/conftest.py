"""What all tests share: the programs they look with, and how hypothesis searches."""

import os
from pathlib import Path

import pytest
from hypothesis import Phase, settings

from programs import needed

# Time limits would fail on a busy machine. In CI the same examples each time: a failure there can be repeated here.
# `scripts/test --deep` takes the last: fresh examples, twenty times as many (`searching.examples` follows it).
settings.register_profile("fresh", deadline=None, print_blob=True)
settings.register_profile("same", deadline=None, print_blob=True, derandomize=True)
settings.register_profile("deep", deadline=None, print_blob=True, derandomize=False, max_examples=2_000)
# `scripts/mutate` wants to know whether a test fails, not the smallest example on which it does.
settings.register_profile("mutants", settings.get_profile("same"), phases=[Phase.explicit, Phase.generate])
settings.load_profile("same" if os.environ.get("CI") == "true" else "fresh")


@pytest.fixture(scope="session")
def soffice() -> Path:
    """LibreOffice; see `programs.convert`."""
    return needed("soffice", "libreoffice-calc")


@pytest.fixture(scope="session")
def chromium() -> Path:
    """Chromium; see `programs.screenshot`."""
    return needed("chromium", "chromium")


@pytest.fixture(scope="session")
def pdftoppm() -> Path:
    """poppler's printer of pages; see `programs.pictures`."""
    return needed("pdftoppm", "poppler-utils")
