"""An entry with all that stands around its quantity: symbols, equals signs, words, brackets, the same answer twice."""

import re
from dataclasses import replace
from functools import lru_cache

from witnessmark.reading.number.numbers import read_number
from witnessmark.reading.quantity.number_with_unit import Pair, read_pair, same_value
from witnessmark.reading.quantity.stop_words import (
    ABOUT,
    DIAMETER,
    DOUBT,
    FORMULA,
    MINUS_WORD,
    NO_NUMBER,
    STANDS_BEFORE,
    SYMBOL,
    TOO_LONG,
    TWO_NUMBERS,
    UNSURE,
    is_blank,
    letters_as_digits,
    special_reason,
    with_number_word,
)
from witnessmark.reading.quantity.tail import After, Refusal
from witnessmark.reading.result import Repair
from witnessmark.reading.text.characters import plain
from witnessmark.reading.unit.units import UnitReading, read_unit

LONGEST_ENTRY = 200
LONGEST_RAW = 4000
EQUALS = re.compile(r"=>|->|[=≈]")
START = re.compile(r"(?<![\w.,'])(?:[-+]? ?[.,]?\d|[-+]? ?(?:π|pi\b))")
GLUED_START = re.compile(r"[-+]?[.,]?\d")
COLON = re.compile(r"[^\d:=]*[^\W\d_][^\d:=]*: ?(?=\S)|[^\W\d_]\w{0,10} ?: ?(?=\S)")
LABEL_UNIT = re.compile(r"(?:[(\[{] ?(?:in )?|/ ?|\bin )([^()\[\]{}]+?) ?[)\]}]?$")
ENCLOSING = (
    ("''", "''"), ('"', '"'), ("'", "'"), ("(", ")"), ("[", "]"), ("{", "}"), ("**", "**"), ("*", "*"),
    ("_", "_"), ("`", "`"),
)  # fmt: skip
DIVISION = re.compile(r"[-+]? ?[\d ]+/ ?\d")
BRACKETED = re.compile(r"\(([^()]{1,30})\) ?(?=[^\W\d_])")
# A label that begins a second statement in one entry (`94.2 kN, F2` before `= 113 kN`), and words that make what
# follows a conclusion from what went before.
NEXT_LABEL = re.compile(r"(?:[,;]| and | & | +|(?<=[)\]])) *\(?([^\W\d_]\w{0,10}(?: ?\([^()]{1,20}\))?)\)?$")
CONCLUDES = re.compile(r"(?:∴|\b(?:so|hence|thus|therefore|then|giv(?:es|ing)|which gives)) *$", re.IGNORECASE)
FIRST_IS_NUMBER = frozenset("0123456789.-+,")


@lru_cache(maxsize=1 << 14)
def understood(text: str, asked: str) -> Pair | Refusal:
    """Number and unit of an entry, or why there are none (an empty reason: blank)."""
    if len(text) > LONGEST_RAW:
        text = " ".join(text.split())
        if len(text) > LONGEST_RAW:
            return Refusal(TOO_LONG)
    entry, said = plain(text)
    if is_blank(entry):
        return Refusal("")
    if len(entry) > LONGEST_ENTRY:
        return Refusal(TOO_LONG)
    found = _read_entry(entry, asked)
    if isinstance(found, Pair) and found.fits:
        return found.saying(said) if said else found
    mended = _with_letters_as_digits(entry, asked)
    if mended is not None:
        return mended.saying(said)
    if isinstance(found, Pair):
        return found.saying(said)
    return found


def _with_letters_as_digits(entry: str, asked: str) -> Pair | None:
    mended, letters = letters_as_digits(entry)
    found = _read_entry(mended, asked) if letters else None
    return found.saying(letters) if isinstance(found, Pair) and found.fits else None


def _read_entry(entry: str, asked: str) -> Pair | Refusal:
    if entry[0] in FIRST_IS_NUMBER and not EQUALS.search(entry):
        found = read_pair(entry.rstrip(" ;!").rstrip(","), asked)
        if isinstance(found, Pair):
            return found
    if reason := special_reason(entry):
        return Refusal(reason)
    entry = unwrapped(entry)
    if EQUALS.search(entry):
        return _after_equals(entry, asked)
    colon = COLON.match(entry)
    if colon:
        label, entry = entry[: colon.end()].rstrip(" :"), entry[colon.end() :]
        if DOUBT.search(label):
            return Refusal(f"{label} leaves open which value is meant")
        return _with_label_unit(_with_words(entry, asked), _unit_alone(label, asked) or _unit_of_label(label, asked))
    return _with_words(entry, asked)


def unwrapped(entry: str) -> str:
    """An entry without the brackets, quotation marks and stops that enclose the whole of it."""
    entry = entry.strip(" ;").rstrip(",! ")
    if re.match("'[^']", entry):
        entry = entry[1:]
    for opening, closing in ENCLOSING:
        inner = entry[len(opening) : -len(closing)]
        encloses = entry.startswith(opening) and entry.endswith(closing) and len(entry) > len(opening + closing)
        if encloses and inner.strip() and not any(mark in inner for mark in opening + closing):
            return unwrapped(inner)
    bracketed = BRACKETED.match(entry)
    number = read_number(bracketed[1].strip()) if bracketed else None
    if bracketed and number and number.end == len(bracketed[1].strip()):
        entry = f"{bracketed[1]} {entry[bracketed.end() :]}"
    return re.sub(r"(?<=[^\W_])\.$|(?<=[)\]])\.$", "", entry)


# --- equals signs -----------------------------------------------------------------------------------------------------


def _after_equals(entry: str, asked: str) -> Pair | Refusal:
    """What stands after the last equals sign, if nothing before it is another answer."""
    pieces = [_balanced(p.strip()) for p in EQUALS.split(entry.rstrip(" =≈"))]
    before = [p for p in pieces[:-1] if p]
    is_typed_as_formula = entry.startswith("=") and not before
    if is_typed_as_formula and DIVISION.match(pieces[-1]):
        return Refusal(FORMULA)
    found = _with_words(pieces[-1], asked)
    if isinstance(found, Refusal):
        return Refusal(FORMULA) if is_typed_as_formula else found
    repairs = [Repair("The sign for about was left out.")] if "≈" in entry else []
    for i, piece in enumerate(before):
        outcome = _before_equals(piece, found, i == 0, asked)
        if isinstance(outcome, Refusal):
            return outcome
        found = _with_label_unit(found, outcome.unit)
        if isinstance(found, Refusal):
            return found
        repairs += outcome.repairs
    return found.saying(repairs)


def _balanced(piece: str) -> str:
    """A piece without the bracket that was opened in it, or closed, and has its partner on the other side."""
    return piece.strip(" ()") if piece.count("(") != piece.count(")") else piece


def _before_equals(piece: str, found: Pair, is_first: bool, asked: str) -> After | Refusal:
    """What a piece before the last equals sign adds: nothing, a unit, a repair, or a reason to refuse."""
    if not re.match(r"[^\W\d_∴]", piece):
        earlier = _with_words(piece, asked)
        if isinstance(earlier, Pair):
            if same_value(earlier, found):
                return After(None, (Repair("The same answer was given twice; the last was taken."),))
            return Refusal(TWO_NUMBERS)
    if DOUBT.search(piece):
        return Refusal(f"{piece} leaves open which value is meant")
    if _ends_another_answer(piece, found, asked):
        return Refusal(TWO_NUMBERS)
    if is_first and (SYMBOL.fullmatch(piece) or LABEL_UNIT.search(piece) or not re.search(r"[\d+*×·^√]", piece)):
        return After(_unit_of_label(piece, asked))
    if (piece[0].isdigit() and not re.search(r"[-+*/×·^√()]|[^\W\d_]", piece)) or re.search(r"[-+*/×·^]$", piece):
        return Refusal(TWO_NUMBERS)
    return After(None, (Repair("The working before the last equals sign was left out."),))


def _ends_another_answer(piece: str, found: Pair, asked: str) -> bool:
    """True where a piece ends one labelled value of the asked kind and begins the next (`94.2 kN, F2`), which is
    another value and no conclusion from the first."""
    label = NEXT_LABEL.search(piece)
    if label is None or CONCLUDES.search(piece[: label.start(1)].rstrip("( ")):
        return False
    head = piece[: label.start()].rstrip(" ,;")
    colon = COLON.match(head)
    earlier = _with_words(head[colon.end() :] if colon else head, asked) if head else None
    if not isinstance(earlier, Pair) or not earlier.fits:
        return False
    return not same_value(earlier, found)


def _unit_of_label(label: str, asked: str) -> UnitReading | None:
    """A unit beside the symbol: in brackets, after a slash or after `in`."""
    match = LABEL_UNIT.search(label)
    return read_unit(match[1], asked) if match else None


def _unit_alone(label: str, asked: str) -> UnitReading | None:
    """A label that is nothing but a unit of the asked kind (`kN 70`); one letter is a symbol (`V = 12 kV`)."""
    unit = read_unit(label, asked) if len(label) > 1 else None
    return unit if unit is not None and unit.fits else None


def _with_label_unit(found: Pair | Refusal, unit: UnitReading | None) -> Pair | Refusal:
    """The pair with a unit that stood before its number; a refusal when two units disagree."""
    if isinstance(found, Refusal) or unit is None or not unit.fits:
        return found
    if found.unit is None:
        said = Repair("The unit was read from before the number.")
        return Pair(found.numbers, unit, (*found.repairs, said))
    if found.unit.options[0].name != unit.options[0].name:
        return Refusal("it has one unit before the number and another after it")
    return found


# --- words ------------------------------------------------------------------------------------------------------------


def _with_words(text: str, asked: str) -> Pair | Refusal:
    """A quantity, perhaps with words before it."""
    text, repairs = DIAMETER.sub("", unwrapped(text)), []
    while about := ABOUT.match(text):
        repairs.append(Repair(f"Left out before the number: {about[0].strip()}."))
        text = text[about.end() :]
    minus = MINUS_WORD.match(text)
    if minus:
        repairs.append(Repair(f"The word {minus[0].strip()} was read as a minus sign."))
        text = "-" + text[minus.end() :]
    if not re.search(r"\d", text):
        text, said = with_number_word(text)
        repairs += said
    start = START.search(text) or GLUED_START.search(text)
    if start is None:
        return Refusal(NO_NUMBER)
    head, core = text[: start.start()], text[start.start() :].strip()
    found = read_pair(core, asked) if not head.strip() else _after_head(head, core, asked)
    return found.saying(repairs) if isinstance(found, Pair) else found


def _after_head(head: str, core: str, asked: str) -> Pair | Refusal:
    bare = head.strip("()[]{} ,.:;-")
    if re.search(r"\d", head):
        return Refusal(TWO_NUMBERS)
    if UNSURE.search(head):
        return Refusal(f"{head.strip()} leaves open which value is meant")
    if not bare and "-" in head:
        return Refusal("there are two minus signs")
    before = _unit_alone(bare, asked)
    is_glued = head[-1].isalnum() or head[-1] in "._,'"
    if (is_glued and before is None) or not STANDS_BEFORE.fullmatch(head):
        return Refusal(f"{head.strip()} before the number is not understood")
    found = read_pair(core, asked)
    if isinstance(found, Refusal):
        return found
    if before is not None:
        return _with_label_unit(found, before)
    said = (Repair(f"Left out before the number: {head.strip()}."),) if bare else ()
    numbers = found.numbers
    if core.startswith("- "):  # a dash or a minus sign
        numbers = tuple(m for n in numbers for m in (replace(n, value=-n.value), n))
    return Pair(numbers, found.unit, (*said, *found.repairs))
