"""The addresses of the desk, and what stands between one and its room: the form read, the class found, the answer sent.

A room is a plain function of a visit. Where what was typed cannot be, the page that asked for it is shown again, with
the problems, and with everything that was typed.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from http import HTTPStatus
from pathlib import Path
from urllib.parse import quote, unquote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from witnessmark.desk.forms import Form, read_form
from witnessmark.desk.keeping import Keeping
from witnessmark.desk.opening import Opening
from witnessmark.desk.rooms import classes
from witnessmark.desk.rooms.room import Room
from witnessmark.desk.safety import POLICY, Door, Guard
from witnessmark.desk.staying import what_stays
from witnessmark.desk.views import read_ahead as read_templates
from witnessmark.desk.views import shown
from witnessmark.desk.visit import Facts, Go, Page, Reply, Told, Visit, Written, address
from witnessmark.desk.words import _, speak
from witnessmark.files.class_folder.folder import CLASS, read_class
from witnessmark.files.safe.in_use import PATIENCE
from witnessmark.jobs.writing_question import broken_questions
from witnessmark.words.errors import NoVariant, ProblemsFound, UnknownName
from witnessmark.words.faults import fault
from witnessmark.words.problems import Place, Problem

ASSETS = Path(__file__).with_name("assets")
FILES = {"desk.css": "text/css", "codemirror.js": "text/javascript", "writing.js": "text/javascript"}
WHO = "witnessmark-who"
PATIENCE_SECONDS = 3.0
"""How long a form waits for a class that something else writes, before that is told with all that was typed."""
YEAR_SECONDS = 366 * 24 * 3600
DOCUMENT_POLICY = (
    "default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; frame-ancestors 'self'; sandbox"
)
SCRIPTED_POLICY = f"{POLICY}; script-src 'self'; connect-src 'self'"
"""For the one page that has a script: files of the desk alone, none that stands in the page."""
KINDS = {
    ".pdf": "application/pdf",
    ".html": "text/html; charset=utf-8",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
}
LOOKED_AT = frozenset({".pdf", ".html"})
"""Files that a browser shows; the others are kept."""


@dataclass(frozen=True, slots=True)
class Desk:
    """The desk as it is served: what it holds, and whom it lets in."""

    keeping: Keeping
    door: Door

    def app(self, afterwards: Callable[[], None] = lambda: None) -> Guard:
        """Every room behind the guard; `afterwards` is done when all of them are loaded, while a page is looked at."""
        assets = [Route(f"/{name}", _asset(name, kind)) for name, kind in FILES.items()]
        opening = Opening(
            [*assets, *self._routes(classes.ROOMS)], lambda: self._routes(_others()), _nowhere, afterwards
        )
        return Guard(opening, self.door, self.keeping.speech)

    def read_ahead(self) -> None:
        """Read what the rooms will need, while nobody waits for it."""
        read_templates()
        self.keeping.read_ahead()

    def _routes(self, rooms: Sequence[Room]) -> list[Route]:
        return [Route(room.way, _served(self.keeping, room), methods=["GET", "POST"]) for room in rooms]


def _others() -> Sequence[Room]:
    """All rooms but those that are shown first, which do not wait until these are loaded."""
    with what_stays():
        from witnessmark.desk.rooms.others import OTHERS

    return OTHERS


def opened_on(path: Path, door: Door) -> Desk:
    """The desk of one class alone where the folder is one, else of all that lie in it."""
    if (path / CLASS).is_file():
        return Desk(Keeping(path.parent, path.name), replace(door, begin=address("class", path.name)))
    return Desk(Keeping(path), door)


def _asset(name: str, kind: str) -> Callable[[Request], Response]:
    content = (ASSETS / name).read_bytes()

    def asset(_request: Request) -> Response:
        return Response(content, media_type=kind, headers={"Cache-Control": "private, max-age=3600"})

    return asset


async def _nowhere(_request: Request, _error: Exception) -> Response:
    return PlainTextResponse(_("There is no such room.") + "\n", HTTPStatus.NOT_FOUND)


def _served(keeping: Keeping, room: Room) -> Callable[[Request], object]:
    async def served(request: Request) -> Response:
        speak(keeping.speech())
        visit = _visit(keeping, request)
        if not _is_there(visit):
            return await _nowhere(request, KeyError())
        try:
            form = await read_form(request) if request.method == "POST" else Form({}, ())
        except ProblemsFound as error:
            return await run_in_threadpool(_answered, visit, room, error.problems)
        visit = replace(visit, typed=form.texts, files=form.files, who=form.texts.get("who", [visit.who])[-1])
        act = _done if request.method == "POST" else _looked
        return await run_in_threadpool(act, visit, room)

    return served


def _visit(keeping: Keeping, request: Request) -> Visit:
    asked = {name: request.query_params.getlist(name) for name in request.query_params}
    who = unquote(request.cookies.get(WHO, ""))
    return Visit(keeping, keeping.now(), dict(request.path_params), asked, who=who)


def _is_there(visit: Visit) -> bool:
    """False of an address that names no class in the desk's own folder, or leads elsewhere with one of its words."""
    words = [str(word) for name, word in visit.way.items() if name != "path"]
    if any(word in (".", "..") or set(word) & set("/\\\0") for word in words):
        return False
    if "klass" not in visit.way:
        return True
    return visit.keeping.only in ("", visit.way["klass"]) and (visit.class_path / CLASS).is_file()


def _looked(visit: Visit, room: Room) -> Response:
    return _answered(visit, room, ())


def _done(visit: Visit, room: Room) -> Response:
    """What a form asks for, done; or its page again, with everything that was typed."""
    if room.do is None:
        return PlainTextResponse(_("Nothing is done here.") + "\n", HTTPStatus.METHOD_NOT_ALLOWED)
    PATIENCE.set(PATIENCE_SECONDS)  # of this request alone: each runs in a context of its own
    try:
        answer = _sent(room.do(visit), visit)
    except (ProblemsFound, NoVariant, UnknownName) as error:
        return _answered(visit, room, _problems(error))
    except Exception as error:  # noqa: BLE001 - a fault of one room is told, and the desk goes on
        return _failed(error, visit)
    if visit.who.strip():
        answer.set_cookie(
            WHO, quote(visit.who.strip()[:100]), YEAR_SECONDS, path="/", httponly=True, samesite="strict"
        )  # fmt: skip
    return answer


def _answered(visit: Visit, room: Room, problems: tuple[Problem, ...]) -> Response:
    """A room's page, with problems where there are some; what stops the page itself is a page of its own."""
    try:
        answer = _sent(room.show(visit.with_problems(problems)), visit.with_problems(problems))
        if problems:
            answer.status_code = HTTPStatus.UNPROCESSABLE_ENTITY
    except (ProblemsFound, NoVariant, UnknownName) as error:
        stopped = visit.with_problems((*problems, *_problems(error)))
        return HTMLResponse(shown(_stopped(stopped), stopped), HTTPStatus.UNPROCESSABLE_ENTITY)
    except Exception as error:  # noqa: BLE001 - a fault of one room is told, and the desk goes on
        return _failed(error, visit)
    return answer


def _problems(error: ProblemsFound | NoVariant | UnknownName) -> tuple[Problem, ...]:
    if isinstance(error, ProblemsFound):
        return error.problems
    expected = _("something that is there") if isinstance(error, UnknownName) else _("enough variants")
    return (Problem("not-there", Place(_("this page")), expected, str(error)),)


def _failed(error: Exception, visit: Visit) -> Response:
    found = fault(error, Place(_("this page"))).problem(_("no fault of the program"), _("please report it"))
    stopped = visit.with_problems((found,))
    return HTMLResponse(shown(_stopped(stopped), stopped), HTTPStatus.INTERNAL_SERVER_ERROR)


def _stopped(visit: Visit) -> Page:
    """What stands in the place of a page that cannot be shown: its problems, and the questions that can be mended."""
    bank = read_class(visit.class_path).bank if "klass" in visit.way else None
    return Page("stopped", {"broken": broken_questions(bank, visit.problems) if bank else ()})


def _sent(reply: Reply, visit: Visit) -> Response:
    match reply:
        case Page():
            policy = {"Content-Security-Policy": SCRIPTED_POLICY} if reply.scripts else None
            return HTMLResponse(shown(reply, visit), reply.status, policy)
        case Go():
            return RedirectResponse(reply.address, HTTPStatus.SEE_OTHER)
        case Told():
            return HTMLResponse(reply.html, headers={"Content-Security-Policy": DOCUMENT_POLICY})
        case Facts():
            return JSONResponse(dict(reply.values))
        case Written():
            return _file(reply.path)


def _file(path: Path) -> Response:
    kind, is_shown = KINDS[path.suffix.lower()], path.suffix.lower() in LOOKED_AT
    policy = {"Content-Security-Policy": DOCUMENT_POLICY} if path.suffix.lower() == ".html" else {}
    how = "inline" if is_shown else "attachment"
    return FileResponse(path, media_type=kind, filename=path.name, content_disposition_type=how, headers=policy)
