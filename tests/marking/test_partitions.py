"""A table in partitions is marked as one table is, wherever its partitions are marked.

Skipped in an environment that was made before the lock file named what `dask.dataframe` needs.
"""

from collections.abc import Iterator
from typing import Any

import pandas as pd
import pytest

import benchmark_table
import witnessmark as wm

dask: Any = pytest.importorskip("dask")
dataframe: Any = pytest.importorskip("dask.dataframe", exc_type=ImportError)
pytestmark = pytest.mark.filterwarnings("ignore")  # what these libraries warn of is not ours

QUESTION, FRAME = benchmark_table.question(), benchmark_table.entries(300)


@pytest.fixture(autouse=True)
def in_this_process() -> Iterator[None]:
    """Partitions are marked one after the other, here."""
    with dask.config.set(scheduler="synchronous"):
        yield


def same(found: Any, expected: pd.DataFrame) -> None:
    """The same rows; Dask keeps texts in a kind of column of its own."""
    pd.testing.assert_frame_equal(found.compute().astype(expected.dtypes), expected)


@pytest.mark.parametrize("partitions", [1, 3])
def test_a_table_in_partitions_is_marked_as_one_table_is(partitions: int) -> None:
    marked = wm.mark_table(QUESTION, dataframe.from_pandas(FRAME, npartitions=partitions))
    assert isinstance(marked, dataframe.DataFrame)
    same(marked, wm.mark_table(QUESTION, FRAME))


def test_a_partition_without_rows_does_not_stop_the_others() -> None:
    ordered = FRAME.sort_values("tau", ignore_index=True)
    whole = dataframe.from_pandas(ordered, npartitions=3)
    marked = wm.mark_table(QUESTION, whole[whole["tau"] > 400])
    same(marked, wm.mark_table(QUESTION, ordered[ordered["tau"] > 400]))


def test_the_students_of_one_class_are_not_marked_in_partitions() -> None:
    with pytest.raises(ValueError, match="one table"):
        wm.mark_table(QUESTION, dataframe.from_pandas(FRAME, npartitions=2), as_class=True)
