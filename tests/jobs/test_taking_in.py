"""Taking in loses nothing: what comes adds to what counts, differences wait, a teacher chooses, every file is kept."""

import shutil
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.copied import issued_class
from jobs.small_class import LATER, NOW, TASK, hand_in, right_answers, sheets_of
from searching import examples
from witnessmark.cli.main import main
from witnessmark.jobs.counting import choose
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.listing_returns import list_returns
from witnessmark.jobs.marking import Marked, mark
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.errors import ProblemsFound

SURE = Decision("K. Lund", "she sent it again", LATER)


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class whose task was issued; not to be changed."""
    return issued_class(tmp_path_factory.mktemp("taking-in") / "class")


@pytest.fixture
def folder(issued: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(issued, tmp_path / "class")
    return tmp_path / "class"


def table(folder: Path, rows: Mapping[str, Mapping[str, str]], name: str = "on-paper.csv") -> Path:
    """A class table of a few answers by student and label."""
    labels = sorted({label for answers in rows.values() for label in answers})
    lines = [",".join(["student", *labels])]
    lines += [",".join([student, *(answers.get(label, "") for label in labels)]) for student, answers in rows.items()]
    path = folder / name
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def total(marked: Marked, sheet: Sheet) -> Decimal:
    """The marks of a sheet."""
    return sum((o.marks for o in marked.outcomes[sheet.code].values()), Decimal(0))


def entry(folder: Path, sheet: Sheet, key: str) -> str:
    """What counts for an answer."""
    with open_class(folder).record() as record:
        (standing,) = (r for r in record.returns(TASK) if r.sheet_code == sheet.code)
        return dict(standing.entries)[key].raw


def run(*arguments: str | Path) -> tuple[int, str]:
    """A command, its exit code and all that it printed."""
    done = CliRunner().invoke(main, [str(argument) for argument in arguments])
    return done.exit_code, done.output


def test_a_table_with_one_answer_adds_to_the_books_and_takes_nothing_away(folder: Path) -> None:
    sheets = sheets_of(folder)
    for sheet in sheets.values():
        hand_in(folder, sheet, {k: v for k, v in right_answers(sheet).items() if k != "2.b"})
    before = mark(folder, TASK, NOW)
    last = {code: {"2b": right_answers(sheet)["2.b"]} for code, sheet in sheets.items()}
    after = mark(folder, TASK, LATER, table(folder, last))
    assert after.problems == ()
    assert after.added == len(sheets)
    for sheet in sheets.values():
        gained = after.outcomes[sheet.code]["2.b"].out_of
        assert total(after, sheet) == total(before, sheet) + gained
    assert after.fell == ()


def test_a_table_with_one_answer_through_the_command_lowers_no_total(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet))
    code, said = run("mark", folder, TASK)
    assert code == 0, said
    code, said = run("mark", folder, TASK, table(folder, {"HB01": {"2b": ""}, "HB02": {"1a": "94 kN"}}))
    assert code == 0, said
    assert "lower than before" not in said
    with open_class(folder).record() as record:
        assert sum(o.marks for o in record.outcomes(TASK)[sheet.code].values()) == total(
            mark(folder, TASK, LATER), sheet
        )
    assert entry(folder, sheet, "1.a") == right_answers(sheet)["1.a"]


def test_another_workbook_with_the_code_of_a_sheet_replaces_nothing(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet))
    before = mark(folder, TASK, NOW)
    hand_in(folder, sheet, {"1.a": ""}, "notes.xlsx")
    after = mark(folder, TASK, LATER)
    assert after.outcomes == before.outcomes


def test_entries_that_differ_are_told_with_places_and_commands_and_neither_is_lost(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet))
    before = mark(folder, TASK, NOW)
    code, said = run("mark", folder, TASK, table(folder, {"HB01": {"1a": "7 kN"}}))
    assert code == 1
    right = right_answers(sheet)["1.a"]
    assert f"[entries-differ] expected one entry for 1a of HB01 ({sheet.code}), found '{right}' (HB01.xlsx" in said
    assert "which counts, and '7 kN' (on-paper.csv" in said
    assert f"witnessmark counts {folder} {sheet.code} 2 1a --who … --why … lets it count, with 1 it is given up" in said
    assert said.count("7 kN") == 1  # nothing is told twice
    assert entry(folder, sheet, "1.a") == right
    again = mark(folder, TASK, LATER)
    assert total(again, sheet) == total(before, sheet)
    assert [d.ask for d in again.differences] == ["1.a"]
    assert any("two entries differ" in why[-1] for _, label, why in again.in_tray if label == "1a")


def test_told_to_replace_the_last_taking_in_decides_also_when_it_takes_a_correction_back(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    for text in ("70 kN", "80 kN", "70 kN"):
        source = table(folder, {"HB01": {"1a": text}})
        if text == "70 kN" and entry_or_none(folder, sheet) is None:
            mark(folder, TASK, NOW, source)
        else:
            waits = mark(folder, TASK, NOW, source)
            assert [d.other.entry.raw for d in waits.differences] == [text]
            done = mark(folder, TASK, LATER, source, replace=SURE)
            assert (done.replaced, done.differences) == (1, ())
        assert entry(folder, sheet, "1.a") == text


def entry_or_none(folder: Path, sheet: Sheet) -> str | None:
    """What counts for the first answer, None before anything came back."""
    with open_class(folder).record() as record:
        return next((dict(r.entries)["1.a"].raw for r in record.returns(TASK) if r.sheet_code == sheet.code), None)


def test_a_correction_taken_back_before_anybody_decided_waits_no_longer(folder: Path) -> None:
    mark(folder, TASK, NOW, table(folder, {"HB01": {"1a": "70 kN"}}))
    assert mark(folder, TASK, NOW, table(folder, {"HB01": {"1a": "80 kN"}})).differences
    assert mark(folder, TASK, NOW, table(folder, {"HB01": {"1a": "70 kN"}})).differences == ()


def test_a_decision_holds_when_the_same_files_are_marked_again(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": "70 kN"})
    mark(folder, TASK, NOW)
    source = table(folder, {"HB01": {"1a": "80 kN"}})
    mark(folder, TASK, NOW, source, replace=SURE)
    again = mark(folder, TASK, LATER)
    assert (again.differences, again.problems) == ((), ())
    assert entry(folder, sheet, "1.a") == "80 kN"


def test_replacing_needs_a_name_and_a_reason_and_stores_nothing_without(folder: Path) -> None:
    mark(folder, TASK, NOW, table(folder, {"HB01": {"1a": "70 kN"}}))
    source = table(folder, {"HB01": {"1a": "80 kN"}})
    code, said = run("mark", folder, TASK, source, "--replace")
    assert code == 1
    assert "[no-reason]" in said
    with open_class(folder).record() as record:
        assert len(record.all_returns(TASK)) == 1


def test_counts_chooses_a_return_for_all_answers_or_for_one_and_tells_the_marks_that_change(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": "70 kN"})
    mark(folder, TASK, NOW)
    hand_in(folder, sheet, {"1.a": right_answers(sheet)["1.a"]}, "second.xlsx")
    mark(folder, TASK, NOW)
    code, said = run("counts", folder, sheet.code, "2", "1a", "--who", "K. Lund", "--why", "the second is hers")
    assert code == 0, said
    assert "return 2 (second.xlsx) counts for 1a" in said
    assert "  1a: 0 to 3" in said
    assert entry(folder, sheet, "2.b") == right_answers(sheet)["2.b"]
    alone = choose(folder, sheet.code, 2, [], "K. Lund", "nothing else is hers", LATER)
    assert alone.changed
    assert entry(folder, sheet, "2.b") == ""
    assert {label: after for label, _, after in alone.marks}["2b"] == 0
    assert not choose(folder, sheet.code, 2, [], "K. Lund", "nothing else is hers", LATER).changed
    assert mark(folder, TASK, LATER).differences == ()
    with pytest.raises(ProblemsFound, match=r"no-return.*1 \(HB01\.xlsx\), 2 \(second\.xlsx\)"):
        choose(folder, sheet.code, 9, [], "K. Lund", "a reason", LATER)


def test_a_total_that_falls_is_told_with_the_answers_that_made_it_so(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet))
    mark(folder, TASK, NOW)
    source = table(folder, {"HB01": {"1a": "7 kN"}})
    code, said = run("mark", folder, TASK, source, "--replace", "--who", "K. Lund", "--why", "the paper is newer")
    assert code == 0, said
    assert f"lower than before: HB01 ({sheet.code})" in said
    assert "1a 3 to 0" in said
    with open_class(folder).record() as record:
        assert (
            record.journal(TASK, sheet.code, "1.a")[-1].why == "marked; what differed was replaced: the paper is newer"
        )


def test_a_file_that_is_gone_from_the_folder_counts_on_and_is_told(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    book = hand_in(folder, sheet, right_answers(sheet))
    before = mark(folder, TASK, NOW)
    book.unlink()
    hand_in(folder, sheets_of(folder)["HB02"], right_answers(sheets_of(folder)["HB02"]))
    code, said = run("mark", folder, TASK)
    assert code == 0
    assert "gone from the folder: " in said
    assert total(mark(folder, TASK, LATER), sheet) == total(before, sheet)


def test_every_file_is_kept_as_it_was_received_and_can_be_written_out(folder: Path, tmp_path: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    book = hand_in(folder, sheet, right_answers(sheet))
    source = table(folder, {"HB01": {"1a": "7 kN"}, "HB02": {"1a": "8 kN"}})
    received = book.read_bytes(), source.read_bytes()
    mark(folder, TASK, NOW)
    mark(folder, TASK, NOW, source)
    book.unlink()
    source.write_text("other")
    done = list_returns(folder, TASK, LATER, tmp_path / "kept")
    named = [(path.name.split("-", 2), path) for path in done.files]  # student, number of the return, name
    written = {f"{student} {name}": path for (student, _, name), path in named}
    assert set(written) == {"HB01 HB01.xlsx", "HB01 on-paper.csv", "HB02 on-paper.csv"}
    assert written["HB01 HB01.xlsx"].read_bytes() == received[0]
    assert written["HB01 on-paper.csv"].read_bytes() == received[1]


def test_returns_lists_what_came_back_with_what_counts_and_what_differs_side_by_side(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet))
    mark(folder, TASK, NOW)
    mark(folder, TASK, LATER, table(folder, {"HB01": {"1a": "7 kN"}}))
    code, said = run("returns", folder, TASK)
    assert code == 0
    lines = said.splitlines()
    assert any("HB01.xlsx" in line and line.split()[:3] == ["HB01", sheet.code, "1"] for line in lines)
    assert any("nothing yet" in line and line.startswith("HB02") for line in lines)
    assert any(line.strip().startswith("return 2 waits:  '7 kN' (on-paper.csv") for line in lines)
    assert f"the fuller is return 1: witnessmark counts {folder} {sheet.code} 1 --who" in said


def test_what_was_taken_in_can_be_taken_back_and_taken_in_again(folder: Path) -> None:
    sheet = sheets_of(folder)["HB01"]
    hand_in(folder, sheet, right_answers(sheet))
    before = mark(folder, TASK, NOW)
    source = table(folder, {"HB01": {"1a": "7 kN"}})
    mark(folder, TASK, NOW, source, replace=SURE)
    with open_class(folder).record() as record:
        record.undo("K. Lund", "it was of another student", LATER)
        assert record.outcomes(TASK) == before.outcomes
        assert record.differences(TASK) == ()
    assert [d.other.entry.raw for d in mark(folder, TASK, LATER, source).differences] == ["7 kN"]


# Whatever happens in whatever order: every entry received can be shown, no total falls without a row and a line.

STEPS = st.lists(
    st.tuples(
        st.sampled_from(["book", "table", "replace", "counts", "moderate", "undo", "again"]),
        st.sampled_from(["HB01", "HB02"]),
        st.sampled_from(["1a", "1b", "2a"]),
        st.sampled_from(["70 kN", "80 kN", "right", ""]),
    ),
    min_size=1, max_size=7,
)  # fmt: skip
TAKING_IN = ("lower than before: ",)
FALLS = dict.fromkeys(["book", "table", "replace", "again"], TAKING_IN) | {
    "counts": (*TAKING_IN, " to "), "moderate": ("marks now, ",), "undo": (", now ",),
}  # fmt: skip
"""What a printed line says where a total falls, by what was done; the code of the sheet stands in a line as well."""


@settings(examples(6), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=STEPS)
def test_no_entry_is_lost_and_no_total_falls_unsaid(
    issued: Path, tmp_path_factory: pytest.TempPathFactory, steps: list[tuple[str, str, str, str]]
) -> None:
    folder = tmp_path_factory.mktemp("sequence") / "class"
    shutil.copytree(issued, folder)
    sheets = sheets_of(folder)
    received: set[tuple[str, str, str]] = set()
    for n, (what, student, label, text) in enumerate(steps):
        sheet = sheets[student]
        key = f"{label[0]}.{label[1]}"
        typed = right_answers(sheet)[key] if text == "right" else text
        before, rows = _totals(folder), _rows(folder)
        said = _do(folder, sheet, what, label, key, typed, n)
        if what in ("book", "table", "replace") and typed:
            received.add((student, key, typed))
        for code, marks in before.items():
            if _totals(folder).get(code, Decimal(0)) < marks:
                with open_class(folder).record() as record:
                    assert any(row.sheet == code and row.why for row in record.journal()[rows:])
                told = [line for line in said.splitlines() if code in line]
                assert any(word in said for word in FALLS[what]), (what, code, said)
                assert told, (what, code, said)
    with open_class(folder).record() as record:
        held = {
            (s.student.code, key, e.raw)
            for s in sheets.values() for r in record.all_returns(TASK, s.code) for key, e in r.handed_in.entries
        }  # fmt: skip
    assert received <= held


def _do(folder: Path, sheet: Sheet, what: str, label: str, key: str, typed: str, n: int) -> str:
    """One thing that a teacher does; what is printed."""
    student = sheet.student.code
    deciding = ["--who", "K. Lund", "--why", "newer"]
    match what:
        case "book":
            hand_in(folder, sheet, {key: typed}, f"{student}-{n % 2}.xlsx")
        case "table" | "replace":
            replacing = ["--replace", *deciding] if what == "replace" else []
            return run("mark", folder, TASK, table(folder, {student: {label: typed}}), *replacing)[1]
        case "counts":
            with open_class(folder).record() as record:
                there = record.all_returns(TASK, sheet.code)
            if there:
                return run("counts", folder, sheet.code, str(there[n % len(there)].number), *deciding)[1]
        case "moderate":
            return run("moderate", folder, sheet.code, label, "--marks", "0", *deciding)[1]
        case "undo":
            return run("undo", folder, *deciding)[1]
    return run("mark", folder, TASK)[1]


def _totals(folder: Path) -> dict[str, Decimal]:
    with open_class(folder).record() as record:
        marked = record.outcomes(TASK)
    return {code: sum((o.marks for o in by.values()), Decimal(0)) for code, by in marked.items()}


def _rows(folder: Path) -> int:
    with open_class(folder).record() as record:
        return len(record.journal())


def test_whoever_watches_is_told_after_each_file_that_was_read(folder: Path) -> None:
    for sheet in list(sheets_of(folder).values())[:3]:
        hand_in(folder, sheet, right_answers(sheet))
    told: list[tuple[str, int, int]] = []
    mark(folder, TASK, NOW, progress=lambda what, done, total: told.append((what, done, total)))
    assert told == [("files read", n, 3) for n in (1, 2, 3)]
