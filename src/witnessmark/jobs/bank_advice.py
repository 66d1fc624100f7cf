"""What becomes of an accepted slip in the bank: the entry for its question's file, and its place; or it is written."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.folder import MISCONCEPTIONS, load_question_file
from witnessmark.files.bank.misconceptions_text import misconceptions_from_text
from witnessmark.files.bank.question_text import Known, question_from_text
from witnessmark.files.bank.slip_text import adds_only, question_file, with_slip
from witnessmark.files.safe.atomic import write_file
from witnessmark.files.safe.bounded import text_or_nothing
from witnessmark.files.safe.plain_text import LARGEST
from witnessmark.questions.bank import Bank
from witnessmark.questions.checking.accepted_slips import AcceptedSlip, entry_text
from witnessmark.questions.model.question import Misconception, Question
from witnessmark.words.errors import ProblemsFound

BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class BankAdvice:
    """The entry for `slips:` of a part, the file and line where it belongs (0: not known), and whether it was written.

    `why_not` says why it was not or could not be; `misconception` what to add to misconceptions.yaml (empty where the
    bank has it).
    """

    entry: str
    part: str
    file: Path | None = None
    line: int = 0
    written: bool = False
    why_not: str = ""
    misconception: str = ""


def known_misconceptions(bank: Path, question: Question) -> Mapping[str, Misconception]:
    """What the bank says of misconceptions now, and the issued question of those that the bank has no more."""
    return {**question.misconceptions, **_of_bank(bank)}


def _of_bank(bank: Path) -> Mapping[str, Misconception]:
    file = bank / MISCONCEPTIONS
    found, _, _ = misconceptions_from_text(text_or_nothing(file, LARGEST), str(file))
    return {key: one for key, one in found.items() if one.believes}


def advice(bank: Path, slip: AcceptedSlip, write: bool) -> BankAdvice:
    """What to do in the bank for an accepted slip; with `write` the entry is put into the question's file.

    Nothing is written where the file cannot be used as it stands, or where more than the entry would change.
    """
    entry = entry_text(slip.misconception.key, slip.answer, slip.keeps, slip.line)
    missing = "" if slip.misconception.key in _of_bank(bank) else misconception_text(slip.misconception)
    plain = BankAdvice(entry, slip.part, misconception=missing)
    file = question_file(bank, slip.question) if bank.is_dir() else None
    if file is None:
        return _not(plain, f"{bank} has no question {slip.question}")
    content = file.read_bytes()
    text = content.decode("utf-8-sig", errors="replace")
    inserted = with_slip(text, slip)
    if inserted is None:
        return _not(plain, "its part is not written line by line", file)
    placed = BankAdvice(entry, slip.part, file, inserted.line, misconception=missing)
    if missing and write:
        return _not(placed, f"{MISCONCEPTIONS} has no {slip.misconception.key} yet")
    try:
        around = load_question_file(file)
    except ProblemsFound as error:
        return _not(placed, f"the file has problems: {error.problems[0]}")
    if not _is_safe(around, file, inserted.text, slip):
        return _not(placed, "the question there is not the one that was issued, or has this slip")
    if write:
        try:
            write_file(file, (BOM if content.startswith(BOM) else b"") + inserted.text.encode())
        except ProblemsFound as error:  # the record has the slip already, so this is told and does not stop
            return _not(placed, str(error.problems[0]))
    return BankAdvice(entry, slip.part, file, inserted.line, write, "", missing)


def _not(found: BankAdvice, why: str, file: Path | None = None) -> BankAdvice:
    return BankAdvice(found.entry, found.part, found.file or file, found.line, False, why, found.misconception)


def _is_safe(around: Bank, file: Path, text: str, slip: AcceptedSlip) -> bool:
    """True where the bank's question with the entry differs from it by the slip alone."""
    before = around[slip.question]
    known = Known({**around.misconceptions, slip.misconception.key: slip.misconception})
    after, _ = question_from_text(text, str(file), around.tables, known)
    return adds_only(before, after, slip)


def misconception_text(one: Misconception) -> str:
    """The entry for misconceptions.yaml, what is not known yet left for the author to say."""
    return (
        f"{one.key}:\n"
        f"  believes: {one.believes or 'What the student believes.'}\n"
        f"  shows: {one.shows or 'How it shows in the working.'}\n"
        f"  say: {_quoted(one.say or 'What to say to the student.')}\n"
        "  demonstrate: What to show, and with what.\n"
        "  kit: [what to carry]"
    )


def _quoted(text: str) -> str:
    """Text as YAML takes it for text, whatever stands in it."""
    doubled = " ".join(text.split()).replace("'", "''")
    return f"'{doubled}'"
