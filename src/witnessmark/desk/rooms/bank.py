"""The bank: a question found by topic, level, misconception and words; and one question in three variants."""

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.visit import Go, Page, Reply, Told, Visit
from witnessmark.documents.page.html import html_of
from witnessmark.jobs.authoring import new_question
from witnessmark.jobs.checking import QuestionReport, report_on
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.previewing import preview_of
from witnessmark.jobs.searching_bank import Sought, found, found_in, misconceptions_in
from witnessmark.questions.bank import Bank
from witnessmark.questions.drawable import DrawableQuestion


def show_bank(visit: Visit) -> Reply:
    """The questions that have what is sought."""
    bank = visit.bank
    sought = Sought(visit.text("topic"), visit.text("level"), visit.text("misconception"), visit.text("words"))
    return Page("bank", {
        "offered": found_in(bank, sought), "sought": sought, "topics": bank.topics(),
        "levels": sorted({q.level for q in bank.values()}), "misconceptions": misconceptions_in(bank),
        "all": len(bank),
    })  # fmt: skip


def begin_question(visit: Visit) -> Reply:
    """A new question: a file to start from in the folder of its topic, to be written at once."""
    key = visit.text("key").strip()
    new_question(open_class(visit.class_path).folder.bank, f"{visit.text('new-topic').strip()}/{key}")
    return Go(visit.at("bank", key, "write"))


def show_question(visit: Visit) -> Reply:
    """One question: what it asks, what it can show; its variants stand in a page of their own inside."""
    bank = visit.bank
    one = bank[visit.way["question"]]
    return Page("question", {"found": found(one), "question": one, "report": _report(visit, bank, one)})


def show_variants(visit: Visit) -> Reply:
    """Three variants as students would get them, worked, with what each slip would earn and be told."""
    bank = visit.bank
    one = bank[visit.way["question"]]
    return Told(visit.keeping.of_question("variants", bank, one.key, lambda: _variants(visit, bank, one)))


def _variants(visit: Visit, bank: Bank, one: DrawableQuestion) -> str:
    document, _count = preview_of(one, bank, _report(visit, bank, one))
    return html_of(document)


def _report(visit: Visit, bank: Bank, one: DrawableQuestion) -> QuestionReport:
    return visit.keeping.of_question("report", bank, one.key, lambda: report_on(one, bank))


ROOMS = (
    Room("/class/{klass}/bank", show_bank, begin_question),
    Room("/class/{klass}/bank/{question}", show_question),
    Room("/class/{klass}/bank/{question}/variants", show_variants),
)
