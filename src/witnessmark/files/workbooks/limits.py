"""What reading one workbook may take, agreed between the worker that reads and the reader that waits for it."""

from witnessmark.files.workbooks.archive import too_large
from witnessmark.words.problems import Problem

MOST_MEMORY = 500_000_000  # bytes, of addresses where the system counts those
MOST_SECONDS = 3  # of the processor, so that a busy machine refuses no good book
MOST_WAIT = 20  # by the clock, where the system counts no seconds of the processor
READY = b"ready\n"
LENGTH = 8  # bytes that say how many follow


def too_much_work(file: str = "") -> Problem:
    """The problem of a file that would take more time or memory than any answer book needs."""
    expected = f"a workbook that is read in {MOST_SECONDS} seconds and {MOST_MEMORY // 1_000_000} MB"
    return too_large(file, expected, "one that takes more")
