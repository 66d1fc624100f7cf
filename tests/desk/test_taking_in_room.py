"""The room of taking in: files dropped, marked, what was not understood said, and two entries side by side."""

import re
from collections.abc import Callable
from pathlib import Path

from desk.conftest import KLASS
from desk.open_desk import WHO, File, Visitor, form_to
from jobs.small_class import LATER, TASK, hand_in, right_answers, sheets_of
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.jobs.handing_in import plain_name
from witnessmark.jobs.listing_returns import list_returns
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.answer_text import answer_text

AtDesk = Callable[[Path], Visitor]
BACK = f"/class/{KLASS}/task/{TASK}/back"


def book(folder: Path, code: str, **typed: str) -> File:
    """A book as a student sends it: right but for what is typed."""
    sheet = sheets_of(folder)[code]
    answers = {**right_answers(sheet), **{f"1.{key}": text for key, text in typed.items()}}
    path = hand_in(folder, sheet, answers)
    data = path.read_bytes()
    path.unlink()
    return f"answers of {code}.xlsx", data


def raw(folder: Path, code: str, ask: str) -> str:
    """The entry that counts."""
    sheet = sheets_of(folder)[code].code
    with open_class(folder).record() as record:
        return next(dict(r.entries)[ask].raw for r in record.returns(TASK) if r.sheet_code == sheet)


def test_answers_copied_from_a_message_are_taken_in(issued: Path, at_desk: AtDesk) -> None:
    at, sheet = at_desk(issued), sheets_of(issued)["LW01"]
    text = answer_text(sheet.code, [("1.a", "41,5 kN"), ("note", "sent from the yard")])
    page = at.send(form_to(at.look(BACK), "/back"), message=f"Hello,\r\n{text}\r\nMaren")
    assert "1 return read" in page.text
    assert raw(issued, "LW01", "1.a") == "41,5 kN"
    assert "sent from the yard" in at.look(BACK).text


def test_dropped_files_are_taken_in_and_marked_and_what_is_no_book_is_said(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    files = [book(issued, "HB01"), book(issued, "HB02", a="123456 kN"), ("photo.xlsx", b"no workbook")]
    done = at.send(form_to(at.look(BACK), "/back"), files=files, who=WHO)
    assert "3 files taken" in done.text
    assert "2 of 4 sheets are marked" in done.text
    assert "photo.xlsx" in done.text
    assert "save it as .xlsx or .ods" in done.text
    back = at.look(BACK)
    assert "answers of HB01.xlsx" in back.text
    assert back.text.count("nothing yet") == 2
    assert re.search(r"[Ww]itnessmark [a-z]", done.text) is None


def test_the_same_file_again_changes_nothing(issued: Path, at_desk: AtDesk) -> None:
    at, one = at_desk(issued), book(issued, "HB01")
    at.send(form_to(at.look(BACK), "/back"), files=[one])
    done = at.send(form_to(at.look(BACK), "/back"), files=[("other name.xlsx", one[1])])
    assert "1 file was there already" in done.text
    assert len(list((issued / "returned" / TASK).iterdir())) == 1


def test_a_second_file_of_one_name_lies_beside_the_first(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    for code in ("HB01", "HB02"):
        at.send(form_to(at.look(BACK), "/back"), files=[("answers.xlsx", book(issued, code)[1])])
    assert {path.name for path in (issued / "returned" / TASK).iterdir()} == {"answers.xlsx", "answers (2).xlsx"}


def test_what_differs_waits_side_by_side_and_what_counted_goes_on_counting(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    at.send(form_to(at.look(BACK), "/back"), files=[book(issued, "HB01")])
    first = raw(issued, "HB01", "1.a")
    done = at.send(form_to(at.look(BACK), "/back"), files=[book(issued, "HB01", a="60 kN")])
    assert "1 entry differs" in done.text
    assert raw(issued, "HB01", "1.a") == first
    page = at.look(BACK)
    assert "1 pair of returns differs" in page.headings
    assert first in page.text
    assert "60 kN" in page.text


def test_the_later_counts_once_it_is_chosen_with_a_reason(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    for a in ("50 kN", "60 kN"):
        at.send(form_to(at.look(BACK), "/back"), files=[book(issued, "HB01", a=a)])
    form = form_to(at.look(BACK), "/choose")
    later = form.buttons[-1][1]
    at.send(form, 422, counts=later, who=WHO, why="")
    assert raw(issued, "HB01", "1.a") == "50 kN"
    page = at.send(form, counts=later, who=WHO, why="She wrote this one last")
    assert "pair of returns differs" not in page.text
    assert raw(issued, "HB01", "1.a") == "60 kN"


def test_a_choice_between_entries_that_changed_meanwhile_is_refused(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    for a in ("50 kN", "60 kN"):
        at.send(form_to(at.look(BACK), "/back"), files=[book(issued, "HB01", a=a)])
    stale, fresh = form_to(at.look(BACK), "/choose"), form_to(at.look(BACK), "/choose")
    at.send(fresh, counts=fresh.buttons[0][1], who=WHO, why="The first is right")
    page = at.send(stale, 422, counts=stale.buttons[-1][1], who=WHO, why="The second is right")
    assert "look at them once more" in page.text
    assert raw(issued, "HB01", "1.a") == "50 kN"


def test_what_a_student_wrote_to_the_teacher_is_shown_as_text(issued: Path, at_desk: AtDesk) -> None:
    at, sheet = at_desk(issued), sheets_of(issued)["HB01"]
    data = answer_book(sheet, {"1.a": ("see my drawing", ""), "note": ("<b>ill</b> since Monday", "")})
    at.send(form_to(at.look(BACK), "/back"), files=[("A.xlsx", data)])
    tray = at.look(f"/class/{KLASS}/task/{TASK}/tray?at={sheet.code}+1.a")
    for page in (at.look(BACK), tray):
        assert "<b>ill</b> since Monday" in page.text
    with open_class(issued).record() as record:
        (note,) = record.notes(TASK)
    assert note.words == "<b>ill</b> since Monday"


def test_the_day_of_coming_in_is_kept_and_a_wrong_one_refused(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    form = form_to(at.look(BACK), "/back")
    assert "a day of the calendar" in at.send(form, 422, files=[book(issued, "HB01")], came="31 June").text
    at.send(form, files=[book(issued, "HB01")], came="2027-01-20", who=WHO)
    days = list_returns(issued, TASK, LATER).attempts[sheets_of(issued)["HB01"].code]
    assert f"{days.received}" == "2027-01-20"


def test_names_of_files_lead_nowhere() -> None:
    assert plain_name("../../etc/passwd") == "passwd"
    assert plain_name("C:\\books\\A1.xlsx") == "A1.xlsx"
    assert plain_name("..") == "unnamed"
    assert plain_name(".hidden.xlsx") == "hidden.xlsx"
    assert plain_name("a\r\nb?.xlsx") == "a--b-.xlsx"
    assert len(plain_name("n" * 500 + ".xlsx")) <= 120
    assert plain_name("n" * 500 + ".xlsx").endswith(".xlsx")
