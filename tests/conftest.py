"""What all tests share: the programs they look with, and how hypothesis searches."""

import os
from pathlib import Path

import pytest
from hypothesis import settings

from programs import needed

# Time limits would fail on a busy machine. In CI the same examples each time: a failure there can be repeated here.
settings.register_profile("witnessmark", deadline=None, print_blob=True, derandomize=os.environ.get("CI") == "true")
settings.load_profile("witnessmark")


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
