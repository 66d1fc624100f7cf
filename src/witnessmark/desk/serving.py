"""The desk served to this machine's own browser, until it is closed."""

import secrets
import socket
import webbrowser
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

import uvicorn
from starlette.types import ASGIApp

from witnessmark.desk.safety import Door
from witnessmark.desk.staying import what_stays
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

if TYPE_CHECKING:
    from witnessmark.desk.app import Desk

HERE = "127.0.0.1"
MOST_AT_ONCE = 64
SECRET_BYTES = 24
QUEUED = 128


def serve(folder: Path, port: int, say: Callable[[str], None], opens_browser: bool = True) -> None:
    """Serve a class, or the classes of a folder, until interrupted; `say` is told the first address.

    Port 0 takes a free one. Raises ProblemsFound where the port is taken.
    """
    with closing(listening(port)) as listener:
        door = Door(_secret(), _secret(), listener.getsockname()[1])
        say(door.address)
        if opens_browser:
            Thread(target=webbrowser.open, args=(door.address,), daemon=True).start()
        desk = _desk(folder.resolve(), door)
        server = uvicorn.Server(_settings(desk.app(desk.read_ahead)))
        try:
            server.run(sockets=[listener])
        except KeyboardInterrupt:  # the usual end
            pass
        finally:
            desk.keeping.works.stop_all()


def _secret() -> str:
    return secrets.token_urlsafe(SECRET_BYTES)


def _desk(path: Path, door: Door) -> "Desk":
    """The desk of one class alone, or of all that lie in a folder. It is loaded while the browser starts: what asks
    meanwhile waits at the socket."""
    with what_stays():
        from witnessmark.desk.app import opened_on

    return opened_on(path, door)


def _settings(app: ASGIApp) -> uvicorn.Config:
    """How the server runs: nothing of an address is written down, since the first one holds the secret."""
    return uvicorn.Config(
        app, log_level="warning", access_log=False, limit_concurrency=MOST_AT_ONCE, server_header=False,
        proxy_headers=False, ws="none", lifespan="off", timeout_graceful_shutdown=2,
    )  # fmt: skip


def listening(port: int) -> socket.socket:
    """A socket of this machine alone; raises ProblemsFound where the port is taken.

    Its protocol is said, for asyncio sends at once (TCP_NODELAY) only where it is: else the body of each page waits
    until the browser has confirmed its head, which takes 40 ms.
    """
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((HERE, port))
        listener.listen(QUEUED)
    except (OSError, OverflowError) as error:
        listener.close()
        expected, remedy = "a port that is free", "choose another with --port, or leave it out"
        found = getattr(error, "strerror", None) or str(error)
        raise ProblemsFound([Problem("port-taken", Place(f"port {port}"), expected, found, remedy)]) from error
    return listener
