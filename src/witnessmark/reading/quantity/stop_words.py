"""What stands around a quantity: what says nothing, what may be left out, what leaves open which value is meant."""

import re

from witnessmark.reading.number.forms import LETTER_DIGITS, MIXED
from witnessmark.reading.result import Repair
from witnessmark.reading.text.plain_words import BLANKS

SPREADSHEET_ERROR = re.compile(
    r"#(?:DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!|SPILL!|CALC!|#+)|Err:\d{3}", re.IGNORECASE
)
NOT_FINITE = re.compile(r"(?:[-+] ?)?(?:nan|inf(?:inity)?|not a number)\b|(?:[-+] ?)?∞", re.IGNORECASE)
MONTH = r"(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*"
DATE = re.compile(
    rf"\d{{1,4}} ?([/.-]) ?\d{{1,2}} ?\1 ?\d{{2,4}}(?:[ T]\d.*)?"
    rf"|\d{{1,2}}[ -]{MONTH}(?:[ -]\d{{2,4}})?|{MONTH}[ -]\d{{1,4}}",
    re.IGNORECASE,
)
CLOCK = re.compile(r"\d{1,3}:\d{2}(?::\d{2})?(?: ?[ap]\.?m\.?)?", re.IGNORECASE)

ABOUT = re.compile(
    r"(?:~|≈|about|approx(?:imately|\.)?|around|roughly|circa|ca\.?|c\.|nearly|say)(?![^\W\d_]) ?", re.IGNORECASE
)
MINUS_WORD = re.compile(r"(?:minus|negative|neg\.?) ?(?=[\d.,])", re.IGNORECASE)
NUMBER_WORDS = {
    "zero": 0, "nought": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
NUMBER_WORD = re.compile(rf"({'|'.join(NUMBER_WORDS)})(?= |$)", re.IGNORECASE)
DIAMETER = re.compile(r"^[Øø⌀∅] ?")

# Words that turn, widen or double what stands beside them: an entry that has one is never guessed at.
UNSURE = re.compile(
    r"\b(?:or|to|till|until|and|not|no|nor|never|between|from|than|less|more|least|most|under|over|above|below|minus|plus"
    r"|times|by|if|unless|either|neither|half|twice|double|dozen|max(?:imum)?|min(?:imum)?|up|wrong|ignore|changed?"
    r"|instead|don'?t|cannot|can'?t|unknown|unsure|maybe|perhaps|guess(?:ed)?|dunno|idk|negative|opposite|percent"
    r"|metric|imperial|british|american|us|uk|troy|nautical|sea|short|long)\b"
    r"|[<>≤≥±?!√∛^=+*×÷;&@#$£€|\\~]|\.\.|\+/-",
    re.IGNORECASE,
)
DOUBT = re.compile(
    r"\b(?:or|not|never|don'?t|cannot|can'?t|unknown|unsure|maybe|perhaps|guess(?:ed)?|dunno|idk|wrong|ignore|than"
    r"|twice|half)\b",
    re.IGNORECASE,
)
_FIGURES = (
    r"(?:(?:correct|rounded)? ?to )?\d[ .]?(?:s\.? ?f\.?|sig\.? ?figs?\.?|d\.? ?p\.?|significant figures?"
    r"|decimal places?|figures?|figs?\.?|decimals?)"
)
_WORDS = (
    r"approx(?:imately|\.)?|about|roughly|rounded|ans(?:wer)?\.?|final(?: answer)?|checked|ok"
    r"|comp(?:\.|ression|ressive)?|tens(?:\.|ion|ile)?|gauge|gage|abs(?:\.|olute)?|each|off"
)
REMARK = re.compile(rf"[ ,.]*[(\[]? ?(?:{_FIGURES}|{_WORDS}) ?[)\]]?[ .]*", re.IGNORECASE)
REMARK_IN_BRACKETS = re.compile(r" ?[(\[] ?(?:c|t|g|a) ?[)\]] ?", re.IGNORECASE)
# Words and nothing else, perhaps after "per" or "in".
WORDS = re.compile(r"[ ,.:()\[\]'-]*[^\W\d_]+(?:[ ,.:()\[\]'-]+[^\W\d_]+){0,7}[ ,.:()\[\]'-]*")
SYMBOL = re.compile(r"[^\W\d][\w .,'()\[\]∴-]{0,60}|[∴∵] ?[^\W\d][\w .,'()\[\]-]{0,60}")
STANDS_BEFORE = re.compile(r"[\w ,.'()\[\]:∴∵-]*")

TWO_NUMBERS = "it holds more than one number: two answers, a range, or working that is not worked out"
NO_NUMBER = "there is no number in it"
TOO_LONG = "it is too long for a number with a unit"
FORMULA = "it is the text of a formula, and formulas are not worked out here"


def is_blank(entry: str) -> bool:
    """True of an entry with nothing in it, and of the marks that people put for nothing."""
    return entry.lower() in BLANKS or entry.lower().strip("()[]. ") in BLANKS


def special_reason(entry: str) -> str:
    """Why an entry that was not read is none: a date, an error of a spreadsheet; "" when it is nothing of the kind."""
    bare = entry.lstrip("= ").rstrip(" .")
    if SPREADSHEET_ERROR.fullmatch(bare):
        return "it is an error message of a spreadsheet"
    if NOT_FINITE.match(bare):
        return "it is not a finite number"
    if DATE.fullmatch(bare):
        return "it looks like a date, as spreadsheets make them; type the number again as text"
    if CLOCK.fullmatch(bare):
        return "it looks like a time of day, as spreadsheets make them; type the number again as text"
    return ""


def with_number_word(text: str) -> tuple[str, tuple[Repair, ...]]:
    """The text with the number word that it begins with as digits (`two kN`)."""
    match = NUMBER_WORD.match(text)
    if match is None:
        return text, ()
    number = NUMBER_WORDS[match[1].lower()]
    return f"{number}{text[match.end() :]}", (Repair(f"The word {match[1]} was read as {number}."),)


def letters_as_digits(text: str) -> tuple[str, tuple[Repair, ...]]:
    """The text with O, o read as nought and l, I as one inside runs of digits."""
    said: list[Repair] = []

    def mended(match: re.Match[str]) -> str:
        run = match[0]
        for letters, digit in (("Oo", "nought"), ("lI|", "one")):
            letter = next((c for c in run if c in letters), "")
            if letter:
                said.append(Repair(f"The letter {letter} in {run} was read as a {digit}.", True))
        return run.translate(LETTER_DIGITS)

    return MIXED.sub(mended, text), tuple(said)
