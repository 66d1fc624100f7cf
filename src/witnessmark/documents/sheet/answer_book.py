"""The answer book of one student: a workbook with a place for every answer, locked but for those places.

It carries the sheet code three times (a cell, a hidden page, a property of the file) and the student's code, no name.
"""

from collections.abc import Mapping

from witnessmark.documents.kinds.dispatch import letters_of, listing, manner_of
from witnessmark.documents.page.wordings import date_text, filled, listed, marks_words
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in
from witnessmark.documents.workbook.writer import Book, Look, Page
from witnessmark.maths.printing.numbers import unit_text
from witnessmark.maths.printing.symbols import symbol_for
from witnessmark.questions.sheet.answer_places import (
    ANSWER,
    CODE_CELL,
    CODE_PROPERTY,
    FIRST_ROW,
    HEADING_ROW,
    HIDDEN_PAGE,
    HOW,
    HOW_TO_ROW,
    LABELS,
    NOTE_LABEL,
    NOTE_NAME,
    PAGE,
    STUDENT_CELL,
    UNIT,
    WHAT,
    AnswerPlace,
    answer_places,
    note_row,
    title_rows,
)
from witnessmark.questions.sheet.task import NOTE, Ask, Sheet
from witnessmark.questions.sheet.variant import Variant

HOW_TO = (
    "Type your answers into the framed cells: a number in one and its unit beside it, written as you would on paper. "
    "Then save the file and send it back; all else is locked, and the sheet code says whose sheet it is."
)
NOTE_WORDS = (
    "To your teacher, if you like: what you could not read, where you are stuck, what else to know. It is never marked."
)
NOTE_LINES = 4
WIDTHS = {LABELS: 11, WHAT: 46, ANSWER: 21, UNIT: 12, HOW: 28}
LEAST_HEIGHT = 24.0
GREY, RULE, OPEN, OPEN_OPTIONAL = "595959", "7F7F7F", "FFF9E0", "FFFFFF"

TITLE = Look(size=16, bold=True)
PLAIN = Look()
TOLD = Look(colour=GREY)
CODE = Look(bold=True)
HOW_LOOK = Look(colour=GREY, indent=1)
HEADING = Look(bold=True, colour="FFFFFF", fill="2F4F4F")
QUESTION = Look(bold=True, fill="DDE5E5")
LABEL = Look(bold=True)
LABEL_OF_LINE = Look(colour=GREY)
WHAT_OF_LINE = Look(italic=True)
ANSWER_LOOK = Look(fill=OPEN, border=RULE, is_open=True)
LINE_LOOK = Look(fill=OPEN_OPTIONAL, border=RULE, is_open=True)
NOTE_LOOK = Look(fill=OPEN_OPTIONAL, border=RULE, is_open=True, top=True)


def answer_book(sheet: Sheet, typed: Mapping[str, tuple[str, str]] | None = None) -> bytes:
    """The answer book of a sheet as xlsx; the same bytes for the same sheet.

    `typed` fills in answers and units by ask key (`1.a`), and the note by `note`, as a student would: for the demo and
    for trials.
    """
    book = Book(f"{sheet.task.title}: answer book {sheet.code}", sheet.task.title)
    page = book.page(PAGE)
    _head(page, sheet)
    places = answer_places(sheet)
    for number, row in title_rows(places).items():
        _question(page, row, number, sheet.variants[number - 1])
    for place in places:
        _place(page, place, sheet.variants[place.ask.number - 1], (typed or {}).get(place.ask.key, ("", "")))
        book.name(place.name, PAGE, place.answer)
        if place.unit:
            book.name(place.unit_name, PAGE, place.unit)
    _offers(page, places, sheet)
    last = note_row(places)
    _note(page, last, (typed or {}).get(NOTE, ("", ""))[0])
    book.name(NOTE_NAME, PAGE, f"{ANSWER}{last}")
    page.widths(WIDTHS)
    page.keep_as_text(f"{ANSWER}{FIRST_ROW}", f"{UNIT}{last}")
    page.freeze(f"A{FIRST_ROW}")
    page.lock()
    page.print_on_a4(f"{HEADING_ROW}:{HEADING_ROW}", f"Sheet code {sheet.code}, student {sheet.student.code}")
    book.hidden_page(HIDDEN_PAGE, (("sheet code", sheet.code), ("task", sheet.task.key)))
    book.tell(CODE_PROPERTY, sheet.code)
    return book.data()


def _head(page: Page, sheet: Sheet) -> None:
    page.write(f"{LABELS}1", sheet.task.title, TITLE)
    page.join(f"{LABELS}1", f"{HOW}1")
    page.height(1, 27)
    due = f"due {date_text(sheet.task.due)}" if sheet.task.due else ""
    attempt = f"attempt {sheet.attempt}" if sheet.attempt > 1 else ""
    page.write_row(2, {LABELS: ("Sheet code", TOLD), ANSWER: (due, TOLD)})
    page.write(CODE_CELL, sheet.code, CODE)
    page.write_row(3, {LABELS: ("Student", TOLD), ANSWER: (attempt, TOLD)})
    page.write(STUDENT_CELL, sheet.student.code, CODE)
    page.write(f"{LABELS}{HOW_TO_ROW}", HOW_TO, PLAIN)
    page.join(f"{LABELS}{HOW_TO_ROW}", f"{HOW}{HOW_TO_ROW}")
    page.height(HOW_TO_ROW, 2 * LINE_HEIGHT + 6)
    titles = {LABELS: "Part", WHAT: "What is asked", ANSWER: "Answer", UNIT: "Unit", HOW: "How to answer"}
    page.write_row(HEADING_ROW, {column: (text, HEADING) for column, text in titles.items()})
    page.height(HEADING_ROW, 20)


def _question(page: Page, row: int, number: int, variant: Variant) -> None:
    page.write(f"{LABELS}{row}", f"{number}  {variant.question.title}", QUESTION)
    page.join(f"{LABELS}{row}", f"{HOW}{row}")
    page.height(row, LEAST_HEIGHT)


def _place(page: Page, place: AnswerPlace, variant: Variant, typed: tuple[str, str]) -> None:
    ask, row = place.ask, place.row
    what, how = what_is_asked(ask, variant), how_to_answer(ask, variant)
    is_line = ask.line is not None
    look = LINE_LOOK if is_line else ANSWER_LOOK
    cells = {
        LABELS: (ask.label, LABEL_OF_LINE if is_line else LABEL),
        WHAT: (what, WHAT_OF_LINE if is_line else PLAIN),
        ANSWER: (typed[0], look),
        UNIT: (typed[1] if place.unit else "", look),
        HOW: (how, HOW_LOOK),
    }
    page.write_row(row, cells)
    if not place.unit:
        page.join(f"{ANSWER}{row}", f"{UNIT}{row}")
    lines = max(lines_in(what, WIDTHS[WHAT]), lines_in(how, WIDTHS[HOW]), manner_of(ask.part).rows)
    page.height(row, max(LEAST_HEIGHT, lines * LINE_HEIGHT + 6))


def _note(page: Page, row: int, typed: str) -> None:
    page.write_row(row, {LABELS: (NOTE_LABEL, LABEL_OF_LINE), WHAT: (NOTE_WORDS, TOLD), ANSWER: (typed, NOTE_LOOK)})
    page.write_row(row, {UNIT: ("", NOTE_LOOK), HOW: ("", NOTE_LOOK)})
    page.join(f"{ANSWER}{row}", f"{HOW}{row}")
    page.height(row, NOTE_LINES * LINE_HEIGHT + 6)


def what_is_asked(ask: Ask, variant: Variant) -> str:
    """What a place asks for, in the student's numbers, with the options or steps that have letters."""
    if ask.line:
        symbols = {ask.line.name: ask.line.symbol} if ask.line.symbol else {}
        return f"{symbol_for(ask.line.name, symbols)}, {ask.line.is_} (a step of the working)"
    part = ask.part
    lines = (f"{label}  {text}" for label, text in listing(variant, part))
    return "\n".join((f"{filled(part.ask, variant)} ({marks_words(part.marks)})", *lines))


def how_to_answer(ask: Ask, variant: Variant) -> str:
    """In a few words, what an answer looks like: the unit proposed, the letters."""
    if ask.line:
        unit = unit_text(ask.line.unit)
        return f"in {unit}, may stay empty" if unit else "may stay empty"
    return manner_of(ask.part).how.format(letters=listed(list(letters_of(variant, ask.part))))


def _offers(page: Page, places: tuple[AnswerPlace, ...], sheet: Sheet) -> None:
    by_choices: dict[tuple[str, ...], list[str]] = {}
    for place in places:
        manner = manner_of(place.ask.part)
        variant = sheet.variants[place.ask.number - 1]
        letters = letters_of(variant, place.ask.part) if manner.picks_letter else ()
        choices = (*manner.offers, *letters)
        if place.ask.line is None and choices:
            by_choices.setdefault(choices, []).append(place.answer)
    for choices, cells in by_choices.items():
        page.offer(cells, choices, "Another answer?", f"Expected here: {listed(list(choices))}. Keep it all the same?")
