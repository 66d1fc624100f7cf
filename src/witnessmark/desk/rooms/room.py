"""What a room is: an address, what it shows, and what is done where its form is sent."""

from collections.abc import Callable
from dataclasses import dataclass

from witnessmark.desk.visit import Reply, Visit


@dataclass(frozen=True, slots=True)
class Room:
    """One address: `show` answers who looks, `do` who sends a form; a room without `do` only shows."""

    way: str
    show: Callable[[Visit], Reply]
    do: Callable[[Visit], Reply] | None = None
