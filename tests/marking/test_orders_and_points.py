"""Orders of steps, short texts and parts marked by hand: marks by the stated rule, and what waits for the teacher."""

from dataclasses import replace
from decimal import Decimal
from itertools import permutations

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.kinds.hand import for_the_teacher
from witnessmark.marking.kinds.order import COPIED, mark_order
from witnessmark.marking.kinds.points import NOT_KNOWN, mark_points
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.options import Point
from witnessmark.questions.model.orders import out_of_place
from witnessmark.questions.model.parts import HandPart, OrderPart, PointsPart
from witnessmark.questions.model.slips import OrderSlip
from witnessmark.questions.sheet.listing import letter_of, listed_steps
from witnessmark.questions.sheet.task import Rules

D = Decimal
RULES = Rules()
STEPS = ("scrape the plank", "prime the seam", "drive the cotton", "pay the seam with putty")
ORDER = OrderPart("a", "In order.", D(3), steps=STEPS,
             slips=(OrderSlip("primed-late", puts=STEPS[2], before=STEPS[1]),))  # fmt: skip
POINTS = PointsPart(
    "a", "Give two.", D(2), needed=2,
    points=(Point("light", ("light", "low weight")), Point("strong", ("strong",)), Point("rot", ("does not rot",))),
)  # fmt: skip
HAND = HandPart("a", "Sketch it.", D(3), criteria=(("the bevel is shown", D(2)), ("it is named", D(1))))


def letters(order: tuple[int, ...]) -> str:
    """The letters for steps given by their places in the right order."""
    return " ".join(letter_of(listed_steps(ORDER, None).index(STEPS[i])) for i in order)


def ordered(*order: int, rules: Rules = RULES, part: OrderPart = ORDER) -> Outcome:
    return mark_order(part, letters(order), None, rules)


def pointed(text: str, part: PointsPart = POINTS, rules: Rules = RULES) -> Outcome:
    return mark_points(part, text, rules)


def one_move_away(order: tuple[int, ...]) -> bool:
    """By trying: taking some step out and putting it anywhere gives the right order."""
    for step in order:
        rest = [s for s in order if s != step]
        if any([*rest[:i], step, *rest[i:]] == sorted(order) for i in range(len(order))):
            return True
    return False


@pytest.mark.parametrize("order", list(permutations(range(4))))
def test_every_order_of_four_steps_earns_by_how_many_steps_are_out_of_place(order: tuple[int, ...]) -> None:
    right = list(order) == sorted(order)
    expected = D(3) if right else D("1.5") if one_move_away(order) else D(0)
    assert ordered(*order).marks == expected
    assert bool(out_of_place(order)) is (not right and one_move_away(order))


def test_half_of_the_marks_is_rounded_down_to_what_the_task_gives() -> None:
    assert ordered(1, 0, 2, 3, part=replace(ORDER, marks=D("2.5"))).marks == D(1)
    assert ordered(1, 0, 2, 3, part=replace(ORDER, marks=D("0.5"))).marks == D(0)
    assert ordered(1, 0, 2, 3, rules=Rules(half_marks=False)).marks == D(1)


def test_what_is_out_of_place_is_said() -> None:
    assert ordered(0, 1, 3, 2).because == f"Two neighbours have changed places: “{STEPS[3]}” and “{STEPS[2]}”."
    assert ordered(1, 2, 3, 0).because == f"One step is out of place: “{STEPS[0]}”."
    assert ordered(3, 2, 1, 0).because.endswith(f"look first for “{STEPS[0]}”.")
    assert ordered(0, 1, 2, 3).because == "Right: every step is in its place."


def test_a_wrong_order_that_a_slip_describes_names_its_misconception() -> None:
    out = ordered(0, 2, 1, 3)
    assert (out.verdict, out.misconceptions, out.marks) == (Verdict.SLIP, ("primed-late",), D("1.5"))
    assert ordered(1, 0, 2, 3).misconceptions == ()
    assert ordered(1, 0, 2, 3).verdict is Verdict.WRONG


def test_an_order_in_words_is_read_with_the_letters_of_the_sheet() -> None:
    assert mark_order(ORDER, "scrape > prime > cotton > putty", None, RULES).marks == D(3)
    assert mark_order(ORDER, letters((0, 1, 2, 3)).replace(" ", ""), None, RULES).read_as == "D, C, A, B"


def test_steps_in_words_are_those_of_the_students_own_sheet_with_its_numbers() -> None:
    steps = ("drill to {t}", "drill to {d}", "take off the burr")
    part = OrderPart("a", "In order.", D(3), steps=steps)
    hole = wm.load_bank(SMALL_BANK)["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm")
    for text, marks in (("drill to 6 mm; drill to 20 mm; take off the burr", D(3)),
                        ("drill to 20 mm; drill to 6 mm; take off the burr", D("1.5"))):  # fmt: skip
        out = mark_order(part, text, hole, RULES)
        assert (out.marks, out.in_tray) == (marks, ()), text
    assert out.because == "Two neighbours have changed places: “drill to 20\u00a0mm” and “drill to 6\u00a0mm”."
    further = mark_order(part, "take off the burr; drill to 20 mm; drill to 6 mm", hole, RULES)
    assert further.because.endswith("look first for “drill to 6\u00a0mm”.")


def test_numbers_that_can_be_read_in_two_ways_count_kindly_and_are_shown_to_the_teacher() -> None:
    places = " ".join(str(STEPS.index(step) + 1) for step in listed_steps(ORDER, None))
    out = mark_order(ORDER, places, None, RULES)
    assert out.marks == D(3)
    assert out.in_tray == ("the entry can be read in two ways; the kinder one was taken",)


SHUFFLED = replace(ORDER, shuffled=True)


@pytest.mark.parametrize("text", ["D, C, A, B", "DCAB", "1 2 3 4", "a=1 b=2 c=3 d=4", "A B C D"])
def test_letters_of_a_shuffled_list_wait_where_it_is_not_known(text: str) -> None:
    """Every sheet has a list of its own: any letters may be the right ones."""
    out = mark_order(SHUFFLED, text, None, RULES)
    assert (out.verdict, out.marks, out.misconceptions, bool(out.in_tray)) == (Verdict.UNREADABLE, D(0), (), True)


def test_words_are_read_where_the_list_is_not_known_and_told_in_words() -> None:
    for order in ((0, 1, 2, 3), (0, 2, 1, 3), (3, 0, 1, 2), (2, 1, 0, 3)):
        text = "; ".join(STEPS[place] for place in order)
        found, usual = mark_order(SHUFFLED, text, None, RULES), mark_order(ORDER, text, None, RULES)
        assert found == replace(usual, read_as=text)
    unknown = "; ".join(listed_steps(SHUFFLED, None))
    assert mark_order(SHUFFLED, unknown, None, RULES).because != COPIED  # nobody's list, as far as is known
    assert mark_order(SHUFFLED, " ", None, RULES).verdict is Verdict.BLANK


@pytest.mark.parametrize("text", ["A B C", "A A B C", "first things first", "A B C E"])
def test_an_order_that_cannot_be_read_waits_for_the_teacher(text: str) -> None:
    out = mark_order(ORDER, text, None, RULES)
    assert (out.verdict, out.marks) == (Verdict.UNREADABLE, D(0))
    assert out.in_tray[0].startswith("could not be read: ")


@pytest.mark.parametrize(("text", "marks", "verdict"), [
    ("light, and strong", "2", Verdict.RIGHT),
    ("Low weight. Does not rot.", "2", Verdict.RIGHT),
    ("light; low weight", "1", Verdict.WRONG),
    ("strong", "1", Verdict.WRONG),
    ("light, strong and does not rot", "2", Verdict.RIGHT),
    ("it looks nice", "0", Verdict.UNEXPLAINED),
    ("", "0", Verdict.BLANK),
])  # fmt: skip
def test_each_wanted_point_earns_its_share_and_the_same_point_twice_counts_once(
    text: str, marks: str, verdict: Verdict
) -> None:
    out = pointed(text)
    assert (out.marks, out.verdict) == (D(marks), verdict)


def test_a_share_is_rounded_down_to_what_the_task_gives() -> None:
    three = replace(POINTS, needed=3, marks=D("1.5"))
    assert pointed("light", three).marks == D("0.5")
    assert pointed("light and strong", three, Rules(half_marks=False)).marks == D(1)


@pytest.mark.parametrize(("text", "why"), [
    ("not strong; light", "“not strong” may deny what it names"),
    ("stronng, light", "“stronng” was taken for “strong”"),
    ("it is light and shiny", "only part of it was recognised; “shiny” was not"),
    ("light. It is pretty", "“it is pretty” is none of the accepted wordings"),
])  # fmt: skip
def test_what_is_near_a_wording_or_denies_it_or_is_unknown_is_shown_to_the_teacher(text: str, why: str) -> None:
    assert why in pointed(text).in_tray


def test_nothing_waits_where_enough_was_said_plainly() -> None:
    assert pointed("light, strong, stronng, pretty").in_tray == ()
    assert pointed("light, strong, does not rott").in_tray == ()
    assert pointed("light. stronng. It is pretty").in_tray == ("“stronng” was taken for “strong”",)
    assert pointed("light, does not rott").in_tray == ("“does not rott” was taken for “does not rot”",)


def test_a_text_is_sure_where_a_point_was_found_and_not_where_none_was() -> None:
    assert [pointed(text).sure for text in ("light, strong", "strong", "it looks nice")] == [1.0, 1.0, 0.0]


def test_what_was_found_is_listed_and_what_is_missing_is_counted_in_words() -> None:
    three = replace(POINTS, needed=3)
    assert pointed("strong", three).because == "One of the three wanted: “strong”."
    assert pointed("light. strong", three).because == "Two of the three wanted: “light” and “strong”."
    assert pointed("light. strong. does not rot", three).because == "Right: “light”, “strong” and “does not rot”."
    woods = ("oak", "larch", "teak", "elm", "cedar", "spruce", "iroko", "ash", "pine", "mahogany", "locust")
    many = PointsPart("a", "Name woods.", D(11), needed=11, points=tuple(Point(wood, (wood,)) for wood in woods))
    assert pointed("larch", many).because == "One of the 11 wanted: “larch”."
    assert pointed("larch", replace(many, needed=10)).because == "One of the ten wanted: “larch”."


def test_what_says_nothing_but_the_contrary_of_a_point_is_told_so_and_does_not_wait() -> None:
    heavy = replace(POINTS.points[0], refused=("heavy",))
    part = replace(POINTS, points=(heavy, *POINTS.points[1:]))
    told = {text: pointed(text, part) for text in ("heavy", "heavy, strong", "heavy, pretty")}
    assert [(out.verdict, out.marks, out.sure, out.because) for out in told.values()] == [
        (Verdict.WRONG, D(0), 1.0, "“heavy” is the contrary of what is wanted."),
        (Verdict.WRONG, D(1), 1.0, "One of the two wanted: “strong”."),
        (Verdict.UNEXPLAINED, D(0), 0.0, NOT_KNOWN),
    ]
    assert [bool(out.in_tray) for out in told.values()] == [False, False, True]


def test_no_point_makes_full_marks_by_what_it_denies() -> None:
    assert pointed("not light, not strong").marks == D(0)


@pytest.mark.parametrize("text", ["", "see my drawing", "12 kN"])
def test_a_part_marked_by_hand_waits_with_its_criteria_even_where_the_cell_is_empty(text: str) -> None:
    out = for_the_teacher(HAND, text)
    assert out.in_tray == ("to be marked by hand", "the bevel is shown (2)", "it is named (1)")
    assert (out.marks, out.out_of, out.raw) == (D(0), D(3), text)
    assert out.because == "Your teacher marks this part."
