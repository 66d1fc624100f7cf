"""A question's file written: looked at while it is typed, seen in three variants, kept on one button."""

import re
from dataclasses import dataclass
from difflib import unified_diff
from pathlib import Path

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.telling import told
from witnessmark.desk.visit import Facts, Go, Page, Reply, Told, Visit
from witnessmark.desk.words import _, counted
from witnessmark.documents.page.html import html_of
from witnessmark.jobs.drafts import Draft, draft_of, drop_draft, hold_draft
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.previewing import preview_of
from witnessmark.jobs.writing_question import Looked, QuestionFile, keep_question, look_at, question_file, words_at
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

SEAL = re.compile("[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the field: its text, the seal of the file over which it was typed, and whether it was taken from
    what is held of an earlier visit."""

    text: str
    seal: str
    is_held: bool = False


def show_writing(visit: Visit) -> Reply:
    """The file as it stands, or as it was typed last; beside it what `check` says of it."""
    file = _file(visit)
    typed = _typed(visit, file)
    looked = look_at(file, typed.text)
    return Page("write", {
        "file": file, "typed": typed, "looked": looked, "found": told(looked.problems), "heading": _heading(looked),
        "variants": _variants(visit, looked), "says": _says(), "was_kept": bool(visit.asked.get("kept")),
        "is_stale": typed.seal != file.seal, "is_changed": typed.text != file.text,
        "changes": _changes(file.text, typed.text) if typed.seal != file.seal else (),
    }, scripts=True)  # fmt: skip


def write(visit: Visit) -> Reply:
    """What was typed: held and looked at, kept in the bank, or given up for what stands there."""
    file, here = _file(visit), ("bank", visit.way["question"], "write")
    if visit.text("what") == "leave":
        drop_draft(visit.class_path, file.key)
        return Go(visit.at(*here))
    typed = _typed(visit, file)
    hold_draft(visit.class_path, file.key, Draft(typed.text, typed.seal))
    if visit.text("what") != "keep":
        return Go(visit.at(*here))
    try:
        kept = keep_question(_bank(visit), file.key, typed.text, typed.seal)
    except ProblemsFound as error:
        if any(problem.code == "stale" for problem in error.problems):
            raise
        raise ProblemsFound([_not_kept(file)]) from error
    drop_draft(visit.class_path, file.key, kept.text)
    return Go(visit.at(*here, kept="yes"))


def look(visit: Visit) -> Reply:
    """What a script asks while somebody types: the problems, and where the variants are seen; what came is held."""
    file = _file(visit)
    typed = _typed(visit, file)
    if typed.text == file.text:
        drop_draft(visit.class_path, file.key)
    else:
        hold_draft(visit.class_path, file.key, Draft(typed.text, typed.seal))
    looked = look_at(file, typed.text)
    problems = [
        {"line": p.line, "place": p.place, "expected": p.expected, "found": p.found, "remedy": p.remedy}
        for p in told(looked.problems)
    ]
    remarks = [f"{remark}" for remark in looked.report.remarks] if looked.report else []
    return Facts({"problems": problems, "heading": _heading(looked), "remarks": remarks,
                  "variants": _variants(visit, looked)})  # fmt: skip


def offer(visit: Visit) -> Reply:
    """What a script asks for: the words that may stand at a place."""
    line, column = (visit.text(name) for name in ("line", "column"))
    if not all(number.isdecimal() and len(number) < 8 for number in (line, column)):
        return Facts({"words": []})
    found = words_at(_bank(visit), _plain(visit.text("text")), int(line), int(column))
    return Facts({"words": [
        {"label": one.word, "detail": _("needed") if one.is_needed else "", "info": one.about,
         "apply": f"{one.word}: " if one.is_key else one.word} for one in found
    ]})  # fmt: skip


def show_variants(visit: Visit) -> Reply:
    """Three variants of what was typed, worked, with what each slip would earn and be told."""
    number = visit.way["number"]
    looked = visit.keeping.looked_at.get(int(number)) if number.isdecimal() and len(number) < 10 else None
    if looked is None or looked.question is None or looked.report is None or looked.bank is None:
        remedy = _("look at the file once more")
        raise ProblemsFound([Problem("no-variants", Place(_("variants")), _("what was typed last"), _("none"), remedy)])
    document, _count = preview_of(looked.question, looked.bank, looked.report)
    return Told(html_of(document))


def go_there(visit: Visit) -> Reply:
    """Whoever looks where only a script asks."""
    return Go(visit.at("bank", visit.way["question"], "write"))


def _bank(visit: Visit) -> Path:
    return open_class(visit.class_path).folder.bank


def _file(visit: Visit) -> QuestionFile:
    return question_file(_bank(visit), visit.way["question"])


def _typed(visit: Visit, file: QuestionFile) -> Typed:
    """What was sent; else what is held of an earlier visit; else the file."""
    if visit.typed.get("text"):
        seal = visit.text("seal")
        return Typed(_plain(visit.text("text")), seal if SEAL.fullmatch(seal) else file.seal)
    draft = draft_of(visit.class_path, file.key)
    if draft is None or draft.text == file.text:
        return Typed(file.text, file.seal)
    return Typed(draft.text, draft.seal, is_held=True)


def _plain(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _variants(visit: Visit, looked: Looked) -> str:
    """The address of the variants of what was typed; empty where there is none to be seen."""
    if looked.question is None:
        return ""
    number = str(visit.keeping.hold(looked))
    return visit.at("bank", visit.way["question"], "typed", number)


def _heading(looked: Looked) -> str:
    if not looked.problems:
        return _("Nothing is wrong with it.")
    return counted(len(looked.problems), "{n} thing to put right", "{n} things to put right")


def _not_kept(file: QuestionFile) -> Problem:
    remedy = _("put right what stands below; until then it is held here")
    return Problem("not-kept", Place(file.file.name), _("a file without a problem"), _("one with problems"), remedy)


def _changes(there: str, typed: str) -> tuple[str, ...]:
    """The lines in which what was typed differs from what stands in the file now."""
    return tuple(unified_diff(there.split("\n"), typed.split("\n"), lineterm="", n=1))[2:]


def _says() -> dict[str, str]:
    """What the script says."""
    return {
        "label": _("The file of the question"), "looking": _("looking"), "held": _("held on this machine"),
        "away": _("The desk does not answer. What you typed stays in this browser."), "expected": _("expected"),
        "found": _("found"), "line": _("Line"), "completions": _("What may stand here"),
        "again": _("This is what you typed last, and the desk had not got yet."),
    }  # fmt: skip


ROOMS = (
    Room("/class/{klass}/bank/{question}/write", show_writing, write),
    Room("/class/{klass}/bank/{question}/look", go_there, look),
    Room("/class/{klass}/bank/{question}/words", go_there, offer),
    Room("/class/{klass}/bank/{question}/typed/{number}", show_variants),
)
