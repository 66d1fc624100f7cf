"""The whole job with the network denied; and nothing that a person typed begins a formula in any file we write.

What begins a formula: OWASP's page on CSV injection (=, +, -, @, tab, carriage return, and their full-width forms).
"""

import base64
import csv
import hashlib
import io
import re
import socket
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner

from jobs.small_class import TASK, hand_in, right_answers, sheets_of, small_class, write_students, write_task
from witnessmark.cli.main import main

STARTS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")
PAYLOADS = (*(f"{start}cmd|' /C calc'!A0" for start in STARTS), '=HYPERLINK("http://127.0.0.1:9/";"x")')
STUDENTS = tuple(
    (f"HB{n:02d}", payload.strip().replace(",", ""), payload.strip()) for n, payload in enumerate(PAYLOADS)
)


@pytest.fixture
def denied(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever asks for a connection or a name fails the test."""

    def refuse(*asked: object, **more: object) -> None:
        raise AssertionError(f"a connection was asked for: {asked}")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket.socket, "connect_ex", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)


def run(*words: object) -> None:
    result = CliRunner().invoke(main, [str(w) for w in words])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception


@pytest.fixture
def done(denied: None, tmp_path: Path) -> Path:
    """A class whose names, groups and answers all try to be formulas, after the whole job."""
    folder = small_class(tmp_path / "class")
    write_students(folder, [(code, f'"{name}"', f'"{group}"') for code, name, group in _quotable()])
    write_task(folder, "[drain-hole]")
    run("issue", folder, TASK)
    for n, sheet in enumerate(sheets_of(folder).values()):
        hand_in(folder, sheet, right_answers(sheet) | {"1.a": PAYLOADS[n], "1.b": PAYLOADS[-1 - n]})
    run("mark", folder, TASK)
    run("review", folder, TASK)
    run("return", folder, TASK)
    assert (folder / f"gradebook-{TASK}.xlsx").is_file()
    return folder


def _quotable() -> list[tuple[str, str, str]]:
    return [(code, name.replace('"', "'"), group.replace('"', "'")) for code, name, group in STUDENTS]


def test_the_whole_job_opens_no_connection_and_writes_no_formula_of_anybodys(done: Path) -> None:
    books = [path for path in done.rglob("*.xlsx") if "returned" not in path.parts]
    assert len(books) > len(STUDENTS)
    told = [cell for path in books for cell in _cells(path) if _is_payload(cell)]
    assert told
    assert [cell.coordinate for cell in told if cell.data_type == "f" or cell.hyperlink] == []
    for path in books:
        with zipfile.ZipFile(path) as archive:
            text = b"".join(archive.read(name) for name in archive.namelist())
        assert b"externalLink" not in text
    for path in done.rglob("*.csv"):
        if path.name != "students.csv":
            _no_formula(path)
    for path in done.rglob("*.html"):
        page = path.read_text(encoding="utf-8")
        assert 'href="http' not in page
        assert 'src="http' not in page
        assert _scripts_not_of_ours(page) == []


def _cells(path: Path) -> Iterator[Any]:
    for page in openpyxl.load_workbook(path).worksheets:
        for row in page.iter_rows():
            yield from (cell for cell in row if cell.value is not None)


def _scripts_not_of_ours(page: str) -> list[str]:
    """Scripts that the page's own policy does not name by their hash (W3C, Content Security Policy Level 3), and what
    could call for something from elsewhere in those that it names."""
    found = re.findall(r"<script([^>]*)>(.*?)</script>", page, re.DOTALL)
    wrong = [words for words, _ in found if words.strip()]
    for _, code in found:
        digest = base64.b64encode(hashlib.sha256(code.encode("utf-8")).digest()).decode("ascii")
        wrong += [] if f"script-src 'sha256-{digest}'" in page else [code[:40]]
        wrong += re.findall(r"https?://|fetch\(|XMLHttpRequest|import\(|eval\(|innerHTML|WebSocket", code)
    return wrong if page.count("<script") == len(found) else [*wrong, "a script without its end"]


def _is_payload(cell: Any) -> bool:
    return "cmd|" in str(cell.value) or "HYPERLINK" in str(cell.value)


def _no_formula(path: Path) -> None:
    rows = csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig")))
    assert [cell for row in rows for cell in row if cell.startswith(STARTS) and "cmd|" in cell] == []
