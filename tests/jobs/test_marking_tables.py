"""A large table is marked by copies of this process where there can be any, and says the same wherever it is marked."""

import json
import subprocess
import sys
import textwrap
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import benchmark_table
import witnessmark as wm
from witnessmark.marking import frames
from witnessmark.marking.pieces import Alone

QUESTION = benchmark_table.question()
linux = pytest.mark.skipif(sys.platform != "linux", reason="copies are made on Linux alone")


def test_the_public_door_says_what_the_marker_says() -> None:
    frame = benchmark_table.entries(300)
    alone = frames.mark_table(QUESTION, frame, None, as_class=False, workers=Alone())
    pd.testing.assert_frame_equal(wm.mark_table(QUESTION, frame), alone)


def alone(code: str) -> Any:
    """What a process with one thread tells after these lines, in `found`; pytest's own may have others."""
    begin = (
        "import json, os, signal, sys, threading; from witnessmark.jobs.marking_tables import Copies; us = os.getpid();"
    )
    told = [sys.executable, "-c", f"{begin}\n{textwrap.dedent(code)}\njson.dump(found, sys.stdout)"]
    return json.loads(subprocess.run(told, capture_output=True, text=True, check=True).stdout)


@linux
def test_pieces_are_shared_with_a_copy_and_come_in_order() -> None:
    found = alone("found = Copies(2).each(lambda piece: (piece, os.getpid() == us), [3, 1, 2])")
    assert found == [[3, True], [1, False], [2, True]]


@linux
def test_what_a_copy_finished_before_it_met_an_error_is_not_done_again() -> None:
    found = alone("""
        def act(piece):
            if piece == 6 and os.getpid() != us:
                raise TypeError("only in a copy")
            return piece, os.getpid() == us

        found = Copies(2).each(act, [1, 2, 3, 4, 5, 6])
    """)
    assert found == [[1, True], [2, False], [3, True], [4, False], [5, True], [6, True]]


@linux
def test_much_to_tell_waits_until_this_process_has_done_its_own() -> None:
    found = alone("found = [len(told) for told in Copies(3).each(lambda piece: 'x' * 10**6 * piece, [1, 2, 3, 4, 5])]")
    assert found == [10**6 * n for n in (1, 2, 3, 4, 5)]


@linux
def test_one_piece_or_one_core_is_worked_here() -> None:
    work = "each(lambda piece: os.getpid() == us, "
    assert alone(f"found = Copies(2).{work} [1]) + Copies(1).{work} [1, 2])") == [True] * 3


@linux
def test_where_another_thread_runs_no_copy_is_made() -> None:
    found = alone("""
        done = threading.Event()
        beside = threading.Thread(target=done.wait)
        beside.start()
        found = Copies(2).each(lambda piece: os.getpid() == us, [1, 2])
        done.set()
    """)
    assert found == [True, True]


@linux
def test_what_a_killed_copy_had_to_do_is_done_here() -> None:
    found = alone("""
        def act(piece):
            if os.getpid() != us:
                os.kill(os.getpid(), signal.SIGKILL)
            return piece * piece, os.getpid() == us

        found = Copies(2).each(act, [2, 3])
    """)
    assert found == [[4, True], [9, True]]


@linux
def test_an_error_in_a_copy_is_told_as_it_is_here() -> None:
    found = alone("""
        def act(piece):
            raise TypeError(f"column {piece}: expected a number")

        try:
            Copies(2).each(act, [4, 4])
        except TypeError as error:
            found = str(error)
    """)
    assert found == "column 4: expected a number"


@linux
def test_a_large_table_is_the_same_from_copies() -> None:
    scripts = Path(benchmark_table.__file__).parent
    found = alone(f"""
        sys.path.insert(0, {str(scripts)!r})
        import benchmark_table
        from witnessmark.marking import frames, pieces

        pieces.LEAST_PIECE, frame = 100, benchmark_table.entries(900, distinct=True)
        asked = (benchmark_table.question(), frame, None)
        here = frames.mark_table(*asked, as_class=False, workers=pieces.Alone())
        found = frames.mark_table(*asked, as_class=False, workers=Copies(3)).equals(here)
    """)
    assert found is True
