"""What all tests share: the programs they look with, how hypothesis searches, and that nothing reaches the network."""

import gc
import ipaddress
import os
import socket
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

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


LONGEST = ("test_readme", "test_demo")
"""Modules that one process takes as long for as others for hundreds: first, or the other process waits at the end."""


def pytest_configure(config: pytest.Config) -> None:
    """Where the environment forbids to keep compiled modules, each process that a test starts compiles the package, for
    half a second: it is allowed here. Not for mutants: two of them, made within a second, could be taken for one."""
    if config.getoption("--hypothesis-profile", None) != "mutants":
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        sys.dont_write_bytecode = False
    gc.disable()


def pytest_collection_finish() -> None:
    """What was collected stays to the end: looking through it for garbage took a quarter of the time of collecting."""
    gc.freeze()
    gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest modules first; all others stay in their order."""
    items.sort(key=lambda item: item.path.stem not in LONGEST)


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


@pytest.fixture(scope="session", autouse=True)
def no_network() -> Iterator[None]:
    """Student data stays on the machine: a connection to anywhere else is an error in whatever test makes it."""
    connect = socket.socket.connect

    def only_here(this: socket.socket, address: Any) -> None:
        if this.family in (socket.AF_INET, socket.AF_INET6) and not _is_here(str(address[0])):
            raise AssertionError(f"a test reached for {address}")
        connect(this, address)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", only_here)
        yield


def _is_here(host: str) -> bool:
    try:
        return host == "localhost" or ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
