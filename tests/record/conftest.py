"""A record in a folder of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from record.examples import NOW, from_bundle, sheets
from witnessmark.record.record import Record


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the record of a test lies."""
    return tmp_path / "record.db"


@pytest.fixture
def record(path: Path) -> Iterator[Record]:
    """An open record without contents."""
    with Record(path, from_bundle) as made:
        yield made


@pytest.fixture
def issued(record: Record) -> Record:
    """An open record with three sheets of one task."""
    record.add_sheets(sheets(), NOW)
    return record
