"""The nine promises of the design (section 7), each as a law over many cases."""

import os
import random
import shutil
import socket
import subprocess
import sys
from collections.abc import Mapping
from decimal import Decimal
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET
from zipfile import ZipFile

import pytest
from hypothesis import given
from hypothesis import strategies as st

import witnessmark as wm
from bank_fixture import BANK
from jobs import interrupting
from jobs.small_class import (
    LATER,
    NOW,
    TASK,
    hand_in,
    record_lines,
    right_answers,
    sheets_of,
    small_class,
    write_task,
)
from marking.students import CALCULATED, HABITS, Habit, quantities, right, typed, worked
from marking.typed_text import FORMULAS, SPELLED, anything_typed, spelled
from programs import needed, run
from searching import every, examples
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.demonstrating import TASK as DEMO_TASK
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.maths.compiled import compiled
from witnessmark.maths.quantities import to_si
from witnessmark.questions.sheet.task import Entry, Return, Sheet
from witnessmark.questions.working.working import ALL_CONSTANTS

SLIPPING = [key for key in CALCULATED if any(p.slips for p in quantities(BANK[key]))]
SOURCE = Path(__file__).parents[2] / "src"


# 1. The right answer, in any accepted unit and spelling, is right.

ASKED = [(key, part.key) for key in CALCULATED for part in quantities(BANK[key])
         if part.unit in SPELLED and "." not in part.key]  # fmt: skip


@examples(50)
@given(
    asked=st.sampled_from(ASKED), seed=st.text(max_size=4), pick=st.integers(0, 99), before=st.sampled_from(["", "= "]),
    form=st.sampled_from(["plain", "comma", "E", "times", "dot"]), gap=st.sampled_from([" ", "  ", "\u00a0"]),
)  # fmt: skip
def test_1_the_right_answer_in_any_accepted_unit_and_spelling_is_right(
    asked: tuple[str, str], seed: str, pick: int, before: str, form: str, gap: str
) -> None:
    key, part = asked
    variant = BANK[key].draw(seed)
    unit, factor = sorted(SPELLED[BANK[key].quantity(part).unit].items())[
        pick % len(SPELLED[BANK[key].quantity(part).unit])
    ]
    entry = f"{before}{spelled(variant.expected_si[part] / factor, form)}{gap if unit else ''}{unit}"
    out = wm.mark(variant, right(variant) | {part: entry})[part]
    assert (out.verdict, out.marks) == ("right", BANK[key].part(part).marks), (entry, out)


# 2. A value of a modelled slip is never full marks.


@examples(25)
@given(key=st.sampled_from(SLIPPING), seed=st.text(max_size=4), habit=st.sampled_from(HABITS), data=st.data())
def test_2_a_value_of_a_modelled_slip_is_never_full_marks(
    key: str, seed: str, habit: Habit, data: st.DataObject
) -> None:
    variant = BANK[key].draw(seed)
    part, slip = data.draw(st.sampled_from([(p, s) for p in quantities(BANK[key]) for s in p.slips]))
    shown = data.draw(st.booleans())
    out = wm.mark(variant, worked(variant, habit, shown, {part.key: slip}))[part.key]
    assert out.marks < part.marks, (slip.misconception, habit, out)


# 3. Marking does not depend on the order of students or files, and marking twice changes nothing.


@examples(4)
@given(data=st.data())
def test_3_the_order_of_files_has_no_say_and_marking_twice_changes_nothing(
    one_question: Path, data: st.DataObject
) -> None:
    sheets = list(sheets_of(one_question).values())
    answers = {s.code: right_answers(s) | {"1.a": data.draw(anything_typed("kN"), s.student.code)} for s in sheets}
    order = data.draw(st.permutations(range(len(sheets))))
    marked = []
    for n, names in enumerate((range(len(sheets)), order)):
        folder = one_question.with_name(f"order {n}")
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(one_question, folder)
        for sheet, place in zip(sheets, names, strict=True):
            hand_in(folder, sheet, _for_a_cell(answers[sheet.code]), f"{place}.xlsx")
        marked.append(mark(folder, TASK, NOW).outcomes)
        lines = record_lines(folder)
        marked.append(mark(folder, TASK, LATER).outcomes)
        assert record_lines(folder) == lines
    assert marked[0] == marked[1] == marked[2] == marked[3]


def _for_a_cell(answers: Mapping[str, str]) -> dict[str, str]:
    """The answers without characters that no cell of a workbook can hold."""
    return {k: "".join(c for c in text if c.isprintable() and c != "\ufffe") for k, text in answers.items()}


@pytest.fixture(scope="module")
def one_question(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of four with one question, issued; not to be changed."""
    folder = small_class(tmp_path_factory.mktemp("promises") / "class")
    write_task(folder, "[drain-hole]")
    issue(folder, TASK, NOW)
    return folder


# 4. Every drawn variant satisfies `keep` and is separable.


@examples(60)
@given(key=st.sampled_from(SLIPPING), seed=st.text(max_size=8), habit=st.sampled_from(HABITS))
def test_4_every_drawn_variant_satisfies_keep_and_is_separable(key: str, seed: str, habit: Habit) -> None:
    variant = BANK[key].draw(seed)
    names = {**ALL_CONSTANTS, **variant.values}
    assert all(bool(compiled(tree)(names)) for tree in BANK[key].keep)
    accepts = {k: tuple(to_si(float(end.magnitude), str(p.unit)) for end in variant.accepts[k])
               for p in quantities(BANK[key]) for k in [p.key]}  # fmt: skip
    for part in quantities(BANK[key]):
        for slip in part.slips:
            entry = worked(variant, habit, False, {part.key: slip})[part.key]
            (reading,) = wm.read_quantity(entry, asked=part.unit).readings[:1]
            assert not accepts[part.key][0] <= reading.si <= accepts[part.key][1], (slip.misconception, habit, entry)


# 5. Nothing a student typed is lost: the raw entry is stored as received, always.


@examples(30)
@given(texts=st.lists(st.one_of(anything_typed("kN"), st.text(st.characters(), max_size=60)), min_size=1, max_size=7))
def test_5_the_raw_entry_is_stored_as_received_always(one_question: Path, texts: list[str]) -> None:
    sheet = next(iter(sheets_of(one_question).values()))
    entries = tuple((ask.key, Entry(text)) for ask, text in zip(sheet.asks, texts, strict=False))
    folder = one_question.with_name("typed")
    if not folder.exists():
        shutil.copytree(one_question, folder)
    with open_class(folder).record() as record:
        handed_in = Return(sheet.code, f"{len(record.all_returns(TASK))}.xlsx", entries)
        record.add_returns([handed_in], NOW)
        stored = record.all_returns(TASK)[-1].handed_in
        assert (stored.file, dict(stored.entries)) == (handed_in.file, dict(entries))


def test_5_what_is_typed_into_answer_books_reaches_the_record_letter_by_letter(
    one_question: Path, tmp_path: Path
) -> None:
    folder, asked = tmp_path / "class", "1.a"
    shutil.copytree(one_question, folder)
    sheet = next(iter(sheets_of(folder).values()))
    for text in (
        *FORMULAS,
        "113,1 kN",
        " 113.1",
        "½ kN",
        "日本 12 kN",
        "e\u0301",
        "1\n2",
        "=1+1\n",
        "00012",
        "TRUE",
        "1e5",
    ):
        received = text.replace("\x00", "").replace("\r\n", "\n")
        if not received:
            continue  # a blank replaces nothing
        hand_in(folder, sheet, {asked: received})
        mark(folder, TASK, NOW, replace=Decision("K. Dekker", "the book was corrected", NOW))
        with open_class(folder).record() as record:
            assert dict(record.returns(TASK)[0].entries)[asked].raw.strip(" ") == received.strip(" ")
            assert record.outcomes(TASK)[sheet.code][asked].raw == dict(record.returns(TASK)[0].entries)[asked].raw


# 6. No mark changes without a row in the record that says why.


@pytest.mark.parametrize("seed", range(2))
def test_6_no_mark_changes_without_a_row_in_the_journal_that_says_why(
    one_question: Path, tmp_path: Path, seed: int
) -> None:
    folder, chance = tmp_path / "class", random.Random(seed)
    shutil.copytree(one_question, folder)
    sheets = list(sheets_of(folder).values())
    for turn in range(9):
        with open_class(folder).record() as record:
            before, rows = _marks(record.outcomes(TASK)), len(record.journal())
        _something_happens(folder, chance.choice(sheets), chance, turn)
        with open_class(folder).record() as record:
            after, new = _marks(record.outcomes(TASK)), record.journal()[rows:]
        changed = {at for at in before.keys() | after.keys() if before.get(at) != after.get(at)}
        assert changed <= {(row.sheet, row.ask) for row in new if row.why.strip()}, (turn, changed, new)


def _marks(outcomes: Mapping[str, Mapping[str, wm.Outcome]]) -> dict[tuple[str, str], Decimal]:
    return {(code, ask): o.marks for code, by_ask in outcomes.items() for ask, o in by_ask.items()}


def _something_happens(folder: Path, sheet: Sheet, chance: random.Random, turn: int) -> None:
    """Another book comes in and is marked, a teacher decides, or takes it back, or chooses an earlier return."""
    with open_class(folder).record() as record:
        match chance.randrange(4):
            case 0 if record.outcomes(TASK).get(sheet.code):
                record.moderate(sheet.code, "1.a", Decimal(chance.randrange(4)), "K. Dekker", f"turn {turn}", NOW)
                return
            case 1 if record.moderations(TASK).get(sheet.code):
                record.withdraw(sheet.code, "1.a", "K. Dekker", f"turn {turn}", NOW)
                return
            case 2 if found := record.all_returns(TASK, sheet.code):
                record.choose_return(sheet.code, chance.choice(found).number, "K. Dekker", f"turn {turn}", NOW)
    force = typed(BANK["drain-hole"], "a", chance.choice([1e3, 5e4, sheet.variants[0].expected_si["a"]]))
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": force}, f"{turn}.xlsx")
    mark(folder, TASK, NOW)


# 7. Interrupted at any instant, a class folder is as before or as after, never between.


@pytest.mark.parametrize("job", every(list(interrupting.JOBS), 2))
def test_7_interrupted_at_any_step_a_class_is_as_before_or_as_after_and_the_next_run_finishes(
    job: str, one_question: Path, tmp_path: Path
) -> None:
    ready = tmp_path / "ready"
    shutil.copytree(one_question, ready)
    if job == "issue":
        (ready / "record.db").unlink()
        shutil.rmtree(ready / "issued")
    else:
        for sheet in sheets_of(ready).values():
            hand_in(ready, sheet, right_answers(sheet))
    if job in ("return", "review"):
        mark(ready, TASK, NOW)
    before, done = interrupting.state(ready), tmp_path / "done"
    shutil.copytree(ready, done)
    steps = interrupting.run(job, done)
    after = interrupting.state(done)
    assert steps > 4
    assert before != after
    chance = random.Random(job)
    for stop_at in sorted({steps, *chance.sample(range(1, steps), 2 if job == "issue" else 4)}):
        folder = tmp_path / f"stopped at {stop_at}"
        shutil.copytree(ready, folder)
        assert interrupting.run(job, folder, stop_at) == 0
        lines, files = interrupting.state(folder)
        assert lines in (before[0], after[0]), stop_at  # what came in is marked, or did not come in
        assert all(files[p] in (before[1].get(p), after[1].get(p)) for p in files), stop_at
        assert before[1].keys() <= files.keys(), stop_at
        assert interrupting.run(job, folder) > 0
        assert interrupting.state(folder) == after, stop_at


# 8. Nothing leaves the machine.

WATCHED = """
import sys
def watch(event, arguments):
    if event.startswith(("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser.")):
        print("NETWORK", event, arguments, file=sys.stderr, flush=True)
        raise SystemExit(99)
sys.addaudithook(watch)
from witnessmark.cli.main import main
main(["demo", sys.argv[1], "--json"])
"""


@pytest.mark.parametrize("host", ["192.0.2.1", "yard.example"])  # RFC 5737 and RFC 2606: nobody's
def test_8_whatever_reaches_for_the_network_fails_its_test(host: str) -> None:
    with socket.socket() as reaching, pytest.raises(AssertionError, match=f"a test reached for .*{host}"):
        reaching.connect((host, 443))


@pytest.mark.deep  # `conftest.no_network` watches every test of the usual run
def test_8_the_whole_demo_opens_no_socket_and_needs_no_network(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    alone = [found, "-rn"] if (found := shutil.which("unshare")) and _may_be_alone(found) else []
    done = subprocess.run(
        [*alone, sys.executable, "-c", WATCHED, str(folder)], capture_output=True, text=True, check=False, timeout=300,
        stdin=subprocess.DEVNULL, env={**os.environ, "PYTHONPATH": str(SOURCE)},
    )  # fmt: skip
    assert "NETWORK" not in done.stderr, done.stderr
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("{")
    assert len(list((folder / "feedback" / DEMO_TASK).iterdir())) == 21


def _may_be_alone(unshare: str) -> bool:
    """True where a process may have a network of its own, in which there is nobody else."""
    return subprocess.run([unshare, "-rn", "true"], check=False, capture_output=True).returncode == 0


# 9. Whatever a student types, no spreadsheet or page we write runs it.


class Tags(HTMLParser):
    """The elements of a page and their attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, list[tuple[str, str | None]]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keeps the name of each element and its attributes."""
        self.found.append((tag, attrs))


@pytest.fixture(scope="module")
def hostile(one_question: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class whose every answer is a formula or a script, marked, returned and reviewed."""
    folder = tmp_path_factory.mktemp("hostile") / "class"
    shutil.copytree(one_question, folder)
    texts = iter(FORMULAS)
    for sheet in sheets_of(folder).values():
        answers = {ask.key: next(texts, "=1+1") for ask in sheet.asks}
        hand_in(folder, sheet, _for_a_cell(answers))
    mark(folder, TASK, NOW)
    return_feedback(folder, TASK, LATER)
    review(folder, TASK)
    return folder


def test_9_no_cell_of_the_gradebook_holds_what_was_typed_as_a_formula_or_link(hostile: Path) -> None:
    book = next(hostile.glob("gradebook-*.xlsx"))
    typed_texts = {text.strip() for text in _for_a_cell({str(n): t for n, t in enumerate(FORMULAS)}).values()}
    with ZipFile(book) as archive:
        pages = [name for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
        everything = b"".join(archive.read(name) for name in archive.namelist()).decode("utf-8", "replace")
        formulas = [cell.text or "" for name in pages for cell in ET.fromstring(archive.read(name)).iter()
                    if cell.tag.endswith("}f")]  # fmt: skip
        names = archive.namelist()
    assert "HYPERLINK(&quot;http" in everything or 'HYPERLINK("http' in everything  # it is there, as text
    for formula in formulas:
        assert not any(text.lstrip("=+-@") in formula for text in typed_texts if len(text) > 4), formula
        assert "cmd" not in formula
        assert "HYPERLINK" not in formula
    assert not any("externalLink" in name or "vbaProject" in name for name in names)


def test_9_the_review_page_shows_what_was_typed_and_has_no_element_of_it(hostile: Path) -> None:
    page = next(hostile.glob("review-*.html")).read_text(encoding="utf-8")
    tags = Tags()
    tags.feed(page)
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "script" not in {tag for tag, _ in tags.found}
    attributes = {(name, value or "") for _, found in tags.found for name, value in found}
    assert not [name for name, _ in attributes if name.startswith("on")]
    assert all(value.startswith(("data:", "#")) for name, value in attributes if name in ("src", "href"))
    assert "49" not in page.partition("{{7*7}}")[0].rpartition(">")[2]


def test_9_feedback_prints_what_was_typed_as_it_was_typed(hostile: Path, tmp_path: Path) -> None:
    pdftotext = needed("pdftotext", "poppler-utils")
    printed = ""
    for page in sorted((hostile / "feedback" / TASK).iterdir()):
        run(pdftotext, "-layout", page, tmp_path / "page.txt")
        printed += (tmp_path / "page.txt").read_text(encoding="utf-8")
    flat = " ".join(printed.split())
    for text in ("#set text(red)", "{{7*7}}", "$x^2$", "__import__('os').system('x')", "@SUM(1)"):
        assert text in flat, text
