"""A page for each part that is marked by hand: a row for each student, a column for each criterion."""

from collections.abc import Sequence

from witnessmark.documents.gradebook import looks
from witnessmark.documents.gradebook.data import GradebookData, PartRow
from witnessmark.documents.gradebook.own_cells import OWN, heading_look, marks_text, written_mark
from witnessmark.documents.gradebook.writer import GradePage, cell
from witnessmark.documents.workbook.text import LINE_HEIGHT, lines_in
from witnessmark.questions.sheet import gradebook_columns as columns

BEFORE = (columns.STUDENT, columns.SHEET, columns.PART, "typed", columns.OUT_OF)
CRITERIA = len(BEFORE)  # the first column of criteria
WIDTHS = (10, 12, 7, 26, 7)
CRITERION_WIDTH, MARK_WIDTH, WORDS_WIDTH = 15, 9, 32
FIRST = 1


def hand_labels(data: GradebookData) -> tuple[str, ...]:
    """The parts of a task that are marked by hand, by label."""
    return tuple(dict.fromkeys(part.label for part in data.parts if part.criteria))


def write_hand_page(page: GradePage, data: GradebookData, label: str) -> None:
    """Write the page of one part; its marks come from the criteria, which are typed there."""
    rows = [part for part in data.parts if part.label == label and part.criteria]
    names = tuple(dict.fromkeys(columns.criterion_heading(*one) for part in rows for one in part.criteria))
    headings = (*BEFORE, *names, *OWN, columns.MARKS, columns.WRITTEN)
    for column, heading in enumerate(headings):
        page.text(0, column, heading, looks.OWN_HEADING if heading in names else heading_look(heading))
    page.height(0, LINE_HEIGHT * max(2, *(lines_in(name, CRITERION_WIDTH) for name in names)))
    for row, part in enumerate(rows, FIRST):
        _row(page, row, part, names)
    page.widths((*WIDTHS, *(CRITERION_WIDTH for _ in names), MARK_WIDTH, WORDS_WIDTH, WORDS_WIDTH, MARK_WIDTH, 10))
    page.hide(len(headings) - 1)
    page.freeze(FIRST, 1)
    page.keep_as_text(FIRST, CRITERIA - 2, len(rows), CRITERIA - 2)
    page.print_wide(0, 0, f"{data.task_title}: {label}, marked by hand")
    page.print_only(len(rows), len(headings) - 2)
    page.narrow_margins()
    page.print_rules()


def _row(page: GradePage, row: int, part: PartRow, names: Sequence[str]) -> None:
    for column, text in enumerate((part.student, part.sheet_code, part.label)):
        page.text(row, column, text, looks.PLAIN)
    page.text(row, CRITERIA - 2, part.raw, looks.TYPED)
    page.number(row, CRITERIA - 1, part.out_of, looks.NUMBER)
    mine, own = part.moderation, CRITERIA + len(names)
    heads = [columns.criterion_heading(*one) for one in part.criteria]
    given = dict(zip(heads, mine.criteria, strict=True)) if mine and mine.criteria else {}
    for column, name in enumerate(names, CRITERIA):
        page.number(row, column, given.get(name), looks.OWN_MARK)
    if mine and not mine.criteria:
        page.number(row, own, mine.marks, looks.OWN_MARK)
    else:
        total = float(mine.marks) if mine else ""
        page.formula(row, own, _sum(row, own - 1), total, looks.OWN_MARK)
    page.text(row, own + 1, mine.why if mine else "", looks.OWN_WORDS)
    page.text(row, own + 2, mine.say if mine else "", looks.OWN_WORDS)
    page.number(row, own + 3, part.marks, looks.NUMBER)
    texts = tuple(marks_text(given.get(name)) for name in names)
    page.text(row, own + 4, written_mark(part, mine, _typed_total(part), texts), looks.QUIET)
    long = {part.raw: WIDTHS[3]} | ({mine.why: WORDS_WIDTH, mine.say: WORDS_WIDTH} if mine else {})
    page.height(row, LINE_HEIGHT * max(1, *(lines_in(text, width) for text, width in long.items())))


def _sum(row: int, last: int) -> str:
    """The formula that adds up the criteria of a row. A half typed as `½` or `1½` is text, and counts; the numbers in
    it are whole, so that no language of the spreadsheet reads them otherwise."""
    cells = [cell(row, column) for column in range(CRITERIA, last + 1)]
    halves = (f'IF(ISNUMBER(FIND("½",{c})),VALUE("0"&SUBSTITUTE({c},"½",""))+0.5,0)' for c in cells)
    area = f"{cells[0]}:{cells[-1]}"
    return f'=IF(COUNTA({area})=0,"",SUM({area})+{"+".join(halves)})'


def _typed_total(part: PartRow) -> str:
    """The teacher's mark where it was given without criteria, and so stands as a number and not as a sum."""
    mine = part.moderation
    return marks_text(mine.marks) if mine and not mine.criteria else ""
