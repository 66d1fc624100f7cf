"""What a form brings along, read within limits of count, size and time."""

import asyncio
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request

from witnessmark.desk.words import _
from witnessmark.files.workbooks.archive import LARGEST_FILE
from witnessmark.jobs.handing_in import HandedIn
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

MOST_FILES = 400
MOST_FIELDS = 5_000
LONGEST_FIELD = 2_000_000
MOST_SECONDS = 300


@dataclass(frozen=True, slots=True)
class Form:
    """The texts by name, each in the order in which they stand, and the files."""

    texts: Mapping[str, Sequence[str]]
    files: tuple[HandedIn, ...]


async def read_form(request: Request) -> Form:
    """A form within its limits; raises ProblemsFound beyond them."""
    try:
        async with asyncio.timeout(MOST_SECONDS):
            found = await request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=LONGEST_FIELD)
            try:
                return Form(_texts(found), tuple([await _file(one) for one in _files(found)]))
            finally:
                await found.close()
    except TimeoutError as error:
        raise ProblemsFound([_beyond(_("a form within five minutes"), _("one that takes longer"))]) from error
    except HTTPException as error:
        raise ProblemsFound([_beyond(_("a form within its limits"), str(error.detail))]) from error


def _beyond(expected: str, found: str) -> Problem:
    remedy = _("send at most {n} files at a time").format(n=MOST_FILES)
    return Problem("too-much", Place(_("what was sent")), expected, found, remedy)


def _texts(form: FormData) -> dict[str, list[str]]:
    texts: dict[str, list[str]] = {}
    for name, value in form.multi_items():
        if isinstance(value, str):
            texts.setdefault(name, []).append(value)
    return texts


def _files(form: FormData) -> list[UploadFile]:
    """The files that were chosen; a field without one sends an empty file without a name."""
    return [value for _name, value in form.multi_items() if isinstance(value, UploadFile) and value.filename]


async def _file(one: UploadFile) -> HandedIn:
    """One file, of which no more is held than tells that it is too large."""
    return HandedIn(one.filename or "", await one.read(LARGEST_FILE + 1))
