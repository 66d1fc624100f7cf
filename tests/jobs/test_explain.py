"""The job and the command `explain`: one answer with what is accepted, what was typed, what fitted, and its mark."""

import json
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jobs.copied import issued_class
from jobs.small_class import LATER, NOW, TASK, contents, hand_in, right_answers, sheets_of
from marking.students import typed
from witnessmark.cli.main import main
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.explaining import AnswerExplained, explain
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.questions.model.parts import Kind
from witnessmark.words.errors import ProblemsFound


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small class: a slip, a repaired entry moderated since, a right sheet, a blank one and two not yet back."""
    folder = issued_class(tmp_path_factory.mktemp("explain") / "class")
    sheets = sheets_of(folder)
    first = sheets["HB01"]
    slip = first.variants[0].slips["a"]["radius-for-diameter"].to("newton").magnitude
    entries = {"1.a": typed(first.variants[0].question, "a", slip), "1.b": "12,3 Mpa", "2.b": ""}
    hand_in(folder, first, right_answers(first) | entries)
    hand_in(folder, sheets["HB02"], right_answers(sheets["HB02"]))
    mark(folder, TASK, NOW)
    moderate(folder, first.code, "1b", "1", "the area on paper is right", "K. Dekker", LATER)
    return folder


def about(folder: Path, label: str, student: str = "HB01") -> AnswerExplained:
    return explain(folder, sheets_of(folder)[student].code, label)


def shown(folder: Path, label: str, student: str = "HB01", *more: str) -> Result:
    words = ["explain", str(folder), sheets_of(folder)[student].code, label, *more]
    return CliRunner().invoke(main, words, catch_exceptions=False)


def text_of(result: Result) -> str:
    """What is printed, as one line with single blanks."""
    assert (result.exit_code, result.stderr) == (0, "")
    return " ".join(result.stdout.split())


def test_a_slip_is_explained_from_what_was_asked_to_the_mark(marked: Path) -> None:
    done = about(marked, "1a")
    assert (done.student, done.task, done.label) == ("HB01", TASK, "1a")
    assert done.asked.text == "Find the force needed to punch the hole."
    assert done.asked.relation == "τ × A_s"
    d = sheets_of(marked)["HB01"].variants[0].given["d"].to("millimetre").magnitude
    assert ("hole diameter", f"{d:g}\N{NO-BREAK SPACE}mm") in done.asked.givens
    assert f"{d:g}\N{NO-BREAK SPACE}mm in diameter" in done.asked.setting
    assert done.entry is not None
    assert done.entry.raw.endswith(" kN")
    assert done.file.endswith("HB01.xlsx")
    assert done.outcome == done.machine
    assert done.outcome is not None
    assert (done.outcome.marks, done.outcome.misconceptions) == (Decimal(2), ("radius-for-diameter",))
    assert done.moderation is None
    assert [row.event.value for row in done.history] == ["marked"]


def test_explanations_that_say_the_same_are_one_and_all_shares_add_up(marked: Path) -> None:
    done = about(marked, "1a")
    assert done.machine is not None
    says = [(fit.verdict, fit.sentence) for fit in done.fits]
    assert len(says) == len(set(says))
    assert done.fits[0].sure == pytest.approx(done.machine.sure)
    assert sum(fit.sure for fit in done.fits) + done.rest == pytest.approx(1)


def test_the_range_is_that_of_the_students_own_variant_and_of_the_tasks_figures(marked: Path) -> None:
    done, sheet = about(marked, "1a"), sheets_of(marked)["HB01"]
    assert done.asked.envelope == sheet.variants[0].explains("a", sheet.task.rules.figures)
    line = about(marked, "1a A_s")
    assert line.asked.envelope is not None
    assert line.asked.envelope.key == "a.A_s"
    assert line.asked.text == "sheared area, on the way to: Find the force needed to punch the hole."


def test_a_moderated_answer_shows_the_entry_its_repairs_and_both_marks(marked: Path) -> None:
    done = about(marked, "1b")
    assert done.machine is not None
    assert done.outcome is not None
    assert (done.machine.marks, done.outcome.marks) == (Decimal(0), Decimal(1))
    assert done.moderation is not None
    assert done.moderation.who == "K. Dekker"
    own = about(marked, "1a").outcome
    assert own is not None
    assert done.earlier == (("1a", own.read_as),)
    text = text_of(shown(marked, "1b"))
    assert "'12,3 Mpa' in " in text
    assert "The comma was read as a decimal point." in text
    assert "moderated 1 mark by K. Dekker on 2027-01-25: the area on paper is right" in text
    assert "2027-01-25 moderated 0 to 1 by K. Dekker" in text


def test_the_page_of_a_slip_names_both_ends_what_fits_and_the_mark(marked: Path) -> None:
    text = text_of(shown(marked, "1a"))
    for said in (
        "accepted from ", "With π = 3.14, the sheared area is ", "accepted to ", "With π = 22/7, ",
        "99.90% slip, radius-for-diameter: ", "none of these, or what is weaker still",
        "mark 2 of 3: slip, radius-for-diameter, 99.90% sure", "2027-01-04 marked 2 by witnessmark",
    ):  # fmt: skip
        assert said in text, said
    assert all(len(line) <= 110 for line in shown(marked, "1a").stdout.splitlines())


def test_every_answer_of_a_sheet_can_be_explained(marked: Path) -> None:
    for student in ("HB01", "HB02", "LW01"):
        sheet = sheets_of(marked)[student]
        for ask in sheet.asks:
            done = explain(marked, sheet.code, ask.label)
            assert done.asked.right, ask.label
            assert (done.asked.envelope is not None) == (ask.line is not None or ask.part.kind is Kind.QUANTITY)
            assert text_of(shown(marked, ask.label, student)).startswith(f"{sheet.code} {ask.label} ({student}, ")


def test_a_blank_answer_and_a_sheet_that_has_not_come_back_say_so(marked: Path) -> None:
    assert "typed nothing in " in text_of(shown(marked, "2b"))
    waiting = text_of(shown(marked, "1a", "LW01"))
    assert "typed nothing yet: this sheet has not come back" in waiting
    assert "mark none yet" in waiting
    assert about(marked, "1a", "LW01").rest == 1


def test_what_waits_is_told(marked: Path, tmp_path: Path) -> None:
    folder = tmp_path / "class"
    shutil.copytree(marked, folder)
    sheet = sheets_of(folder)["HB02"]
    hand_in(folder, sheet, right_answers(sheet) | {"1.a": "87.654 kN"}, "again.xlsx")
    mark(folder, TASK, LATER, replace=Decision("K. Dekker", "a better book", LATER))
    assert "waits no known method gives this number" in text_of(shown(folder, "1a", "HB02"))


def test_a_code_is_known_however_it_is_typed_and_asking_changes_nothing(marked: Path) -> None:
    before = contents(marked)
    code = sheets_of(marked)["HB01"].code
    assert explain(marked, code.lower().replace("-", " "), " 1A ") == explain(marked, code, "1a")
    assert contents(marked) == before


def test_an_unknown_sheet_or_answer_is_a_problem(marked: Path) -> None:
    code = sheets_of(marked)["HB01"].code
    remedy = "the code stands at the head of the sheet, and in the in-tray"
    labels = "1a A_s, 1a, 1b A_p, 1b, 1c, 2a A, 2a, 2b"
    for words, line in (
        (
            ("AAAA-AAAA", "1a"),
            f"{marked}: [no-sheet] expected a sheet code or a student's code of this class, found AAAA-AAAA; {remedy}",
        ),
        ((code, "9z"), f"{code}: [no-answer] expected one of {labels}, found 9z"),
    ):
        with pytest.raises(ProblemsFound) as error:
            explain(marked, *words)
        assert str(error.value) == line
        result = CliRunner().invoke(main, ["explain", str(marked), *words])
        assert (result.exit_code, result.stderr) == (1, f"{line}\n")


def test_the_answer_explained_is_also_for_machines(marked: Path) -> None:
    found = json.loads(shown(marked, "1a", "HB01", "--json").stdout)
    done = about(marked, "1a")
    assert done.asked.envelope is not None
    assert found["command"] == "explain"
    assert found["accepted"] == [
        done.asked.envelope.low.quantity.magnitude,
        done.asked.envelope.high.quantity.magnitude,
    ]
    assert found["unit"] == "kN"
    assert found["asked"]["envelope"]["low"]["sentences"] == list(done.asked.envelope.low.sentences)
    assert found["asked"]["envelope"]["low"]["steps"][0]["uses"][0]["value"] == 3.14
    assert found["outcome"]["marks"] == "2"
    assert found["fits"][0]["misconceptions"] == ["radius-for-diameter"]
    assert found["history"] == [
        {"at": "2027-01-04T09:00:00+00:00", "event": "marked", "before": None, "after": "2", "who": "witnessmark",
         "why": "marked"}
    ]  # fmt: skip
    assert json.loads(shown(marked, "1c", "HB01", "--json").stdout)["accepted"] is None
