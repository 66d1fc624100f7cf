"""The record as JSON lines."""

import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from record.examples import LATER, NOW, accepted, from_bundle, handed_in, sheets, slip, task
from witnessmark.questions.sheet.arranged import Arrangement, Arranging
from witnessmark.record.record import Record
from witnessmark.review.year.history import Visit


def exported(record: Record, names: bool = False) -> list[dict[str, Any]]:
    """The lines as data."""
    return [json.loads(line) for line in record.export_jsonl(names)]


def fill(record: Record) -> None:
    """One return, marked and moderated."""
    sheet = sheets()[0]
    record.add_returns([handed_in(sheet, "94,2 kN \ud800")], NOW, {"A1.xlsx": "ab" * 32})
    record.set_outcomes("shear-1", {sheet.code: {"1.a": slip()}}, NOW, "marked")
    record.moderate(sheet.code, "1.a", Decimal(2), "R. Vos", "seen", LATER)
    record.accept("shear-1", accepted(), "R. Vos", "four of them did so", LATER)


def test_every_kind_of_row_is_exported(issued: Record) -> None:
    fill(issued)
    lines = exported(issued)
    assert list(dict.fromkeys(line["kind"] for line in lines)) == [
        "task", "text", "sheet", "variant", "accepted", "return", "entry", "counts", "outcome", "moderation", "journal",
    ]  # fmt: skip
    by_kind = {line["kind"]: line for line in reversed(lines)}
    assert by_kind["task"]["body"]["rules"]["wrong_unit"] == "1"
    assert by_kind["variant"]["shown"]["d"] == ["20.0", "mm"]
    assert by_kind["entry"]["raw"] == "94,2 kN \ud800"
    assert by_kind["return"]["sha256"] == "ab" * 32
    assert by_kind["outcome"]["body"]["evidence"][0]["formula"] == "tau*pi*d**2/4"
    assert by_kind["moderation"]["marks"] == "2"
    assert by_kind["accepted"]["misconception"]["say"] == "Count the edges that are cut."


def test_names_are_exported_only_when_asked_for(issued: Record) -> None:
    without = "".join(issued.export_jsonl())
    assert "Dekker" not in without
    assert "phone" not in without
    sheet = next(line for line in exported(issued, names=True) if line["kind"] == "sheet")
    assert (sheet["student"], sheet["name"], sheet["group"]) == ("A1", "Kim Dekker", "Westhaven")
    assert sheet["more"] == [["phone", "none"]]


def test_a_student_gets_what_is_held_of_them_and_nobody_else_is_named(issued: Record) -> None:
    """Two students; a note on the first names the second's sheet, and a reason the second's name."""
    first, second = sheets()[:2]
    issued.add_returns([handed_in(sheet, f"{sheet.student.name}'s 94.2 kN") for sheet in (first, second)], NOW)
    told = replace(slip(), notes=(f"equal to the right answer of {second.student.code} ({second.code})",))
    issued.set_outcomes("shear-1", {first.code: {"1.a": told}, second.code: {"1.a": slip()}}, NOW, "marked")
    issued.moderate(first.code, "1.a", Decimal(2), "R. Vos", f"worked with {second.student.name}", LATER, "Well done.")
    lines = [json.loads(line) for line in issued.export_student(first.student.code)]
    whole = json.dumps(lines, ensure_ascii=False)
    assert not [one for one in (second.student.name, second.student.code, second.code) if f'"{one}' in whole]
    assert second.student.name not in whole
    assert second.code not in whole
    by_kind = {line["kind"]: line for line in lines}
    assert set(by_kind) == {
        "task", "sheet", "variant", "return", "entry", "counts", "outcome", "moderation", "words", "journal",
    }  # fmt: skip
    assert (by_kind["sheet"]["name"], by_kind["words"]["say"]) == (first.student.name, "Well done.")
    assert by_kind["outcome"]["body"]["notes"] == ["equal to the right answer of another student (another student)"]
    assert by_kind["moderation"]["why"] == "worked with another student"
    assert by_kind["entry"]["raw"] == f"{first.student.name}'s 94.2 kN"
    mine = [line for line in exported(issued) if line.get("sheet") == first.code]
    assert [line["kind"] for line in lines if line.get("sheet") == first.code] == [line["kind"] for line in mine]
    assert issued.export_student("Z9") == ()


def test_a_student_gets_the_own_files_alone(issued: Record) -> None:
    first, second = sheets()[:2]
    kept = {sheet.code: issued.keep_file(sheet.code.encode()) for sheet in (first, second)}
    returns = [handed_in(sheet, file=f"{sheet.code}.xlsx") for sheet in (first, second)]
    issued.add_returns(returns, NOW, {f"{code}.xlsx": sha for code, sha in kept.items()})
    lines = [json.loads(line) for line in issued.export_student(first.student.code)]
    assert [line["sha256"] for line in lines if line["kind"] == "file"] == [kept[first.code]]


def test_a_name_that_begins_with_anothers_is_left_out_as_a_whole(path: Path) -> None:
    first, second, third = sheets()
    named = [replace(s, student=replace(s.student, name=n)) for s, n in ((second, "Kim"), (third, "Kim Berg"))]
    with Record(path, from_bundle) as record:
        record.add_sheets([first, *named], NOW)
        record.add_returns([handed_in(first)], NOW)
        record.set_outcomes("shear-1", {first.code: {"1.a": slip()}}, NOW, "marked")
        record.moderate(first.code, "1.a", Decimal(2), "R. Vos", "worked with Kim Berg", LATER)
        lines = [json.loads(line) for line in record.export_student(first.student.code)]
    assert [line["why"] for line in lines if line["kind"] == "moderation"] == ["worked with another student"]


def test_a_student_gets_the_tasks_visits_and_arrangements_that_are_their_own(issued: Record) -> None:
    """Two tasks; the first student has sheets of one, a visit and an arrangement, and the second of both."""
    first, second = sheets()[:2]
    issued.add_sheets(sheets(task("shear-2"))[1:2], NOW)
    for sheet in (first, second):
        student = sheet.student.code
        issued.add_visits([Visit(student, date(2027, 2, 1), ("both-faces",), f"of {student}", "R. Vos")], NOW)
        issued.arrange(Arrangement(Arranging.GROUP, "", student, f"yard of {student}", "R. Vos", "moved", NOW))
        issued.add_returns([handed_in(sheet, f"{student} kN")], NOW)
        issued.set_outcomes("shear-1", {sheet.code: {"1.a": slip()}}, NOW, "marked")
    lines = [json.loads(line) for line in issued.export_student("A1")]
    assert [line["key"] for line in lines if line["kind"] == "task"] == ["shear-1"]
    assert [line["note"] for line in lines if line["kind"] == "visit"] == ["of A1"]
    assert [line["value"] for line in lines if line["kind"] == "arrangement"] == ["yard of A1"]
    assert [line["raw"] for line in lines if line["kind"] == "entry"] == ["A1 kN"]
    assert {line["sheet"] for line in lines if line["kind"] == "journal"} == {first.code, "A1"}
    assert {line["sheet"] for line in lines if line["kind"] in ("variant", "return", "outcome")} == {first.code}


def test_a_student_is_told_their_own_name_and_not_that_of_a_namesake_in_other_words(path: Path) -> None:
    """The second student has the first one's name: it is told, since it is the first one's own."""
    first, second, _ = sheets()
    namesake = replace(second, student=replace(second.student, name=first.student.name))
    with Record(path, from_bundle) as record:
        record.add_sheets([first, namesake], NOW)
        record.set_outcomes("shear-1", {first.code: {"1.a": slip()}}, NOW, "marked")
        record.moderate(first.code, "1.a", Decimal(2), "R. Vos", f"{first.student.name}, not A2 or XA2", LATER)
        lines = [json.loads(line) for line in record.export_student("A1")]
    (why,) = [line["why"] for line in lines if line["kind"] == "moderation"]
    assert why == f"{first.student.name}, not another student or XA2"


def test_what_a_class_of_one_student_holds_is_told_as_it_is(path: Path) -> None:
    with Record(path, from_bundle) as record:
        record.add_sheets(sheets()[:1], NOW)
        mine = [json.loads(line) for line in record.export_student("A1")]
        whole = exported(record, names=True)
    assert mine == [line for line in whole if line["kind"] != "text" and (line["kind"] != "journal" or line["sheet"])]


def test_what_is_told_of_a_sheet_without_names_is_code_task_and_group(issued: Record) -> None:
    line = next(line for line in exported(issued) if line["kind"] == "sheet")
    assert line == {
        "kind": "sheet", "code": sheets()[0].code, "task": "shear-1", "student": "A1", "attempt": 1,
        "issued": NOW.isoformat(), "group": "Westhaven",
    }  # fmt: skip
