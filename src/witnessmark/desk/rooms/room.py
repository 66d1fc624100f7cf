"""What a room is: an address, what it shows, and what is done where its form is sent."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from witnessmark.desk.visit import Go, Reply, Visit
from witnessmark.desk.words import _
from witnessmark.desk.works import Act
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Room:
    """One address: `show` answers who looks, `do` who sends a form; a room without `do` only shows."""

    way: str
    show: Callable[[Visit], Reply]
    do: Callable[[Visit], Reply] | None = None


def begun(visit: Visit, title: str, act: Act, *arguments: object) -> Go:
    """Work begun in a process of its own, and the way to where one sees how far it is."""
    work = visit.keeping.works.begin(title, visit.way["klass"], act, *arguments)
    work.task = visit.way.get("task", "")
    return Go(visit.at("work", str(work.number)))


def typed_day(typed: str) -> date | None:
    """The day that was typed, None where nothing was; raises ProblemsFound for what is no day."""
    try:
        return date.fromisoformat(typed.strip()) if typed.strip() else None
    except ValueError as error:
        remedy = _("type year-month-day, like 2027-03-05")
        problem = Problem("no-date", Place(_("day")), _("a day of the calendar"), f"'{typed}'", remedy)
        raise ProblemsFound([problem]) from error
