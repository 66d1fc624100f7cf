"""Putting right what was issued: a question corrected, a wrong method named, a second teacher's marks.

What changes marks is shown first, name by name, and done in a second step.
"""

from collections.abc import Mapping, Sequence

from witnessmark.desk.acts.second_marks import ask_second_marks, take_second_marks
from witnessmark.desk.deciding import SEAL, accept_method, correct_task, drop_method
from witnessmark.desk.rooms.room import Room, begun
from witnessmark.desk.visit import Page, Reply, Visit
from witnessmark.desk.words import N_, _
from witnessmark.desk.works import Act, Fields
from witnessmark.files.bank.correction_text import tolerance_share
from witnessmark.jobs.accepting import Proposed
from witnessmark.jobs.correcting import Wanted
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import not_issued, open_class
from witnessmark.jobs.searching_bank import misconceptions_in
from witnessmark.questions.checking.corrections import Changes
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

RULES = "rules"
MOST_SECOND = 1000
MEANING: Mapping[str, str] = {
    Changes.ANSWER: N_("the right expression is another"),
    Changes.ALSO: N_("a second method is right as well"),
    Changes.TOLERANCE: N_("the tolerance is another, such as 5 %"),
    Changes.WORDING: N_("what is asked, in other words"),
    Changes.SLIP: N_("a slip has another expression"),
    Changes.FULL: N_("set aside: full marks for all who handed in"),
    Changes.OUT: N_("set aside: it leaves the total"),
    RULES: N_("marked by the rules that the task's file has now"),
}


def show_put_right(visit: Visit) -> Reply:
    """What can be put right in a task, and what was named in it so far."""
    task, opened = visit.way["task"], open_class(visit.class_path)
    with opened.record() as record:
        sheets, accepted = record.sheets(task), record.accepted(task)
    if not sheets:
        raise ProblemsFound([not_issued(visit.class_path, task)])
    asks = {ask.label: ask for sheet in sheets for ask in sheet.asks}.values()
    keys = {key: m.believes for sheet in sheets for v in sheet.variants for key, m in v.question.misconceptions.items()}
    places = {(sheets[0].variants[a.number - 1].question.key, a.part.key, a.line.name if a.line else ""): a.label
              for a in asks}  # fmt: skip
    named = [(places.get((one.slip.question, one.slip.part, one.slip.line), ""), one) for one in accepted]
    return Page("put-right", {
        "labels": [ask.label for ask in asks], "meanings": [(key, _(words)) for key, words in MEANING.items()],
        "numbers": [ask.label for ask in asks if isinstance(ask.part, QuantityPart)],
        "misconceptions": {**misconceptions_in(visit.bank), **keys}, "named": named, "second": _second_table(visit),
    })  # fmt: skip


def correct(visit: Visit) -> Reply:
    """What a correction would change, in a process of its own; done where that was shown."""
    changes, text = visit.text("changes"), visit.text("text")
    if changes == RULES:
        wanted = Wanted(rules=True)
    else:
        text = tolerance_share(text) if changes == Changes.TOLERANCE else text
        wanted = Wanted(visit.text("label"), _changes(changes), text, visit.text("slip"))
    sent = _sent(visit, "changes", "label", "text", "slip")
    return _begun(visit, _("Correcting {task}"), correct_task, wanted, _decision(visit), sent)


def accept(visit: Visit) -> Reply:
    """What naming a wrong method would change; done where that was shown."""
    proposed = Proposed(visit.text("key").strip(), visit.text("formula"), 0, visit.text("keeps"), visit.text("say"),
                        visit.text("bank") == "yes")  # fmt: skip
    if not proposed.formula.strip():
        expected, remedy = _("the wrong method as a formula"), _("type it as in a question file, such as F / (b * t)")
        raise ProblemsFound([Problem("no-formula", Place(_("formula")), expected, _("none"), remedy)])
    sent = _sent(visit, "answer", "key", "formula", "keeps", "say", "bank")
    return _begun(visit, _("A wrong method named in {task}"), accept_method, visit.text("answer"), proposed,
                  _decision(visit), sent)  # fmt: skip


def drop(visit: Visit) -> Reply:
    """What would change without a method that was named; done where that was shown."""
    sent = _sent(visit, "answer", "key")
    return _begun(visit, _("A method named no longer in {task}"), drop_method, visit.text("answer"), visit.text("key"),
                  _decision(visit), sent)  # fmt: skip


def ask_second(visit: Visit) -> Reply:
    """A table of answers without marks, for a second teacher."""
    return _begun(visit, _("Second marks of {task}"), ask_second_marks, _count(visit.text("count", "20")))


def keep_second(visit: Visit) -> Reply:
    """The second teacher's marks of a table that came back, and how far both agree."""
    if not visit.files:
        remedy = _("choose the table that the second teacher filled in")
        raise ProblemsFound([Problem("no-file", Place(_("second marks")), _("a table"), _("none"), remedy)])
    return _begun(visit, _("Second marks of {task}"), take_second_marks, visit.files[0], _decision(visit))


def _begun(visit: Visit, title: str, act: Act, *arguments: object) -> Reply:
    task = visit.way["task"]
    return begun(visit, title.format(task=task), act, visit.class_path, task, *arguments)


def _decision(visit: Visit) -> Decision:
    return Decision(visit.who.strip(), visit.text("why"), visit.now, apply=bool(visit.text(SEAL)))


def _sent(visit: Visit, *names: str) -> Fields:
    return tuple((name, visit.text(name)) for name in (*names, SEAL) if visit.text(name))


def _changes(typed: str) -> Changes:
    if typed in MEANING and typed != RULES:
        return Changes(typed)
    found, remedy = f"'{typed}'" if typed else _("none"), _("choose what is wrong")
    raise ProblemsFound([Problem("unknown", Place(_("what is wrong")), _("one of the list"), found, remedy)])


def _count(typed: str) -> int:
    if typed.strip().isdecimal() and 1 <= int(typed) <= MOST_SECOND:
        return int(typed)
    expected = _("a number from 1 to {most}").format(most=MOST_SECOND)
    raise ProblemsFound([Problem("out-of-range", Place(_("how many answers")), expected, f"'{typed}'")])


def _second_table(visit: Visit) -> Sequence[str]:
    name = f"second-marks-{visit.way['task']}.xlsx"
    return (name,) if (visit.class_path / name).is_file() else ()


OF_TASK = "/class/{klass}/task/{task}/put-right"
ROOMS = (
    Room(OF_TASK, show_put_right),
    Room(f"{OF_TASK}/correct", show_put_right, correct),
    Room(f"{OF_TASK}/accept", show_put_right, accept),
    Room(f"{OF_TASK}/drop", show_put_right, drop),
    Room(f"{OF_TASK}/second", show_put_right, ask_second),
    Room(f"{OF_TASK}/second-marks", show_put_right, keep_second),
)
