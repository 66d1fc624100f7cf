"""A blind second mark for a sample: what the table holds, what is kept, what is refused, how far both agree."""

import json
import shutil
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner

from jobs.copied import issued_class
from jobs.small_class import NOW, TASK, hand_in, right_answers, sheets_of
from witnessmark.cli.main import main
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.second_marking import ask_second, take_second
from witnessmark.jobs.telling_history import history
from witnessmark.jobs.undoing import undo
from witnessmark.words.errors import ProblemsFound

LATER = datetime(2027, 2, 1, 9, tzinfo=UTC)
SECOND = Decision("R. Vos", "moderation in February", LATER)


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two of four handed in, one with a wrong answer; not to be changed."""
    folder = issued_class(tmp_path_factory.mktemp("second") / "class")
    for code, answers in (("HB01", {}), ("LW01", {"1.b": "2 MPa", "1.c": "no"})):
        sheet = sheets_of(folder)[code]
        hand_in(folder, sheet, right_answers(sheet) | answers)
    mark(folder, TASK, NOW)
    return folder


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def fill(file: Path, marks: Mapping[tuple[str, str], str]) -> Path:
    """Type marks into the table, by sheet code and part."""
    book = openpyxl.load_workbook(file)
    page = book.worksheets[0]
    for row in page.iter_rows(min_row=2):
        row[5].value = marks.get((str(row[0].value), str(row[1].value)), "")
    book.save(file)
    return file


def first_marks(folder: Path) -> dict[tuple[str, str], str]:
    """The marks that stand of every part, by sheet code and label."""
    with open_class(folder).record() as record:
        sheets, outcomes = record.sheets(TASK), record.outcomes(TASK)
    return {
        (sheet.code, ask.label): f"{outcomes[sheet.code][ask.key].marks}"
        for sheet in sheets if sheet.code in outcomes for ask in sheet.asks if ask.line is None
    }  # fmt: skip


def test_the_table_is_a_sample_without_names_and_marks_and_the_same_for_the_same_seed(folder: Path) -> None:
    asked = ask_second(folder, TASK, 4, 1)
    assert (asked.answers, asked.of) == (4, 9)
    first = asked.file.read_bytes()
    cells = [[str(c.value) for c in row] for row in openpyxl.load_workbook(asked.file).worksheets[0].iter_rows()]
    assert cells[0][-1] == "marks"
    assert all(row[-1] == "None" for row in cells[1:])
    assert not any("HB01" in text or "Idris" in text for row in cells for text in row)
    assert ask_second(folder, TASK, 4, 1).file.read_bytes() == first
    assert ask_second(folder, TASK, 4, 2).file.read_bytes() != first


def test_second_marks_are_kept_beside_the_first_and_tell_the_agreement(folder: Path) -> None:
    before = first_marks(folder)
    sheet = sheets_of(folder)["HB01"]
    second = {**before, (sheet.code, "1a"): "2½", (sheet.code, "2b"): "1,5"}
    file = fill(ask_second(folder, TASK, 20, 1).file, second)
    done = take_second(folder, TASK, file, SECOND)
    assert (len(done.marks), done.agreement.same.count) == (9, 7)
    assert [(m.label, str(m.first), str(m.second)) for m in done.differing] == [("1a", "3", "2.5"), ("2b", "2", "1.5")]
    assert done.agreement.kappa is not None
    assert 0.5 < done.agreement.kappa < 1
    assert first_marks(folder) == before
    assert not take_second(folder, TASK, file, SECOND).changed
    told = [t.sentence for t in history(folder, sheet.code).sheets[0].told]
    assert f"a second teacher gave 2.5 ({sheet.code} 1.a)" in told
    assert undo(folder, "R. Vos", "the wrong file", LATER).step.what == "second"
    with open_class(folder).record() as record:
        assert record.arranged().all == ()
        assert record.verify() == ()


def test_what_cannot_be_is_refused_by_its_cell_and_nothing_is_kept(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    asked = ask_second(folder, TASK, 20, 1)
    wrong = {(sheet.code, "1a"): "4", (sheet.code, "1b"): "0.3", (sheet.code, "2a"): "good", (sheet.code, "2b"): "1"}
    with pytest.raises(ProblemsFound) as raised:
        take_second(folder, TASK, fill(asked.file, wrong), SECOND)
    assert [p.code for p in raised.value.problems] == ["marks-out-of-range"] * 3
    with open_class(folder).record() as record:
        assert record.arranged().all == ()


def test_the_command_writes_and_reads(folder: Path) -> None:
    words = ["second", str(folder), TASK]
    written = CliRunner().invoke(main, [*words, "--sample", "5"])
    assert written.output.startswith("5 of 9 answers, without marks\n")
    file = fill(folder / f"second-marks-{TASK}.xlsx", first_marks(folder))
    done = CliRunner().invoke(main, [*words, str(file), "--who", "R. Vos", "--why", "February", "--json"])
    data = json.loads(done.output)
    assert (data["same"], data["of"]) == (5, 5)
