"""What stands before every room: this machine alone, the secret, the own page alone, so many bytes and no more.

A page of another origin can make a browser send requests here. It does not know the secret, its requests come without
the cookie (SameSite=Strict, RFC 6265bis), and bear another Origin (fetch.spec.whatwg.org); a name that was turned to
this machine bears another Host.
"""

from collections.abc import Callable
from dataclasses import dataclass
from hmac import compare_digest
from http import HTTPStatus
from urllib.parse import parse_qs, urlencode

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from witnessmark.desk.words import N_, _, speak
from witnessmark.jobs.desk_settings import DeskSettings

MOST_BYTES = 260_000_000
READING, WRITING = frozenset({"GET", "HEAD"}), frozenset({"POST"})
POLICY = (
    "default-src 'none'; style-src 'self'; img-src 'self' data:; frame-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",  # with no-referrer browsers send the Origin of a form as null
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}
KEY = "key"
HERE_ALONE = N_("The desk is on this machine alone.")
NOT_THIS_WAY = N_("Nothing is done this way.")
OPEN_IT = N_(
    "Open the desk by the whole address that it printed when it started; an address of an earlier start is over."
)
ELSEWHERE = N_("This came from another page; the desk takes nothing from there.")
UNKNOWN_LENGTH = N_("The desk takes nothing of which it is not told before how large it is; every browser tells it.")
TOO_LARGE = N_("This is more than the desk takes at once; send fewer or smaller files.")


@dataclass(frozen=True, slots=True)
class Door:
    """Whom the desk lets in: the secret of the first address, what the cookie holds then, the port, and the room that
    is shown first."""

    secret: str
    pass_: str
    port: int
    begin: str = "/"
    most_bytes: int = MOST_BYTES

    @property
    def hosts(self) -> tuple[str, str]:
        """The names that this machine calls itself by."""
        return f"127.0.0.1:{self.port}", f"localhost:{self.port}"

    @property
    def cookie(self) -> str:
        """The name of the cookie: cookies of one machine are shared by all its ports."""
        return f"witnessmark-desk-{self.port}"

    @property
    def address(self) -> str:
        """The first address."""
        return f"http://{self.hosts[0]}/?{urlencode({KEY: self.secret})}"


class Guard:
    """Lets through to the rooms what comes from the teacher's own page, and answers everything else itself, in the
    language that is set then."""

    def __init__(self, app: ASGIApp, door: Door, settings: Callable[[], DeskSettings] = DeskSettings) -> None:
        self.app, self.door, self.settings = app, door, settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, as the interface of such servers (ASGI) hands it over."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http":
            send = with_headers(send)
            answer = self._answer(scope)
            if answer is not None:
                await answer(scope, receive, send)
            else:
                await self.app(scope, receive, send)

    def _answer(self, scope: Scope) -> Response | None:
        """A refusal, or the way in by the secret; None for what may go on."""
        headers, method = Headers(scope=scope), scope["method"]
        if headers.get("host") not in self.door.hosts:
            return self._refused(HTTPStatus.MISDIRECTED_REQUEST, HERE_ALONE)
        if method not in READING | WRITING:
            return self._refused(HTTPStatus.METHOD_NOT_ALLOWED, NOT_THIS_WAY)
        if method in READING and self._knows_the_secret(scope):
            return self._let_in()
        if not compare_digest(cookie_parser(headers.get("cookie", "")).get(self.door.cookie, ""), self.door.pass_):
            return self._refused(HTTPStatus.FORBIDDEN, OPEN_IT)
        if method in WRITING and not self._is_own(headers):
            return self._refused(HTTPStatus.FORBIDDEN, ELSEWHERE)
        if method in WRITING and ("content-length" not in headers or "transfer-encoding" in headers):
            return self._refused(HTTPStatus.LENGTH_REQUIRED, UNKNOWN_LENGTH)
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > self.door.most_bytes:
            return self._refused(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, TOO_LARGE)
        return None

    def _refused(self, status: HTTPStatus, why: str) -> Response:
        speak(self.settings())
        return PlainTextResponse(f"{_(why)}\n", status)

    def _knows_the_secret(self, scope: Scope) -> bool:
        typed = parse_qs(scope["query_string"].decode("latin-1")).get(KEY, [""])[0]
        return scope["path"] == "/" and compare_digest(typed.encode(), self.door.secret.encode())

    def _let_in(self) -> Response:
        answer = RedirectResponse(self.door.begin, HTTPStatus.SEE_OTHER)
        answer.set_cookie(self.door.cookie, self.door.pass_, path="/", httponly=True, samesite="strict")
        return answer

    def _is_own(self, headers: Headers) -> bool:
        """True of what a page of ours sent; a browser that tells no origin must tell that it is the same site's."""
        origin = headers.get("origin")
        if origin is None:
            return headers.get("sec-fetch-site") == "same-origin"
        return origin == f"http://{headers.get('host')}"


def with_headers(send: Send) -> Send:
    """The same answer, with the headers that every one bears; what it says itself stays."""

    async def told(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return told
