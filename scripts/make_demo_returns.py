"""Makes what comes back in the demo: answer books, filled in as people fill them in and saved by LibreOffice, and for
the follow-up and the second task tables, as a teacher types them from paper.

Run with `python scripts/make_demo_returns.py` after a change of the demo's questions; it needs LibreOffice. Who does
what is invented and stands in PEOPLE, STILL and LATER: a slip, a wrong method that the bank does not know, a power of
ten, a habit of typing, or the words typed.
"""

import csv
import io
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np
import openpyxl

from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.jobs.demonstrating import (
    DEMO,
    EVENING,
    FOLLOW_UP,
    ISSUED,
    SECOND,
    SECOND_ISSUED,
    TASK,
    begin,
    take_in_books,
)
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.opened import open_class
from witnessmark.maths.compiled import compiled
from witnessmark.maths.quantities import from_si, unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.parts import ChoicePart, JudgePart, QuantityPart
from witnessmark.questions.sheet.answer_places import ANSWER, answer_cells, answer_places, note_row
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.working import ALL_CONSTANTS

Did = Mapping[str, str]
"""By ask key within the sheet (`1.a`): `slip NAME`, `works FORMULA`, `power N`, `blank`, `says TEXT`."""


@dataclass(frozen=True)
class Person:
    """One student: what went wrong where, how numbers and units are typed, which lines are shown."""

    did: Did = field(default_factory=dict)
    figures: int = 3
    comma: bool = False
    units: Mapping[str, str] = field(default_factory=dict)
    shows_lines: bool = False
    file: str = ""
    one_cell: bool = False
    note: str = ""


FACE, RADIUS = "slip face-area-for-sheared-edge", "slip radius-for-diameter"
SINGLE = "slip double-shear-as-single"
SQUARE = "works 4*tau*d*t"  # four diameters for the way round a circle: no question of the bank knows it
NOTE_WORDS = "At 1b the rule slipped: it is one of the two. I can measure it again on Friday."
PEOPLE: dict[str, Person] = {
    "HB01": Person(),
    "HB02": Person({"1.a": FACE}, units={"kN": "kn"}),
    "HB03": Person({"1.a": FACE, "2.a": SINGLE}, comma=True, shows_lines=True),
    "HB04": Person({"2.a": SINGLE}, figures=4),
    "HB05": Person({"3.a": "slip lever-upside-down"}, units={"MPa": "N/mm2"}),
    "SC01": Person(figures=4, shows_lines=True),
    "SC02": Person({"1.a": "power 3"}, units={"kN": "KN"}, file="answers final (2).xlsx"),
    "SC03": Person({"1.a": RADIUS, "3.b": "slip diameter-for-radius-in-area"}),
    "SC04": Person({"1.a": SQUARE, "2.a": SINGLE, "3.c": "blank", "3.b": "blank"}, units={"MPa": "Mpa"}),
    "SC05": Person({"1.a": FACE, "1.b": "blank", "1.c": "says dont know"}),
    "QS01": Person({"2.b": "slip factor-of-safety-upside-down"}, figures=5),
    "QS02": Person({"1.a": SQUARE, "1.c": "says it holds"}, units={"kN": ""}),
    "QS03": Person({"3.b": "power -1"}, comma=True, one_cell=True),
    "QS04": Person({"1.a": FACE, "2.a": SINGLE, "3.a": "slip lever-upside-down"}, figures=4),
    "QS05": Person({"1.a": FACE, "1.b": "says 250 or 260"}, shows_lines=True, note=NOTE_WORDS),
    "LW01": Person({"1.a": FACE, "2.a": SINGLE}, units={"kN": "kilonewtons", "MPa": "N/mm^2"}),
    "LW02": Person({"1.a": RADIUS, "2.a": SINGLE}, comma=True, figures=4),
    "LW03": Person({"1.a": SQUARE, "3.a": "slip arm-from-the-wrong-point"}, one_cell=True),
    "LW04": Person({"1.a": FACE, "2.a": SINGLE}, units={"kN": "N"}, shows_lines=True),
    "PB01": Person({"1.a": SQUARE, "3.c": "slip diameters-for-areas"}, units={"MPa": "mpa"}),
}
ON_ANOTHERS_SHEET = ("PB02", "LW05")  # PB02 worked in the book of LW05
BROKEN = "PB03"
NO_FOLLOW_UP = frozenset({"LW03", "PB01", "QS01"})  # who do not hand theirs in
STILL: Mapping[str, frozenset[str]] = {
    "HB05": frozenset({"lever-upside-down"}), "LW02": frozenset({"radius-for-diameter"}),
    "SC03": frozenset({"radius-for-diameter"}),
}  # fmt: skip
"""What is still held when the follow-up comes back; all else that it was about has gone by then."""
INNER = "slip inner-cut-forgotten"
LATER: Mapping[str, Did] = {
    "LW02": {"1.a": RADIUS}, "PB01": {"1.a": INNER}, "QS02": {"1.a": INNER}, "SC04": {"2.b": SINGLE},
    "SC03": {"1.a": RADIUS},
}  # fmt: skip
"""What goes wrong in the second task; whoever is not named works properly. All hand in but LW03."""


def main() -> None:
    """Live through the demo's term in a temporary class, and keep what comes back."""
    with tempfile.TemporaryDirectory() as temporary:
        folder, filled = Path(temporary) / "class", Path(temporary) / "filled"
        filled.mkdir()
        begin(folder)
        issue(folder, TASK, ISSUED)
        fill_books(sheets_of(folder, TASK), filled)
        save_by_libreoffice(filled, DEMO / "returned")
        broken = (DEMO / "returned" / "HB01.xlsx").read_bytes()
        (DEMO / "returned" / f"{BROKEN}.xlsx").write_bytes(broken[: len(broken) // 3])
        take_in_books(folder)
        follow_up(folder, TASK, EVENING)
        aimed = sheets_of(folder, FOLLOW_UP)
        people = {code: still(sheet) for code, sheet in aimed.items() if code not in NO_FOLLOW_UP}
        write_table(aimed, people, DEMO / "typed" / f"{FOLLOW_UP}.csv")
        issue(folder, SECOND, SECOND_ISSUED)
        asked = sheets_of(folder, SECOND)
        later = {code: replace(PEOPLE.get(code, Person()), did=LATER.get(code, {})) for code in asked}
        write_table(asked, {c: p for c, p in later.items() if c != "LW03"}, DEMO / "typed" / f"{SECOND}.csv")
    print(f"{len(list((DEMO / 'returned').iterdir()))} returned files in {DEMO / 'returned'}, two tables beside it")


def sheets_of(folder: Path, task: str) -> dict[str, Sheet]:
    """The sheets of a task, by student."""
    with open_class(folder).record() as record:
        return {sheet.student.code: sheet for sheet in record.sheets(task)}


def fill_books(sheets: Mapping[str, Sheet], filled: Path) -> None:
    """The answer books of the first task, as they come back."""
    for code, person in PEOPLE.items():
        (filled / (person.file or f"{code}.xlsx")).write_bytes(filled_in(sheets[code], person))
    writer, owner = ON_ANOTHERS_SHEET
    (filled / f"{writer}.xlsx").write_bytes(filled_in(sheets[owner], Person(), sheets[writer]))


def still(sheet: Sheet) -> Person:
    """Who works a follow-up by what they still hold."""
    held = STILL.get(sheet.student.code, frozenset())
    did = {f"{n}.{part.key}": f"slip {key}" for n, v in enumerate(sheet.variants, 1) for part in v.question.parts
           if (key := next((k for k in shown_by(part) if k in held), ""))}  # fmt: skip
    return replace(PEOPLE.get(sheet.student.code, Person()), did=did)


def write_table(sheets: Mapping[str, Sheet], people: Mapping[str, Person], file: Path) -> None:
    """A table as a teacher types it from paper: a line for each student, a column for each result."""
    labels = list(dict.fromkeys(ask.label for sheet in sheets.values() for ask in sheet.asks if ask.line is None))
    with file.open("w", encoding="utf-8", newline="") as opened:
        writer = csv.writer(opened, lineterminator="\n")
        writer.writerow(["student", *labels])
        for code, person in people.items():
            answers = answers_of(sheets[code], replace(person, shows_lines=False))
            by_label = {
                ask.label: " ".join(answers[ask.key]).strip() for ask in sheets[code].asks if ask.key in answers
            }
            writer.writerow([code, *(by_label.get(label, "") for label in labels)])


def filled_in(sheet: Sheet, person: Person, worked_from: Sheet | None = None) -> bytes:
    """The answer book of a sheet with a person's answers; `worked_from` is the sheet whose numbers they used."""
    book = openpyxl.load_workbook(io.BytesIO(answer_book(sheet)))
    page = book.worksheets[0]
    cells = answer_cells(sheet)
    for key, (number, unit_text) in answers_of(worked_from or sheet, person).items():
        answer_cell, unit_cell = cells[key]
        if unit_cell and not person.one_cell:
            page[answer_cell], page[unit_cell] = number, unit_text
        else:
            page[answer_cell] = f"{number} {unit_text}".strip()
    page[f"{ANSWER}{note_row(answer_places(sheet))}"] = person.note or None
    made = io.BytesIO()
    book.save(made)
    return made.getvalue()


def answers_of(sheet: Sheet, person: Person) -> dict[str, tuple[str, str]]:
    """Number and unit typed, by ask key."""
    found: dict[str, tuple[str, str]] = {}
    for number, variant in enumerate(sheet.variants, 1):
        found |= {f"{number}.{key}": typed for key, typed in question_answers(variant, number, person).items()}
    return found


def question_answers(variant: Variant, number: int, person: Person) -> dict[str, tuple[str, str]]:
    """One question worked by a person, each part from their own earlier results."""
    own: dict[str, float] = {**{k: float(v) for k, v in ALL_CONSTANTS.items()}, **variant.values}
    found: dict[str, tuple[str, str]] = {}
    for part in variant.question.parts:
        did = person.did.get(f"{number}.{part.key}", "")
        if isinstance(part, JudgePart):
            found[part.key] = ("yes" if bool(compiled(part.judge)(own)) else "no", "")
        elif isinstance(part, ChoicePart):
            found[part.key] = (letter_chosen(variant, part, did), "")
        elif isinstance(part, QuantityPart):
            found |= worked_part(part, did, own, person)
        if did.startswith("says "):
            found[part.key] = (did.removeprefix("says "), "")
        if did == "blank":
            found.pop(part.key, None)
    return found


def letter_chosen(variant: Variant, part: ChoicePart, did: str) -> str:
    """The letter of the right option, or of the one that whoever holds something would choose."""
    held = did.removeprefix("slip ")
    wanted = [
        n for n, one in enumerate(listed_options(variant, part)) if (one.misconception == held if did else one.right)
    ]
    return letter_of(wanted[0])


def worked_part(part: QuantityPart, did: str, own: dict[str, float], person: Person) -> dict[str, tuple[str, str]]:
    """A calculated part: its lines (typed where the person shows them) and its result, rounded as typed and carried."""
    slip = next((s for s in part.slips if did == f"slip {s.misconception}"), None)
    found: dict[str, tuple[str, str]] = {}
    for line in part.lines:
        tree = slip.answer if slip and slip.line == line.name else line.value
        value = float(compiled(tree)(own))
        own[line.name] = value
        if person.shows_lines:
            found[f"{part.key}.{line.name}"] = typed(value, line.unit, person)
    result = slip.answer if slip and not slip.line else part.answer
    value = float(compiled(result)(own))
    if did.startswith("power "):
        value *= 10.0 ** int(did.split()[1])
    if did.startswith("works "):
        value = float(compiled(parse(did.removeprefix("works ")))(own))
    found[part.key] = typed(value, part.unit, person)
    own[part.key] = own[part.symbol or part.key] = value
    return found


def typed(si: float, unit_name: str, person: Person) -> tuple[str, str]:
    """A number and its unit as this person types them."""
    shown = person.units.get(unit_name, unit_name)
    in_unit = "N" if shown == "N" and unit_name == "kN" else unit_name
    number = float(to_figures(from_si(si, in_unit), person.figures))
    places = max(person.figures - 1 - int(np.floor(np.log10(abs(number)))), 0)
    text = f"{number:.{places}f}"
    unit(in_unit)
    return (text.replace(".", ",") if person.comma else text), shown.replace("^2", "²" if person.figures == 4 else "2")


def save_by_libreoffice(source: Path, target: Path) -> None:
    """Every file opened and saved again by LibreOffice, into an empty folder."""
    soffice = shutil.which("soffice")
    if soffice is None:
        raise SystemExit("LibreOffice is needed: apt-get install libreoffice-calc")
    shutil.rmtree(target, ignore_errors=True)
    target.mkdir(parents=True)
    command = [soffice, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(target)]
    subprocess.run([*command, *map(str, sorted(source.iterdir()))], check=True, capture_output=True)


if __name__ == "__main__":
    main()
