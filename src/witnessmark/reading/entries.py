"""One typed quantity: what the machine understood of it, and how sure it is.

Nothing here raises on what a person typed, guesses between two answers, or runs anything; an entry that cannot be read goes
on as it is, with the reason.
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from typing import Any

from witnessmark.maths.quantities import quantity
from witnessmark.reading.certainty import Certainty
from witnessmark.reading.characters import plain
from witnessmark.reading.numbers import Number, letters_as_digits, read_number
from witnessmark.reading.repairs import Repair
from witnessmark.reading.side_words import (
    ABOUT,
    BARE_REMARK_NEEDS_BRACKETS,
    BLANKS,
    CLOCK,
    DATE,
    LABEL,
    MINUS_WORD,
    NOT_FINITE,
    REMARK,
    SPREADSHEET_ERROR,
    UNSURE,
    WORDS_ONLY,
)
from witnessmark.reading.units import Asked, UnitOption, UnitReading, asked_unit, read_unit

LONGEST = 200
SAME = 1e-9

__all__ = ["Candidate", "Certainty", "Reading", "read_quantity"]


@dataclass(frozen=True, slots=True)
class Candidate:
    """One way to read an entry: the number as written, its unit, its SI value.

    `unit` is "" when none was typed; then `si` is as if in the asked unit, and `read_in` names that unit. `figures`,
    `least_figures` and `most_figures`: see numbers.py. SI value = digits * scale + offset.
    """

    digits: Decimal
    unit: str
    si: float
    figures: int
    unit_missing: bool
    dimension_fits: bool
    repairs: tuple[str, ...] = ()
    read_in: str = ""
    scale: float = 1.0
    offset: float = 0.0
    least_figures: int = 1
    most_figures: int = 1


@dataclass(frozen=True, slots=True)
class Reading:
    """What was understood of an entry. `readings` holds one candidate, more where it is ambiguous, none where it is
    blank or unreadable; `repairs` are sentences that hold for all of them; `reason` says why it is unreadable."""

    raw: str
    asked: str
    certainty: Certainty
    readings: tuple[Candidate, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""

    @property
    def candidates(self) -> tuple[Any, ...]:
        """The readings as pint.Quantity, in the unit typed, or in the asked one where none was."""
        return tuple(quantity(float(c.digits), c.read_in) for c in self.readings)

    @property
    def unit_missing(self) -> bool:
        """True when something was read and no unit was typed where one was needed."""
        return bool(self.readings) and all(c.unit_missing for c in self.readings)


@dataclass(frozen=True, slots=True)
class Pair:
    """A number and what its unit can be, before it is settled which is meant; `repairs` hold for the pair."""

    numbers: tuple[Number, ...]
    unit: UnitReading | None  # None: no unit typed
    repairs: tuple[Repair, ...] = ()


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an entry is not read."""

    reason: str


NO_NUMBER = Refusal("there is no number in it")
TWO_NUMBERS = Refusal("it holds more than one number: two answers, a range, or working that is not worked out")


def read_quantity(text: str, asked: str, plausible: float | None = None) -> Reading:
    """The reading of one typed entry where the unit `asked` (of maths/units.txt) was asked.

    `plausible` is the SI value expected, if known; it only chooses between repairs such as MPa or mPa for `mpa`.
    """
    found = understood(text, asked)
    if isinstance(found, Pair):
        return settled(text, asked, found, plausible)
    if found.reason:
        return Reading(text, asked, Certainty.UNREADABLE, reason=found.reason)
    return Reading(text, asked, Certainty.BLANK)


@lru_cache(maxsize=1 << 14)
def understood(text: str, asked: str) -> Pair | Refusal:
    """Number and unit of an entry, or why there are none (an empty reason: blank)."""
    target = asked_unit(asked)
    if len(text) > 20 * LONGEST:
        text = text[: 20 * LONGEST] if text.strip() else ""
    entry, said = plain(text)
    if entry.lower() in BLANKS or entry.lower().strip("()[] .") in BLANKS:
        return Refusal("")
    if len(entry) > LONGEST:
        return Refusal("it is too long for a number with a unit")
    refusal = _refused(entry)
    if refusal is not None:
        return refusal
    found = _read_entry(entry, target)
    if isinstance(found, Refusal) or not _fits(found):
        mended, letters = letters_as_digits(entry)
        if letters:
            again = _read_entry(mended, target)
            if isinstance(again, Pair) and _fits(again):
                found = Pair(again.numbers, again.unit, (*letters, *again.repairs))
    if isinstance(found, Pair) and said:
        return Pair(found.numbers, found.unit, (*said, *found.repairs))
    return found


def _fits(found: Pair | Refusal) -> bool:
    return isinstance(found, Pair) and (found.unit is None or found.unit.options[0].fits)


def _refused(entry: str) -> Refusal | None:
    bare = entry.lstrip("= ").rstrip(" .")
    if SPREADSHEET_ERROR.fullmatch(bare):
        return Refusal("it is an error message of a spreadsheet")
    if NOT_FINITE.match(bare):
        return Refusal("it is not a finite number")
    if DATE.fullmatch(bare):
        return Refusal("it looks like a date, as spreadsheets make them; type the number again as text")
    if CLOCK.fullmatch(bare):
        return Refusal("it looks like a time of day, as spreadsheets make them; type the number again as text")
    return None


# --- around the quantity ----------------------------------------------------------------------------------------------


def _read_entry(entry: str, asked: Asked) -> Pair | Refusal:
    """An entry with all that stands around its quantity."""
    entry = _unwrapped(entry)
    if re.search(r"[=≈⇒→]|->|=>", entry):
        return _after_equals(entry, asked)
    colon = re.match(r"([^\d:]*[^\W\d_][^\d:]*|[^\W\d_]\w{0,10} ?): ?(?=\S)", entry)
    if colon:
        entry = entry[colon.end() :]
    return _with_words(entry, asked)


def _unwrapped(entry: str) -> str:
    entry = entry.strip(" ;").rstrip(",! ")
    entry = re.sub(r"^'(?=[^'])", "", entry)
    for opening, closing in (("''", "''"), ('"', '"'), ("'", "'"), ("(", ")"), ("[", "]"), ("{", "}")):
        inner = entry[len(opening) : -len(closing)]
        if entry.startswith(opening) and entry.endswith(closing) and opening not in inner and closing not in inner:
            if inner.strip():
                return _unwrapped(inner)
    return re.sub(r"(?<=[^\W\d_²³°%])\.$|(?<=\d)\.{2,}$", "", entry)


def _after_equals(entry: str, asked: Asked) -> Pair | Refusal:
    """What stands after the last equals sign, if nothing before it is another answer."""
    about = "≈" in entry
    pieces = [p.strip() for p in re.split(r"=>|->|[=≈⇒→]", entry)]
    found = _with_words(pieces[-1], asked)
    if isinstance(found, Refusal):
        is_formula = entry.startswith("=") and len([p for p in pieces if p]) == 1
        return Refusal("it is the text of a formula, and formulas are not worked out here") if is_formula else found
    if entry.startswith("=") and "/" in pieces[-1] and not re.search(r"[^\W\d_] ?/", pieces[-1]):
        return Refusal("it is the text of a formula, and formulas are not worked out here")
    repairs: list[Repair] = [Repair("The sign for about was left out.")] if about else []
    for piece in pieces[:-1]:
        outcome = _before_equals(piece, found, asked)
        if isinstance(outcome, Refusal):
            return outcome
        if outcome is not None:
            found, repairs = (
                Pair(found.numbers, outcome.unit or found.unit, found.repairs),
                [*repairs, *outcome.repairs],
            )
    return Pair(found.numbers, found.unit, (*repairs, *found.repairs))


def _before_equals(piece: str, found: Pair, asked: Asked) -> Pair | Refusal | None:
    if not piece:
        return None
    earlier = _with_words(piece, asked)
    if isinstance(earlier, Pair) and not re.match(r"[^\W\d_]", piece):
        if _same(earlier, found):
            return Pair((), None, (Repair("The same answer was given twice; the last was taken."),))
        return TWO_NUMBERS
    if LABEL.match(piece) or re.fullmatch(r"[^\W\d_][\w .,'()\[\]{}-]{0,60}", piece):
        return _unit_of_label(piece, found, asked)
    return Pair((), None, (Repair("The working before the last equals sign was left out."),))


def _unit_of_label(label: str, found: Pair, asked: Asked) -> Pair | None:
    """A unit beside the symbol, in brackets, after a slash or after `in`, where none stands after the number."""
    match = re.search(r"(?:[(\[{] ?(?:in )?|/ ?|\bin )([^()\[\]{}]+?) ?[)\]}]?$", label)
    unit = read_unit(match[1], asked.name) if match else None
    if unit is None or not unit.options[0].fits or found.unit is not None:
        return None
    return Pair((), unit, (Repair("The unit was read from before the number."),))


def _with_words(text: str, asked: Asked) -> Pair | Refusal:
    """A quantity with words before it, perhaps."""
    repairs: list[Repair] = []
    text = _unwrapped(text)
    while about := ABOUT.match(text):
        repairs.append(Repair(f"{about[0].strip()} before the number was left out."))
        text = text[about.end() :]
    minus = MINUS_WORD.match(text)
    if minus:
        repairs.append(Repair(f"The word {minus[0].strip()} was read as a minus sign."))
        text = "-" + text[minus.end() :]
    start = re.search(r"(?<![\w])[-+]? ?[.,]?\d", text) or re.search(r"[-+]? ?[.,]?\d", text)
    if start is None:
        return NO_NUMBER
    head, core = text[: start.start()].strip(), text[start.start() :]
    if not head:
        return _with_repairs(_quantity(core.strip(), asked), repairs)
    return _with_repairs(
        _after_head(head, core.strip(), text[: start.start()][-1:].isalpha() and core[0].isdigit(), asked), repairs
    )


def _with_repairs(found: Pair | Refusal, repairs: list[Repair]) -> Pair | Refusal:
    return found if isinstance(found, Refusal) else Pair(found.numbers, found.unit, (*repairs, *found.repairs))


def _after_head(head: str, core: str, glued: bool, asked: Asked) -> Pair | Refusal:
    bare = head.strip("()[]{} ,.:;-")
    if re.search(r"\d", head):
        return TWO_NUMBERS
    if glued and not (
        re.fullmatch("[Øø⌀∅]", head[-1]) or ((unit := read_unit(bare, asked.name)) and unit.options[0].fits)
    ):
        return Refusal(f"{head} before the number is not understood")
    if UNSURE.search(head):
        return Refusal(f"the words {head} leave open which value is meant")
    found = _quantity(core, asked)
    if isinstance(found, Refusal):
        return found
    before = read_unit(bare, asked.name) if bare else None
    if before is not None and found.unit is None and before.options[0].fits:
        return Pair(found.numbers, before, (*found.repairs, Repair("The unit was read from before the number.")))
    if not re.fullmatch(r"[\w ,.'()\[\]{}:∴∆-]*", head):
        return Refusal(f"{head} before the number is not understood")
    said = [*found.repairs, Repair(f"The words before the number were left out: {head}.")] if bare else [*found.repairs]
    if core.startswith("- "):
        both = tuple(m for n in found.numbers for m in (n, Number(-n.value, n.figures, n.least, n.most, n.repairs)))
        return Pair(both, found.unit, tuple(said))
    return Pair(found.numbers, found.unit, tuple(said))


# --- the quantity itself ----------------------------------------------------------------------------------------------


def _quantity(text: str, asked: Asked) -> Pair | Refusal:
    """A number with its unit and what may stand after them."""
    composed = _composed(text, asked)
    if composed is not None:
        return composed
    read = read_number(text)
    if read is None:
        return _why_no_number(text)
    rest = text[read.end :].strip()
    found = _unit_and_remark(read.numbers, rest, asked)
    if isinstance(found, Refusal):
        twice = _same_twice(text, asked)
        return twice if twice is not None else found
    return found


def _why_no_number(text: str) -> Refusal:
    if re.match(r"\d+\.10 ?(?:\^|\*\*)", text):
        return Refusal("the point before 10 may be a decimal point or a times sign; type x 10^4 or e4")
    if re.match(r"[-+]? ?\d+ ?/ ?\d+", text):
        return Refusal("a division is not worked out here; type its result as a decimal number")
    return Refusal("the number is not written in a way that is understood, or is far too large or small")


def _unit_and_remark(numbers: tuple[Number, ...], rest: str, asked: Asked) -> Pair | Refusal:
    if not rest:
        return Pair(numbers, None)
    options = list(_interpretations(rest, asked))
    for unit, repairs in options:
        if unit is None or unit.options[0].fits:
            return Pair(numbers, unit, repairs)
    twice = _unit_twice(rest, asked)
    if isinstance(twice, Refusal):
        return twice
    if twice is not None:
        return Pair(numbers, twice)
    if options:
        unit, repairs = options[0]
        return Pair(numbers, unit, repairs)
    return _why_no_unit(rest)


def _why_no_unit(rest: str) -> Refusal:
    if re.search(r"\d", re.sub(r"[^\W\d_°][\^-]?-?\d", "", rest)):
        return TWO_NUMBERS
    if re.match(r"(?:[-+*/×÷^]|\+/-|±)", rest) or re.search(r"[π√]", rest):
        return Refusal("it holds working that is not worked out")
    if UNSURE.search(rest):
        return Refusal(f"{rest} leaves open which value is meant")
    return Refusal(f"{rest} is not a unit that is known here")


def _interpretations(rest: str, asked: Asked) -> Iterator[tuple[UnitReading | None, tuple[Repair, ...]]]:
    """Ways to read what stands after a number: a unit, or a unit and a remark, or a remark."""
    whole = read_unit(rest.strip(" ,;"), asked.name)
    if whole is not None:
        yield whole, ()
    if REMARK.match(rest) and _is_remark(rest):
        yield None, (Repair(f"The words after the number were left out: {rest.strip()}."),)
    preposition = re.match(r"in (?=\S)", rest)
    if preposition and (unit := read_unit(rest[3:].strip(), asked.name)) is not None:
        yield unit, ()
    for cut in _cuts(rest):
        unit = read_unit(rest[:cut].strip(" ,;"), asked.name)
        after = rest[cut:].strip()
        if unit is not None and _is_remark(after):
            yield unit, (Repair(f"The words after the unit were left out: {after}."),)


def _cuts(rest: str) -> list[int]:
    """Where a unit may end and words begin, the longest unit first."""
    return [m.start() for m in re.finditer(r"(?<=[^ ])(?= |\(|\[|,)", rest)][::-1][:8]


def _is_remark(words: str) -> bool:
    """True of words that say nothing about the value: no digit, no unit, nothing that turns or widens it."""
    match = REMARK.match(words)
    if match:
        bare = words.strip(" ()[]{}.").lower()
        return bare not in BARE_REMARK_NEEDS_BRACKETS or words[0] in "([{"
    if re.search(r"\d", words) or UNSURE.search(words) or not WORDS_ONLY.match(words):
        return False
    return not any(read_unit(w, "") for w in re.findall(r"[^\W\d_]+", words))


def _unit_twice(rest: str, asked: Asked) -> UnitReading | Refusal | None:
    """The unit of a number cell and of a unit cell, run together: one if they are the same, a refusal if not."""
    for match in re.finditer(" ", rest):
        first = read_unit(rest[: match.start()], asked.name)
        second = read_unit(rest[match.end() :], asked.name)
        if first is None or second is None:
            continue
        if first.options[0].name == second.options[0].name:
            return first if rest[: match.start()] == rest[match.end() :] or first.options[0].fits else None
        if (
            first.options[0].fits
            and second.options[0].fits
            or {first.options[0].fits, second.options[0].fits} == {True, False}
        ):
            if not _is_customary(rest, asked):
                a, b = rest[: match.start()], rest[match.end() :]
                return Refusal(f"it has two units, {a} and {b}")
    return None


CUSTOMARY = ("N*m", "N*s", "Pa*s", "kg*m^2", "J/K", "N*m^2", "A*h", "kg*m", "W*s")


def _is_customary(rest: str, asked: Asked) -> bool:
    """True of a product that is a quantity of its own (a moment, an impulse), not two units for one number."""
    return any((unit := read_unit(rest, name)) is not None and unit.options[0].fits for name in CUSTOMARY)


def _same_twice(text: str, asked: Asked) -> Pair | None:
    """Two quantities that are the same one (`70 kN (70 000 N)`); None when they are not."""
    for match in re.finditer(r" ?(?:[,;/(\[]| or | i\.?e\.? ) ?(?=[-+.\d])", text):
        pieces = text[: match.start()], text[match.end() :].rstrip(" )]")
        read = [read_number(p) for p in pieces]
        if any(r is None for r in read):
            continue
        pairs = [
            _unit_and_remark(r.numbers, p[r.end :].strip(), asked)
            for r, p in zip(read, pieces, strict=True)
            if r is not None
        ]
        first, second = pairs
        if isinstance(first, Pair) and isinstance(second, Pair) and first.unit and second.unit and _same(first, second):
            return Pair(first.numbers, first.unit, (*first.repairs, Repair("The same answer was given twice.")))
    return None


def _same(a: Pair, b: Pair) -> bool:
    """True when two pairs give the same value to the figures of the coarser one."""
    if a.unit is None or b.unit is None or not (a.unit.options[0].fits and b.unit.options[0].fits):
        return False
    (x, u), (y, v) = ((p.numbers[0], p.unit.options[0]) for p in (a, b) if p.unit is not None)
    first, second = float(x.value) * u.scale + u.offset, float(y.value) * v.scale + v.offset
    room = max(_half_unit(x) * u.scale, _half_unit(y) * v.scale)
    return abs(first - second) <= room + SAME * abs(first)


def _half_unit(n: Number) -> float:
    return 0.5 * 10.0 ** (n.value.adjusted() + 1 - n.figures) if n.value else 0.0


# --- quantities of more than one number -------------------------------------------------------------------------------

NUM = r"(\d{1,5}(?:[.,]\d+)?|\d{1,3} \d{1,2}/\d{1,2}|\d{1,2}/\d{1,2})"
COMPOSED = (
    # (form, units of its numbers, which carry 60 or 12 or so of the next)
    (rf"([-+]?) ?{NUM} ?(?:°|deg(?:rees?)?) ?{NUM} ?(?:'|′|min(?:utes?)?|m)?(?: ?{NUM} ?(?:\"|″|''|s(?:ec(?:onds?)?)?)?)?",
     ("deg", "arcminute", "arcsecond"), (1, 60, 3600)),
    (rf"([-+]?) ?{NUM} ?(?:'|′|ft|feet|foot)[ -]*{NUM} ?(?:\"|″|''|ins?|inch(?:es)?)?", ("ft", "in"), (1, 12)),
    (rf"([-+]?) ?{NUM} ?(?:h|hrs?|hours?) ?(?:and )?{NUM} ?(?:m|mins?|minutes?)?(?: ?(?:and )?{NUM} ?(?:s|secs?|seconds?))?",
     ("h", "min", "s"), (1, 60, 3600)),
    (rf"([-+]?) ?{NUM} ?(?:mins?|minutes?) ?(?:and )?{NUM} ?(?:s|secs?|seconds?)", ("min", "s"), (1, 60)),
    (rf"([-+]?) ?{NUM} ?(?:m|metres?) ?(?:and )?{NUM} ?(?:cm|centimetres?)", ("m", "cm"), (1, 100)),
    (rf"([-+]?) ?{NUM} ?(?:m|metres?) ?(?:and )?{NUM} ?(?:mm|millimetres?)", ("m", "mm"), (1, 1000)),
    (rf"([-+]?) ?{NUM} ?(?:kg|kilos?) ?(?:and )?{NUM} ?(?:g|grams?)", ("kg", "g"), (1, 1000)),
    (rf"([-+]?) ?{NUM} ?(?:lbs?|pounds?) ?(?:and )?{NUM} ?(?:oz|ounces?)", ("lb", "oz"), (1, 16)),
)  # fmt: skip
COMPOSED_FORMS = tuple((re.compile(form, re.IGNORECASE), units, shares) for form, units, shares in COMPOSED)


def _composed(text: str, asked: Asked) -> Pair | None:
    """Degrees with minutes, feet with inches, hours with minutes: one number in the largest unit."""
    for form, units, shares in COMPOSED_FORMS:
        match = form.fullmatch(text)
        unit = read_unit(units[0], asked.name) if match else None
        if match is None or unit is None or not unit.options[0].fits:
            continue
        terms = [read_number(g) for g in match.groups()[1:] if g is not None]
        numbers = [t.numbers[0].value for t in terms if t is not None]
        if any(n >= shares[i + 1] // shares[i] for i, n in enumerate(numbers[1:])) or any(n % 1 for n in numbers[:-1]):
            return None
        total = sum((n / shares[i] for i, n in enumerate(numbers)), Decimal(0))
        finest = terms[-1].numbers[0] if terms[-1] is not None else None
        if finest is None:
            return None
        steps = total * shares[len(numbers) - 1] * (10 ** -int(min(0, finest.value.as_tuple().exponent)))
        figures = max(1, len(str(int(steps))))
        signed = -total if match[1] == "-" else total
        return Pair((Number(signed.normalize(), figures, figures, figures),), unit)
    return None


# --- from a pair to a reading -----------------------------------------------------------------------------------------


def settled(text: str, asked_name: str, pair: Pair, plausible: float | None) -> Reading:
    """The reading of a pair: which units are meant, which candidates there are."""
    asked = asked_unit(asked_name)
    candidates = list(_candidates(pair, asked, plausible))
    finite = tuple(c for c in candidates if math.isfinite(c.si))
    if not finite:
        return Reading(text, asked_name, Certainty.UNREADABLE, reason="the value is too large to be meant")
    return Reading(text, asked_name, _certainty(pair, finite), finite, pair.repairs)


def _certainty(pair: Pair, candidates: tuple[Candidate, ...]) -> Certainty:
    if not any(c.dimension_fits for c in candidates):
        return Certainty.WRONG_DIMENSION
    if len(candidates) > 1:
        return Certainty.AMBIGUOUS
    return Certainty.REPAIRED if pair.repairs or candidates[0].repairs else Certainty.CERTAIN


def _candidates(pair: Pair, asked: Asked, plausible: float | None) -> Iterator[Candidate]:
    for number in pair.numbers:
        if pair.unit is None:
            yield from _without_unit(number, asked)
        else:
            for option in _meant(number, pair.unit, asked, plausible):
                yield _candidate(number, option)


def _without_unit(number: Number, asked: Asked) -> Iterator[Candidate]:
    needed = not asked.is_number or asked.name not in {"", "strain"}
    as_asked = UnitOption(asked.name, asked.scale, asked.offset, True)
    yield _candidate(number, as_asked, typed=False, needed=needed)
    if asked.name == "percent" and 0 < abs(number.value) <= 1:
        fraction = UnitOption("", 1.0, 0.0, True, (Repair("The number was read as a fraction, not as per cent."),))
        yield _candidate(number, fraction, typed=False, needed=False)


def _candidate(number: Number, option: UnitOption, typed: bool = True, needed: bool = False) -> Candidate:
    si = float(number.value) * option.scale + option.offset
    return Candidate(
        number.value, option.name if typed else "", si, number.figures, needed and not typed, option.fits,
        (*number.repairs, *option.repairs), option.name, option.scale, option.offset, number.least, number.most,
    )  # fmt: skip


def _meant(number: Number, unit: UnitReading, asked: Asked, plausible: float | None) -> tuple[UnitOption, ...]:
    """The options of a unit that are meant for this number."""
    if unit.all_kept or len(unit.options) + len(unit.spare) == 1:
        return unit.options
    if plausible is None or not plausible or not math.isfinite(plausible) or not number.value:
        return unit.options[:1]

    def distance(option: UnitOption) -> float:
        value = abs(float(number.value) * option.scale + option.offset)
        return abs(math.log10(value / abs(plausible))) if 0 < value < math.inf else math.inf

    best = min(unit.options, key=distance)
    near = [s for s in unit.spare if distance(s) < 1.5 and distance(best) > 4.5]
    return (best, *near)
