"""One answer in words: what was read, what is said and to whom, and how the marks of a part come of those of its lines.

A hole of 20 mm through 6 mm of 300 MPa, by hand: the edge has 376.99 mm² and takes 113.097 kN, the face has 314.16 mm²
and bears 360.0 MPa. On the face instead of the edge 94.2 kN come out, by the radius 56.5 kN.
"""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Rules

D = Decimal
DRAIN_HOLE = wm.load_bank(SMALL_BANK)["drain-hole"]
HOLE = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")
NOBODY_KNOWS = "no known method gives this number"
NOT_KNOWN = "a method that the bank does not know"
TWO_WAYS = "the entry can be read in two ways; the kinder one was taken"
REPAIRED = "the entry had to be repaired before it could be read"
TURNED = "two digits may be turned"
TIE = "two explanations fit about as well; the kinder one was taken"
KINDER = "its comma may part thousands; it was read as a decimal point, which is kinder"
OTHER_WAY = "its comma was read as in other answers; read the other way it would be right"


def plain(text: str) -> str:
    """With ordinary blanks."""
    for blank in "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}":
        text = text.replace(blank, " ")
    return text


def out(entry: str, rules: Rules | None = None, **more: str) -> Outcome:
    """The outcome of a force, beside an area of the edge where `edge` is told."""
    entries = {"a": entry} | ({"a.A_s": more["edge"]} if more else {})
    return wm.mark(HOLE, entries, rules)["a"]


@pytest.mark.parametrize(("entry", "marks", "verdict", "tray"), [
    ("113 kN", "3", "right", ()), ("113", "2.5", "unit", ()), ("113 MPa", "2", "unit", ()),
    ("113 MN", "2", "power of ten", ()), ("-113 kN", "2", "sign", ()), ("94.2 kN", "1", "slip", ()),
    ("94.2", "0.5", "slip", ()), ("56.5 kN", "2", "slip", ()), ("110 kN", "2.5", "rounded early", ()),
    ("11533 kg", "2", "unit", ()), ("11.53 kN", "2", "unit", ()),
    ("226 kN", "0", "edit", (NOT_KNOWN,)), ("131 kN", "0", "edit", (TURNED,)),
    ("100 kN", "0", "unexplained", (NOBODY_KNOWS,)), ("", "0", "blank", ()),
    ("?", "0", "unreadable", ("could not be read: there is no number in it",)),
    ("113 kn", "3", "right", ()), ("94.2 kn", "1", "slip", ()), ("226 kn", "0", "edit", (REPAIRED, NOT_KNOWN)),
    ("113 mn", "2", "power of ten", (REPAIRED,)),
    ("113,097 kN", "3", "right", (TWO_WAYS,)), ("94,200 kN", "1", "slip", (TWO_WAYS,)),
    ("113,097 MPa", "2", "power of ten", ()), ("113,000 kN", "3", "right", (KINDER,)),
])  # fmt: skip
def test_an_answer_earns_what_its_method_is_worth_and_waits_with_its_reasons(
    entry: str, marks: str, verdict: str, tray: tuple[str, ...]
) -> None:
    found = out(entry)
    assert (found.marks, found.out_of, str(found.verdict), found.in_tray) == (D(marks), D(3), verdict, tray)
    assert found.raw == entry


@pytest.mark.parametrize(("entry", "said"), [
    ("113 kN", "Right: 113 kN is the punching force with your numbers."),
    ("113", "The number is right; write its unit, kN, beside it."),
    ("113 MPa", "The number is right, but MPa cannot be the unit here; it is kN."),
    ("94.2 kN", ("94.2 kN is what τ × π × d² / 4 gives with your numbers. "
     "The area of the circle stands where perimeter times thickness belongs.")),
    ("94.2", ("94.2 is what τ × π × d² / 4 gives with your numbers. "
     "The area of the circle stands where perimeter times thickness belongs. Its unit, kN, is missing as well.")),
    ("94.2 MPa", ("94.2 MPa is what τ × π × d² / 4 gives with your numbers. "
     "The area of the circle stands where perimeter times thickness belongs. "
     "The unit is off as well: MPa cannot be the unit here; it is kN.")),
    ("226", ("226 is what comes out if d is doubled; your teacher will look at your working. "
     "Its unit, kN, is missing as well.")),
    ("11533 kg", ("11 533 kg leads to the right value by the factor between kilogram-force and kilonewton; "
     "the answer is wanted in kN.")),
    ("11533", ("Your method is right, but a conversion between kilogram-force and kilonewton went wrong on the way to "
     "11 533.")),
    ("11.53 kN", ("Your method is right, but a conversion between kilogram-force and newton went wrong on the way to "
     "11.53 kN.")),
    ("", "No answer was entered here."),
])  # fmt: skip
def test_what_is_said_names_the_method_and_beside_it_what_is_wrong_with_the_unit(entry: str, said: str) -> None:
    assert plain(out(entry).because) == said


@pytest.mark.parametrize("entry", ["113097", "110", "-113", "94.2", "226"])
def test_a_unit_that_is_missing_is_said_beside_every_other_mistake(entry: str) -> None:
    assert plain(out(entry).because).endswith(" Its unit, kN, is missing as well.")


def test_an_edit_is_told_to_the_teacher_in_a_note_and_nothing_else_is() -> None:
    assert plain(out("226 kN").notes[0]).startswith("226 kN is what 2 × τ × π × d × t gives")
    assert (out("131 kN").notes, out("94.2 kN").notes) == ((), ())


@pytest.mark.parametrize(("entry", "read"), [
    ("113.09733552 kN", "113.09733552 kN"), ("113.097335529 kN", "113.097 kN"), ("1.13e5 N", "113 000 N"),
    ("113097.335529 N", "113 097 N"), ("94200000000000000 kN", "9.42 × 10¹⁶ kN"),
    ("113", "113"), ("?", ""),
])  # fmt: skip
def test_a_number_is_read_back_as_it_was_written_and_a_long_one_to_six_figures(entry: str, read: str) -> None:
    """Twelve signs stand as they are."""
    assert plain(out(entry).read_as) == read


@pytest.mark.parametrize(("entry", "figures", "right"), [
    ("131 kN", 2, "113.1 kN"), ("131 kN", 3, "113.1 kN"), ("131 kN", 4, "113.10 kN"), ("113.907 kN", 3, "113.097 kN"),
    ("113.90733 kN", 3, "113.0973 kN"),
])  # fmt: skip
def test_the_right_value_is_told_to_a_figure_more_than_asked_and_to_as_many_as_were_written_up_to_seven(
    entry: str, figures: int, right: str
) -> None:
    """Two digits of 113.1, 113.097 and 113.09734 are turned; four figures at least."""
    assert f"may be {right} with a slip of the fingers" in plain(out(entry, Rules(figures=figures)).because)


def test_a_tie_is_told_before_a_doubt_and_both_methods_are_evidence() -> None:
    """A hole of 12 mm through 6 mm: the face has the area of half the edge, 113.1 mm²."""
    tied = wm.mark(DRAIN_HOLE.variant(tau="300 MPa", d="12 mm", t="6 mm"), {"a": "33.9 kN"})["a"]
    assert (tied.in_tray, tied.marks, tied.misconceptions) == ((TIE,), D(2), ("radius-for-diameter",))
    assert {names for one in tied.evidence[:2] for names in one.misconceptions} == {
        "radius-for-diameter", "face-area-for-sheared-edge",
    }  # fmt: skip


def test_a_name_is_in_doubt_that_is_less_sure_than_is_asked_and_not_one_that_is_just_so() -> None:
    found = out("5e1 kN")
    assert 0.5 < found.sure < 0.9
    assert found.in_tray == (f"the name of the method is only {found.sure:.0%} sure",)
    unasked = out("5e1 kN", Rules(ask_below=0.5))  # nothing further is looked for
    assert out("5e1 kN", Rules(ask_below=unasked.sure)).in_tray == unasked.in_tray == ()


def test_at_most_eight_explanations_are_evidence_the_likeliest_first_and_each_of_its_own_answer() -> None:
    found = out("1e1 kN").evidence
    assert len(found) == 8  # of eleven that fit
    assert [one.sure for one in found] == sorted((one.sure for one in found), reverse=True)
    assert out("113 kN").evidence == ()
    both = wm.mark(HOLE, {"a": "94.2 kN", "b": "300 MPa"})
    assert both["a"].evidence == out("94.2 kN").evidence


@pytest.mark.parametrize(("edge", "entry", "marks", "tray", "repair"), [
    ("376,99 mm²", "113,097 kN", "3", (), "The comma was read as a decimal point, as in other answers."),
    ("376.99 mm²", "113,097 kN", "2", (OTHER_WAY,), "The comma was read as parting thousands, as in other answers."),
    ("376,99 mm²", "113,097 N", "2", (OTHER_WAY,), "The comma was read as a decimal point, as in other answers."),
    ("376.99 mm²", "113,097 N", "3", (), "The comma was read as parting thousands, as in other answers."),
    ("376.99 mm²", "94,200 N", "1", (), "The comma was read as parting thousands, as in other answers."),
])  # fmt: skip
def test_a_comma_is_read_as_in_other_answers_and_the_teacher_told_where_it_would_be_right_otherwise(
    edge: str, entry: str, marks: str, tray: tuple[str, ...], repair: str
) -> None:
    found = out(entry, edge=edge)
    assert (found.marks, found.in_tray, found.repairs) == (D(marks), tray, (repair,))


@pytest.mark.parametrize(("line", "entry", "of_line", "of_part"), [
    ("", "113 kN", "1", "3"), ("??", "113 kN", "1", "3"), ("", "94.2 kN", "0", "1"), ("188 mm²", "56.5 kN", "0", "2"),
    ("380 mm²", "114 kN", "0.5", "2.5"), ("377 mm²", "20 kN", "1", "1"), ("377 mm²", "113 kN", "1", "3"),
    ("20 mm²", "113 kN", "0", "3"),
])  # fmt: skip
def test_a_line_counts_within_its_part_and_is_implied_by_a_right_result(
    line: str, entry: str, of_line: str, of_part: str
) -> None:
    """Who goes on from a line that was rounded early has lost half of its mark, and no more."""
    found = wm.mark(HOLE, {"a.A_s": line, "a": entry})
    assert (found["a.A_s"].marks, found["a"].marks) == (D(of_line), D(of_part))
    assert found["a.A_s"].out_of == D(1)


def test_a_line_that_is_implied_is_told_so_where_nothing_was_entered() -> None:
    for line, said in (("", "Not entered; your result shows that it was right."), ("??", "could not be read")):
        assert said in wm.mark(HOLE, {"a.A_s": line, "a": "113 kN"})["a.A_s"].because
    assert wm.mark(HOLE, {"a.A_s": "", "a": "94.2 kN"})["a.A_s"].because == "No answer was entered here."


def test_a_line_is_marked_where_the_result_of_its_part_cannot_be_worked() -> None:
    found = wm.mark(DRAIN_HOLE.variant(d="20 mm", t="6 mm"), {"a.A_s": "377 mm²", "a": "113 kN"})
    assert [(key, str(one.verdict), one.marks) for key, one in found.items() if key[0] == "a"] == [
        ("a.A_s", "right", D(1)),
    ]  # fmt: skip


def test_figures_other_than_asked_are_told_beside_the_rest_where_they_cost_something() -> None:
    rules = Rules(figures_mark=D("0.5"))
    assert (out("113.1 kN", rules).marks, out("113 kN", rules).marks) == (D("2.5"), D(3))
    assert "3 significant figures" in plain(out("113.1 kN", rules).because)
    assert "significant" not in out("113 kN", rules).because
    assert "significant" not in out("113.1 kN").because


def test_every_answer_is_told_in_the_order_of_the_sheet() -> None:
    assert list(wm.mark(HOLE, {"b": "360 MPa", "a": "113 kN"})) == ["a.A_s", "a", "b.A_p", "b"]
