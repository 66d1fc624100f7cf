"""Sentences for the student: what happened, in their own numbers, in words that a sixteen-year-old understands."""

import re
from decimal import Decimal

from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.maths.printing.units import unit_text
from witnessmark.maths.quantities import from_si
from witnessmark.maths.syntax import parse
from witnessmark.maths.tidying import tidied
from witnessmark.questions.model.kinds import lines_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.methods import NumberPlace

WILL_LOOK = "your teacher will look at your working"
IN_BRACES = re.compile(r"\{([^{}]*)\}")
AS_WELL = {
    "slip and power of ten": " The power of ten is off as well.",
    "slip and sign": " The sign is turned as well.",
}
POWER_WORDS = {1: "ten", 2: "a hundred", 3: "a thousand", 6: "a million", 9: "a thousand million"}


def value_text(si: float, unit_name: str, figures: int = 4) -> str:
    """An SI value as people write it: `94.25 kN`."""
    return quantity_text(from_si(si, unit_name), unit_name, figures)


def factor_text(power: int) -> str:
    """`a thousand times too large`."""
    size = POWER_WORDS.get(abs(power), f"10^{abs(power)}")
    return f"{size} times too {'large' if power > 0 else 'small'}"


def asked_text(place: NumberPlace) -> str:
    """What the place asks for, as a noun: `the punching force`."""
    what = place.line.is_ if place.line else place.part.is_
    return f"the {what}" if what else "the answer"


def because(place: NumberPlace, h: Hypothesis, question: Question, read_as: str, right_text: str) -> str:
    """One sentence that says how the number on the sheet arises."""
    if said := _of_right_working(place, h, read_as, right_text):
        return said
    match h.kind:
        case "power of ten":
            return (
                f"Your method is right, but {read_as} is {factor_text(h.factor.power)}: look at the units and prefixes."
            )
        case "conversion":
            between = h.factor.conversion
            return f"Your method is right, but a conversion between {between} went wrong on the way to {read_as}."
        case "not converted":
            return f"Your method is right, but {_done(h, question)} on the way to {read_as}."
        case "sign":
            return f"The size of {read_as} is right, but its sign is not: look at what was taken from what."
        case "digits":
            typed = "two digits may have changed places, or one was typed twice"
            meant = "what follows from your own earlier result," if h.carried else right_text
            return f"{read_as} may be {meant} with a slip of the fingers: {typed}; {WILL_LOOK}."
        case "edit" | "rarer edit" | "two edits":
            if not h.told:
                return empty_sentence(Verdict.EDIT, "")
            return f"{read_as} is what comes out if {_done(h, question)}; {WILL_LOOK}."
    return f"{_slip_text(place, h, question, read_as)}{AS_WELL.get(h.kind, '')}"


def _of_right_working(place: NumberPlace, h: Hypothesis, read_as: str, right_text: str) -> str:
    """What is said where the working is right, however it was rounded; empty for any other."""
    match h.kind:
        case "right":
            return f"Right: {read_as} is {asked_text(place)} with your numbers."
        case "carried":
            return f"Your working here is right: {read_as} follows from your own earlier result."
        case "carried early":
            return f"Your working here is right, from your own earlier result, but {read_as} was rounded too early."
        case "cut off":
            begun = "follows from your own earlier result" if h.carried else f"is the beginning of {right_text}"
            return f"Your method is right; {read_as} {begun}, cut off where it should be rounded to the nearest digit."
        case "each rounded":
            return f"Right: {read_as} is {asked_text(place)} with your numbers, every step rounded on the way."
        case "other g":
            return f"Right: {read_as} is {asked_text(place)} with g as it is usually taken, not as this task takes it."
        case "rounded early" | "coarse constant":
            return f"Your method is right, but {read_as} was rounded too early; in full it is {right_text}."
    return ""


def note_of_edit(h: Hypothesis, question: Question, read_as: str) -> str:
    """What the teacher alone is told of an edit: the formula that gives the number, and what differs in it."""
    formula = in_sentence(tidied(h.method.formula), symbols_of(question))
    return f"{read_as} is what {formula} gives with this student's numbers: {_done(h, question)}"


def _done(h: Hypothesis, question: Question) -> str:
    """What was done, its formulas in symbols."""
    symbols = symbols_of(question)
    return " and ".join(IN_BRACES.sub(lambda found: in_sentence(parse(found[1]), symbols), done) for done in h.done)


def _slip_text(place: NumberPlace, h: Hypothesis, question: Question, read_as: str) -> str:
    shows = " ".join(question.misconceptions[m].shows for m in h.method.misconceptions if m in question.misconceptions)
    how = f"{read_as} is what {in_sentence(h.method.formula, symbols_of(question))} gives with your numbers"
    return f"{how}. {shows}".strip() if shows else f"{how}; that is not {asked_text(place)}."


def symbols_of(question: Question) -> dict[str, str]:
    """The symbol of every name of a question that states one."""
    found = {g.name: g.symbol for g in question.givens if g.symbol}
    found |= {line.name: line.symbol for part in question.parts for line in lines_of(part) if line.symbol}
    return found


def unit_sentence(unit_name: str, foreign: str) -> str:
    """What is said of a unit that is missing or of another dimension."""
    asked = unit_text(unit_name) or "a pure number"
    if foreign:
        return f"The number is right, but {unit_text(foreign)} cannot be the unit here; it is {asked}."
    return f"The number is right; write its unit, {asked}, beside it."


def unit_as_well_sentence(unit_name: str, foreign: str) -> str:
    """What is added where the method is wrong and the unit too."""
    asked = unit_text(unit_name) or "a pure number"
    if foreign:
        return f"The unit is off as well: {unit_text(foreign)} cannot be the unit here; it is {asked}."
    return f"Its unit, {asked}, is missing as well."


def converted_sentence(read_as: str, between: str, unit_name: str) -> str:
    """What is said of a right answer in a unit of another dimension that a known factor leads from."""
    asked = unit_text(unit_name)
    return f"{read_as} leads to the right value by the factor between {between}; the answer is wanted in {asked}."


def figures_sentence(figures: int) -> str:
    """What is said of a right result that is not written to the figures asked, where the task marks that."""
    return f"Write it to {figures} significant figures."


def plain_marks(hundredths: int) -> Decimal:
    """Whole hundredths as exact marks without trailing zeros."""
    marks = (Decimal(hundredths) / 100).normalize()
    return marks.quantize(Decimal(1)) if marks == marks.to_integral() else marks


def empty_sentence(verdict: Verdict, reason: str) -> str:
    """What is said of an entry that is blank, unreadable or unexplained."""
    match verdict:
        case Verdict.BLANK:
            return "No answer was entered here."
        case Verdict.UNREADABLE:
            return f"This entry could not be read ({reason}); your teacher will look at it." if reason else (
                "This entry could not be read; your teacher will look at it.")  # fmt: skip
        case Verdict.EDIT:
            return f"This is not the right value; {WILL_LOOK}."
    return f"This is not the right value, and no known method gives it; {WILL_LOOK}."
