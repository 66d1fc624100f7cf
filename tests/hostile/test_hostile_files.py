"""Hostile files through the commands: none crashes one, runs anything, takes long, or costs another's work.

Each kind is a function of the `*_kinds` modules. Seconds are allowed in proportion on a machine that is busy.
"""

import os
import re
import shutil
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType

import pytest
from click.testing import CliRunner, Result

from hostile import bank_kinds, class_kinds, figure_kinds, ods_kinds, other_kinds, table_kinds, xlsx_kinds
from jobs.small_class import BANK_FOLDER, TASK, hand_in, right_answers, sheets_of, small_class, write_task
from searching import every
from witnessmark.cli.main import main
from witnessmark.files.bank.folder import load_question_file
from witnessmark.files.workbooks import reader
from witnessmark.files.workbooks.returns import read_returns
from witnessmark.jobs.figures import figure_of
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.previewing import drawn
from witnessmark.words.errors import ProblemsFound
from workbooks.books import BY_CODE, write_book

MOST_SECONDS = 5.0
RAN = Path("/tmp/witnessmark-ran")
PROBLEM = re.compile(r"[^\n]*: \[[a-z0-9-]+\] expected [^\n]*, found [^\n]*")
pytestmark = pytest.mark.skipif(os.name == "nt", reason="pipes, devices and names that Windows has not")


def kinds(*modules: ModuleType) -> list[tuple[str, Callable[..., Path | None]]]:
    """The public functions of modules, by a name with the module's."""
    return [
        (f"{module.__name__.split('.')[-1].removesuffix('_kinds')}: {name}", made)
        for module in modules
        for name, made in vars(module).items()
        if callable(made) and made.__module__ == module.__name__ and not name.startswith("_")
    ]


RETURNED = kinds(xlsx_kinds, ods_kinds, other_kinds)
TABLES = kinds(table_kinds)
CLASSES = kinds(class_kinds)
BANKS = kinds(bank_kinds)
FIGURES = kinds(figure_kinds)
TOGETHER: tuple[Callable[[Path], None], ...] = (
    xlsx_kinds.an_attribute_that_hides_an_address, xlsx_kinds.a_hyphen_in_a_prefix, xlsx_kinds.entities,
    xlsx_kinds.a_link_to_elsewhere, xlsx_kinds.members_that_lead_outside,
    xlsx_kinds.answers_of_thirty_thousand_characters,
    ods_kinds.two_thousand_nested_spans, ods_kinds.a_time_of_thirty_nines, other_kinds.a_pipe,
    other_kinds.a_link_to_a_device, other_kinds.a_name_with_a_new_line, other_kinds.a_name_that_is_no_text,
    other_kinds.python_beside_the_books, other_kinds.an_archive_that_leads_outside, other_kinds.a_program,
)  # fmt: skip


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A small class on a bank of one question, issued; not to be changed."""
    base = tmp_path_factory.mktemp("hostile")
    folder = small_class(base / "class", small_bank(base / "bank"))
    write_task(folder, "[drain-hole]")
    assert run("issue", folder, TASK).exit_code == 0
    shutil.rmtree(folder / "issued")
    (folder / "returned" / TASK).mkdir(parents=True, exist_ok=True)
    yield folder
    assert not RAN.exists()


def small_bank(folder: Path) -> Path:
    """One question of the bank with what it needs."""
    shutil.copytree(BANK_FOLDER, folder, ignore=lambda path, names: [n for n in names if not _needed(Path(path), n)])
    return folder


def _needed(path: Path, name: str) -> bool:
    needed = {"misconceptions.yaml", "tables", "figures", "shear", "drain-hole.yaml", "round-hole-in-plate.svg.j2"}
    return name in needed or path.name == "tables"


@pytest.fixture
def folder(issued: Path, tmp_path: Path) -> Path:
    """The same class and its bank, to be changed."""
    shutil.copytree(issued.parent / "bank", tmp_path / "bank")
    shutil.copytree(issued, tmp_path / "class")
    return tmp_path / "class"


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(w) for w in words])


def in_good_time(*words: object) -> Result:
    """The result of a command that ended by itself, in time, and told its problems a line each."""
    started = time.monotonic()
    result = run(*words)
    in_time(started)
    return told(result)


def in_time(started: float) -> None:
    """Fails where more time was taken than a file may take."""
    busy = os.getloadavg()[0] / (os.cpu_count() or 1)
    took = time.monotonic() - started
    assert took < MOST_SECONDS * max(1.0, 2 * busy), f"{took:.1f} s"


def told(result: Result) -> Result:
    """A result that ended by itself, and told its problems a line each."""
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert len(result.output) < 200_000
    lines = result.stderr.splitlines()
    assert result.exit_code == (1 if lines else 0)
    assert [line for line in lines if not PROBLEM.fullmatch(line)] == []
    return result


@pytest.mark.parametrize("name", every(list(dict(RETURNED)), 4))
def test_a_hostile_return_stops_no_other(name: str, tmp_path: Path) -> None:
    made = dict(RETURNED)[name]
    made(tmp_path)
    write_book(tmp_path / "zz-good.xlsx")
    started = time.monotonic()
    read = read_returns(tmp_path, BY_CODE)
    in_time(started)
    assert all(PROBLEM.fullmatch(str(problem)) for problem in read.problems)
    assert str(tmp_path / "zz-good.xlsx") in {one.file for one in read.returns}
    assert len(read.problems) < 100 or made is other_kinds.files_of_no_kind


def test_all_of_them_at_once_cost_nobody_elses_marks(folder: Path) -> None:
    back = folder / "returned" / TASK
    for made in TOGETHER:
        (back / made.__name__).mkdir(parents=True, exist_ok=True)
        made(back / made.__name__)
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet), "zz-good.xlsx")
    before = _outside(folder)
    told(run("mark", folder, TASK))
    assert _outside(folder) == before
    with open_class(folder).record() as record:
        assert sheet.code in record.outcomes(TASK)


@pytest.mark.parametrize(("name", "made"), TABLES, ids=[name for name, _ in TABLES])
def test_a_hostile_table_is_told(name: str, made: Callable[..., Path], folder: Path, tmp_path: Path) -> None:
    in_good_time("mark", folder, TASK, made(tmp_path))


@pytest.mark.parametrize(("name", "made"), CLASSES, ids=[name for name, _ in CLASSES])
def test_a_hostile_file_of_a_class_is_told(name: str, made: Callable[..., None], folder: Path) -> None:
    made(folder, folder.parent / "bank")
    assert in_good_time("issue", folder, TASK).exit_code == 1


@pytest.mark.parametrize(("name", "made"), BANKS, ids=[name for name, _ in BANKS])
def test_a_hostile_file_of_a_bank_is_told(name: str, made: Callable[..., None], folder: Path) -> None:
    bank = folder.parent / "bank"
    made(folder, bank)
    assert in_good_time("check", bank).exit_code == (0 if made is bank_kinds.a_bank_that_links_to_itself else 1)


@pytest.mark.parametrize(("name", "made"), FIGURES, ids=[name for name, _ in FIGURES])
def test_a_hostile_figure_is_told(name: str, made: Callable[..., None], folder: Path) -> None:
    bank = folder.parent / "bank"
    made(folder, bank)
    question = load_question_file(bank / "shear" / "drain-hole.yaml")["drain-hole"]
    started = time.monotonic()
    with pytest.raises(ProblemsFound, match=r"drain-hole|no-file|file-too-large"):
        figure_of(drawn(question, 1)[0], bank / "figures")
    in_time(started)


def _outside(folder: Path) -> list[str]:
    """What lies around the class folder and in the places that archives of ours try to reach."""
    places = [folder.parent, folder.parent.parent, Path("/")]
    return [
        str(path)
        for place in places
        for path in sorted(place.iterdir())
        if "outside" in path.name or "abs" in path.name
    ]


def test_the_worker_that_died_is_followed_by_another(folder: Path) -> None:
    assert reader.workbook_from(b"no workbook", "x")[1]
    first = reader._READER._process
    assert first is not None
    first.kill()
    first.wait()
    assert [p.code for p in reader.workbook_from(b"no workbook", "x")[1]] == ["not-a-workbook"]
    assert reader._READER._process not in (first, None)
