"""The desk while it opens: the first rooms are there at once, the others are loaded while the first page is looked at.

Whoever asks for another room meanwhile waits until it is there.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from threading import Lock, Thread
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.routing import Match, Route
from starlette.types import Receive, Scope, Send


@dataclass(slots=True)
class Opening:
    """The `first` addresses, and all: those that `others` gives are asked of it once, and `afterwards` is done then."""

    first: Sequence[Route]
    others: Callable[[], Sequence[Route]]
    nowhere: Callable[..., Any]
    afterwards: Callable[[], None]
    _all: Starlette | None = None
    _begun: bool = False
    _one_at_a_time: Lock = field(default_factory=Lock)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, as the interface of such servers (ASGI) hands it over."""
        if self._all is not None:
            await self._all(scope, receive, send)
        elif any(route.matches(scope)[0] is not Match.NONE for route in self.first):
            await self._app(self.first)(scope, receive, send)
            self._load_meanwhile()
        else:
            await (await run_in_threadpool(self._whole))(scope, receive, send)

    def _load_meanwhile(self) -> None:
        if not self._begun:
            self._begun = True
            Thread(target=self._meanwhile, daemon=True).start()

    def _meanwhile(self) -> None:
        self._whole()
        self.afterwards()

    def _whole(self) -> Starlette:
        with self._one_at_a_time:
            if self._all is None:
                self._all = self._app([*self.first, *self.others()])
            return self._all

    def _app(self, routes: Sequence[Route]) -> Starlette:
        return Starlette(routes=list(routes), exception_handlers={404: self.nowhere})
