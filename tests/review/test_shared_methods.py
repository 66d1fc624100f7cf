"""Wrong methods that students share, found among what they entered; and how they are sentences."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from bank_fixture import BANK
from documents.pages import Page
from marking.students import Habit, worked
from witnessmark.documents.review.page import review_page
from witnessmark.jobs.reviewing import as_json
from witnessmark.marking.class_marking import mark_returns
from witnessmark.marking.outcome import Verdict
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import from_si
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import unit_of
from witnessmark.questions.working.working import ALL_CONSTANTS
from witnessmark.review import sentences
from witnessmark.review.class_review import ClassReview
from witnessmark.review.shared_methods import Searched, search

TASK = Task("winter-1", "Winter sheet 1", ("drain-hole", "bottle-jack"))
CODES = tuple(f"A{n:02}" for n in range(1, 13))
VARIANTS = {key: draw_class(BANK[key], TASK, CODES, frozenset()) for key in TASK.questions}
SHEETS = tuple(
    Sheet(sheet_code(TASK.key, c, 1), TASK, Student(c, f"Name of {c}", c[:2]), tuple(VARIANTS[q][c] for q in VARIANTS))
    for c in CODES
)
SQUARE = "4*tau*d*t"
Did = Mapping[str, str]
"""Texts by ask key; one that starts with = is a formula, worked to four figures."""


def typed(sheet: Sheet, key: str, text: str, **own: float) -> str:
    """What a formula gives at an ask, as typed; `own` are the student's own earlier results (SI)."""
    number, _, within = key.partition(".")
    variant = sheet.variants[int(number) - 1]
    unit = unit_of(variant.question, within)
    value = float(compiled(parse(text))({**ALL_CONSTANTS, **variant.values, **own}))
    return f"{float(to_figures(from_si(value, unit), 4)):.12g} {unit}"


def found(did: Mapping[str, Did], only: str = "") -> Searched:
    """What is found where these students did so and all others worked properly; who is not named did not hand in."""
    return search(SHEETS, mark_returns({sheet.code: sheet for sheet in SHEETS}, _returns(did), Rules()), only)


def _returns(did: Mapping[str, Did]) -> list[Return]:
    return [Return(s.code, "", _entries(s, did[s.student.code])) for s in SHEETS if s.student.code in did]


def _entries(sheet: Sheet, did: Did) -> tuple[tuple[str, Entry], ...]:
    answers = {
        f"{n}.{key}": text
        for n, variant in enumerate(sheet.variants, 1)
        for key, text in worked(variant, Habit(written=4), shows_lines=False).items()
    }
    for key, text in did.items():
        answers[key] = typed(sheet, key, text[1:]) if text.startswith("=") else text
    return tuple((key, Entry(text)) for key, text in answers.items())


PROPERLY: Did = {}
FOUR = {code: {"1.a": f"={SQUARE}"} for code in CODES[:4]} | dict.fromkeys(CODES[4:], PROPERLY)


@pytest.fixture(scope="module")
def four() -> Searched:
    """Four of twelve went round a square."""
    return found(FOUR)


def test_a_shared_formula_is_told_with_who_used_it_and_what_they_typed(four: Searched) -> None:
    (method,) = four.shared
    assert (method.label, method.number, method.question, method.place, method.what, method.symbol) == (
        "1a", 1, "drain-hole", "a", "punching force", "F",
    )  # fmt: skip
    assert (plain(method.formula), plain(method.right)) == (SQUARE, "tau*(pi*d*t)")
    assert [(w.student, w.sheet_code, w.typed) for w in method.who] == [
        (s.student.code, s.code, typed(s, "1.a", SQUARE)) for s in SHEETS[:4]
    ]
    assert method.entry == f"- {{misconception: name-this-method, answer: {SQUARE}, keeps: 0}}"
    assert (four.unexplained, four.searched, method.answers) == (4, 4, 4)


def test_nothing_is_shared_by_two(four: Searched) -> None:
    two = found({code: {"1.a": f"={SQUARE}"} for code in CODES[:2]} | dict.fromkeys(CODES[2:], PROPERLY))
    assert (two.shared, two.unexplained, two.searched) == ((), 2, 0)
    assert sentences.nothing(two) == (
        "No formula is shared by three or more unexplained answers. 2 answers have a method that no question knows;"
        " none of them stood three or more to a place, where a search can be made."
    )


def test_numbers_without_a_method_share_nothing_and_that_is_said() -> None:
    noise = ("19.37 kN", "871.2 kN", "5.713 kN", "333.9 kN")
    none = found({code: {"1.a": text} for code, text in zip(CODES, noise, strict=False)})
    assert (none.shared, none.unexplained, none.searched) == ((), 4, 4)
    assert sentences.nothing(none).endswith("4 of them stood three or more to a place, where a search can be made.")


def test_a_class_that_is_explained_is_told_so() -> None:
    assert sentences.nothing(found({CODES[0]: PROPERLY})) == (
        "Every number that was entered is explained by a method that its question knows."
    )


def test_known_slips_are_no_unknown_methods() -> None:
    assert found({code: {"1.a": "=tau*pi*d**2/4"} for code in CODES[:5]}).unexplained == 0


def test_a_line_has_a_search_of_its_own_and_what_follows_from_it_counts_for_the_result() -> None:
    shown = {code: {"1.a.A_s": "=4*d*t", "1.a": f"={SQUARE}"} for code in CODES[:3]}
    both = found(shown | {CODES[3]: {"1.a": f"={SQUARE}"}})
    assert {m.label: (plain(m.formula), len(m.who)) for m in both.shared} == {
        "1a A_s": ("4*d*t", 3), "1a": (SQUARE, 4),
    }  # fmt: skip
    line = both.shared[0]
    assert line.entry == "- {misconception: name-this-method, line: A_s, answer: 4*d*t, keeps: 0}"
    assert sentences.accept_command(line).startswith('witnessmark accept CLASS TASK "1a A_s" MISCONCEPTION --found 1 ')


def test_later_parts_are_searched_from_the_students_own_earlier_results() -> None:
    forces = (21e3, 35e3, 47e3, 52e3)
    did = {}
    for sheet, force in zip(SHEETS, forces, strict=False):
        b = typed(sheet, "1.b", "F/(4*d*t)", F=force)
        did[sheet.student.code] = {"1.a": f"{force / 1000:.0f} kN", "1.b": b}
    by_label = {m.label: plain(m.formula) for m in found(did).shared}
    assert by_label == {"1b": "F/(4*d*t)"}


def test_who_goes_on_from_a_right_result_as_it_was_typed_shares_the_method_too() -> None:
    did = dict.fromkeys(CODES[3:], PROPERLY)
    for sheet in SHEETS[:3]:
        written = float(to_figures(sheet.variants[0].expected_si["a"] / 1000, 2 if sheet is SHEETS[0] else 3))
        b = typed(sheet, "1.b", "F/(4*d*t)", F=1000 * written)
        did[sheet.student.code] = {"1.a": f"{written:.12g} kN", "1.b": b}
    (method,) = [m for m in found(did).shared if m.label == "1b"]
    assert (plain(method.formula), [w.student for w in method.who]) == ("F/(4*d*t)", list(CODES[:3]))


@pytest.mark.parametrize("off", [1.0008, 0.9992])
def test_digits_that_lie_near_what_a_shared_formula_gives_count_a_little(off: float) -> None:
    """Somebody who rounds in a way that no habit lists: two who wrote the very digits are no three without."""
    near = float(to_figures(off * float(typed(SHEETS[0], "1.a", SQUARE).split()[0]), 4))
    three = {code: FOUR[code] for code in CODES[1:3]} | {CODES[0]: {"1.a": f"{near:.12g} kN"}}
    others = dict.fromkeys(CODES[3:], PROPERLY)
    (method,) = found(three | others).shared
    assert (plain(method.formula), [w.student for w in method.who]) == (SQUARE, list(CODES[:3]))
    far = {CODES[0]: {"1.a": f"{near * off**20:.4g} kN"}}
    assert found(three | far | others).shared == ()


def test_a_sharer_whose_answer_a_known_method_explains_in_part_is_found_as_well() -> None:
    """A slip is named with odds of one in three against it: the two others who share the formula outweigh that."""
    outcomes = mark_returns({s.code: s for s in SHEETS}, _returns(FOUR), Rules())
    code = SHEETS[0].code
    doubtful = replace(outcomes[code]["1.a"], verdict=Verdict.SLIP, misconceptions=("radius-for-diameter",), sure=0.75)
    changed = {**outcomes, code: {**outcomes[code], "1.a": doubtful}}
    (method,) = search(SHEETS, changed).shared
    assert [w.sheet_code for w in method.who] == [s.code for s in SHEETS[:4]]
    sure = {**outcomes, code: {**outcomes[code], "1.a": replace(doubtful, sure=1.0)}}
    (method,) = search(SHEETS, sure).shared
    assert [w.sheet_code for w in method.who] == [s.code for s in SHEETS[1:4]]


def test_one_answer_alone_can_be_searched(four: Searched) -> None:
    assert found(FOUR, "1.a") == four
    assert found(FOUR, "1.b") == Searched()


def test_how_sure_it_is_and_what_chance_would_do_is_said_in_plain_sentences(four: Searched) -> None:
    (method,) = four.shared
    assert sentences.difference(method) == "It is what comes out as if 4 stood in the place of pi."
    assert sentences.certainty(method) == (
        f"The odds that they share this method are more than a million to 1 (log odds {method.log_odds:.1f})."
    )
    assert sentences.accident(method) == (
        "Expected number of accidental fits: fewer than one in a million such searches."
        f" ({method.tried:,} formulas were tried on 4 answers, and this one gives all of them.)"
    )
    assert sentences.power(method) == ""


def review(searched: Searched) -> ClassReview:
    """A review of nothing but this search."""
    return ClassReview("t", 12, 12, (), (), (), (), searched)


def test_the_page_has_the_formula_as_mathematics_the_sentences_and_the_entry(four: Searched) -> None:
    page = Page(review_page(review(four)))
    assert page.all("math")[0]["alttext"] == "F equals 4 times tau times d times t"
    (method,) = four.shared
    for text in (sentences.difference(method), sentences.certainty(method), sentences.accident(method), method.entry):
        assert text in page.words
    assert "1a, punching force: formula 1 4 students" in page.words
    assert page.all("script") == []


def test_the_page_says_where_nothing_is_shared() -> None:
    assert sentences.nothing(Searched()) in Page(review_page(review(Searched()))).words


def test_machines_get_formulas_as_an_author_types_them_and_numbers_as_numbers(four: Searched) -> None:
    (method,) = four.shared
    data = as_json(review(four))["searched"]
    assert (data["unexplained"], data["searched"], data["told"]) == (4, 4, "")
    (row,) = data["shared"]
    assert (row["formula"], row["right"], row["entry"]) == (SQUARE, "tau*(pi*d*t)", method.entry)
    assert row["log_odds"] == method.log_odds
    assert [w["student"] for w in row["students"]] == list(CODES[:4])


def test_a_search_does_not_depend_on_the_order_of_sheets(four: Searched) -> None:
    sheets = {sheet.code: sheet for sheet in SHEETS}
    returns = [Return(s.code, "", _entries(s, FOUR[s.student.code])) for s in reversed(SHEETS)]
    again = search(SHEETS, mark_returns(sheets, returns, Rules()))
    assert again == four
