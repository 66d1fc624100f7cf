"""Faults of this program that stop one answer or one document: set aside with their place, so that the rest goes on."""

import traceback
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from witnessmark.words.errors import WitnessMarkError
from witnessmark.words.problems import Place, Problem

T = TypeVar("T")
LONGEST_REASON = 300


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: where it struck (as people call the place), the error in a line, and the trace for who mends it."""

    place: Place
    reason: str
    trace: str

    def problem(self, expected: str, remedy: str) -> Problem:
        """The fault as a problem: what was expected at its place, and what to do now."""
        return Problem("fault", self.place, expected, self.reason, remedy)


def attempt(act: Callable[[], T], place: Place) -> T | Fault:
    """What `act` gives, or the fault that it ran into; what a person's files are to blame for goes on as it is."""
    try:
        return act()
    except WitnessMarkError:
        raise
    except Exception as error:  # noqa: BLE001 - whatever one place brings on, the others go on
        return fault(error, place)


def fault(error: Exception, place: Place) -> Fault:
    """The fault of an exception."""
    trace = "".join(traceback.format_exception(error))
    where = traceback.extract_tb(error.__traceback__)[-1]
    said = " ".join(str(error).split())[:LONGEST_REASON]
    file = where.filename.replace("\\", "/").rpartition("/")[2]
    return Fault(place, f"{type(error).__name__} ({file}:{where.lineno}): {said}", trace)
