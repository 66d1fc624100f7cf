"""What an examiner of the trade looks for in the bank: labels that give nothing away, one value for one metal."""

import re
from collections.abc import Iterator

import numpy as np
import pytest

from bank_fixture import BANK
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import names_in
from witnessmark.questions.checking.spread import spread
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.drawing.separation import keeps
from witnessmark.questions.drawing.space import choices, columns_of, pick_of
from witnessmark.questions.model.kinds import slips_of
from witnessmark.questions.model.parts import JudgePart, Line, QuantityPart, Slip, ValueChoicePart
from witnessmark.questions.sheet.listing import si_of
from witnessmark.questions.working.evaluation import can_work, names_in_full, value_of
from witnessmark.questions.working.methods import dimensions, methods_at, places

AS_THE_DESIGN_HAS_IT = {"drain-hole"}
EVEN = (0.35, 0.65)  # between these shares of yes a guess earns little; common practice, no source
STRENGTHS = {"yield_strength", "tensile_strength", "shear_strength", "compressive_strength"}
COUNTING = {"both", "each", "two", "double", "half", "whole", "mean"}
NAMED_IN_THE_TASK = {
    ("tube-strut", "d"), ("fuel-pipe", "d"),  # the inside diameter: how to get it is what goes wrong
    ("stern-bearing", "A"),  # "over its projected area"
    ("held-pipe", "strain"), ("gap-then-stress", "strain"), ("rod-shroud", "strain"),
    ("battery-hours", "I"),  # the name of the quantity
}  # fmt: skip
USED_FOR_RIGHT = re.compile(r"(?P<used>.+)-(?:for|as)-(?P<right>.+)")
LEFT_OUT = re.compile(r"(?P<right>.+)-(?:forgotten|left-out)")
GENERAL = {
    "the",
    "a",
    "of",
    "for",
    "area",
    "stress",
    "force",
    "diameter",
    "size",
    "one",
    "cut",
    "part",
    "arm",
    "section",
    "modulus",
}


def lines_with_slips() -> Iterator[tuple[str, Line, tuple[str, ...]]]:
    """Every line of the bank with the misconceptions that change it or its result."""
    for question in BANK.values():
        for part in question.quantities:
            for line in part.lines:
                named = [s.misconception for s in slips_of(part) if isinstance(s, Slip) and s.line in ("", line.name)]
                if question.key not in AS_THE_DESIGN_HAS_IT and (question.key, line.name) not in NAMED_IN_THE_TASK:
                    yield question.key, line, tuple(named)


def given_away(misconception: str) -> set[str]:
    """The words that name what a slip should have used: `thick-part-for-thin` should have used `thin`."""
    found = USED_FOR_RIGHT.fullmatch(misconception) or LEFT_OUT.fullmatch(misconception)
    return set(found["right"].split("-")) - GENERAL if found else set()


def test_the_label_of_a_step_does_not_say_what_a_slip_forgets() -> None:
    told = [
        (key, line.is_, misconception)
        for key, line, misconceptions in lines_with_slips() for misconception in misconceptions
        if (right := given_away(misconception)) and right <= set(re.findall(r"[a-z]+", line.is_.lower()))
    ]  # fmt: skip
    assert told == []


def test_the_label_of_a_step_counts_nothing() -> None:
    assert [(key, line.is_) for key, line, _ in lines_with_slips() if COUNTING & set(line.is_.split())] == []


def test_no_choice_of_values_offers_what_another_part_asks() -> None:
    """keel-bolt once offered the stress of its part a among the values of its part c."""
    seen = 0
    for question in BANK.values():
        offering = [part for part in question.parts if isinstance(part, ValueChoicePart)]
        for part in offering:
            for variant in draw_all(question, {f"S{n}": f"offered {n}" for n in range(20)}, frozenset()).values():
                offered = [si_of(tree, variant) for tree in (part.answer, *(slip.answer for slip in part.slips))]
                asked = [variant.expected_si[q.key] for q in question.quantities if q.unit == part.unit]
                seen += 1
                assert not any(np.isclose(value, asked, rtol=0.02).any() for value in offered), question.key
    assert seen


def test_a_metal_stands_in_one_table_with_one_source() -> None:
    metals = [name for table in BANK.tables.values() if set(table.units) & STRENGTHS for name in table.rows]
    assert len(metals) == len(set(metals)) > 8
    assert all(len(str(cells["source"])) > 20 for cells in BANK.tables["metals"].rows.values())


def test_a_question_on_a_metal_of_the_table_takes_its_strength_from_there() -> None:
    """A strength that a question lists itself is of a grade or of a part, never of a metal that the table names."""
    metals = BANK.tables["metals"].rows
    for question in BANK.values():
        own = [g for g in question.givens if "strength" in g.is_ and g.one_of]
        assert not own or not any(name in question.setting for name in metals), question.key


@pytest.mark.parametrize("key", [q.key for q in BANK.values() if any(isinstance(p, JudgePart) for p in q.parts)])
def test_a_judgement_is_yes_about_as_often_as_no(key: str) -> None:
    least, most = EVEN
    shares = spread(BANK[key]).judged
    assert shares
    assert all(least <= share <= most for _, share in shares), shares


def test_a_pipe_that_is_held_at_both_ends_does_not_buckle_before_its_stress() -> None:
    """Euler, both ends clamped: σ = 4 π² E I / (A L²), with I/A = (D² + d²)/16 for a tube."""
    for variant in draw_all(BANK["held-pipe"], {f"S{n}": f"pipe {n}" for n in range(60)}, frozenset()).values():
        si = variant.values
        inside = si["D"] - 2 * si["t"]
        buckles_at = 4 * np.pi**2 * si["E"] * (si["D"] ** 2 + inside**2) / 16 / si["L"] ** 2
        assert si["E"] * si["alpha"] * si["dT"] < 0.75 * buckles_at


def test_every_number_that_a_slip_needs_stands_on_the_sheet() -> None:
    """clevis-pin once had a slip with a tensile strength that only its table knew."""
    for question in BANK.values():
        text = BANK.figures_path.parent.joinpath(question.topic, f"{question.key}.yaml").read_text(encoding="utf-8")
        said = set(re.findall(r"\{(\w+\.\w+)\}", text))
        for part in question.parts:
            if isinstance(part, QuantityPart):
                used = {name for slip in part.slips for name in names_in(slip.answer) if "." in name}
                assert used <= said, (question.key, part.key)


ENDS_IN_AN_ORDER = re.compile(r"(?i)\b(multiply|divide)\b[^.]*\.$")
BELIEVES_NOTHING = re.compile(r"(?i)\bwill do\b|does not matter which|stands on top")


def test_every_question_says_what_to_take_care_of() -> None:
    assert [question.key for question in BANK.values() if not question.caution] == []


def test_what_to_say_is_something_to_look_at_and_no_order_to_multiply() -> None:
    assert [key for key, told in BANK.misconceptions.items() if ENDS_IN_AN_ORDER.search(told.say)] == []


def test_a_belief_is_one_that_somebody_could_hold() -> None:
    assert [key for key, told in BANK.misconceptions.items() if BELIEVES_NOTHING.search(told.believes)] == []


def test_every_misconception_has_a_family_and_there_are_some_forty() -> None:
    assert set(BANK.families) == set(BANK.misconceptions)
    assert 35 <= len(set(BANK.families.values())) <= 60


A_FORMULA = re.compile(r"(?i)^[a-z ]+ is (?!always)(the |a )?[a-z ]+ (over|times|divided by) [a-z ]+\.$")


def test_a_belief_that_is_no_more_than_a_formula_turned_round_is_counted_as_algebra() -> None:
    turned = {key for key, told in BANK.misconceptions.items() if A_FORMULA.fullmatch(told.believes)}
    assert len(turned) > 15
    algebra = {key for key, family in BANK.families.items() if family == "a relation turned round"}
    of_a_shape = {"diameter-for-radius-in-area", "lengthwise-for-hoop"}  # which length, which area
    assert turned - algebra == of_a_shape


def test_no_sentence_on_a_sheet_or_about_a_misconception_is_longer_than_25_words() -> None:
    told = [text for m in BANK.misconceptions.values() for text in (m.believes, m.shows, m.say, m.demonstrate)]
    asked = [text for q in BANK.values() for text in (q.setting, q.caution, *(part.ask for part in q.parts))]
    sentences = [s for text in told + asked for s in re.split(r"(?<=[.!?:;])\s+", " ".join(text.split()))]
    assert len(sentences) > 1000
    assert [s for s in sentences if len(re.sub(r"\{[^}]*\}", "x", s).split()) > 25] == []


def test_what_others_have_found_names_them_and_the_year() -> None:
    named = [told.published for told in BANK.misconceptions.values() if told.published]
    assert len(named) >= 30
    assert all(re.search(r"\b(19|20)\d\d\b", text) or "no single source" in text for text in named)


def test_wherever_an_angle_goes_into_a_function_the_calculator_may_be_in_radians() -> None:
    """slide-setting and shaft-angle only take angles out of one: there a unit tells."""
    angles = {
        (question.key, part.key)
        for question in BANK.values() for part in question.quantities
        for tree in (part.answer, *(line.value for line in part.lines))
        if re.search(r"\b(sin|cos|tan)\((theta)", plain(tree))
    }  # fmt: skip
    assert angles
    for key, letter in angles:
        slips = [slip for slip in slips_of(BANK[key].part(letter)) if isinstance(slip, Slip)]
        assert "calculator-in-radians" in {slip.misconception for slip in slips}, (key, letter)


def test_no_circumference_is_the_number_of_a_half_a_double_or_a_quarter_of_its_circle() -> None:
    """With d = 16 mm the area worked with half the diameter, pi (d/2)^2/4 in mm^2, is pi d in mm: safe-load once named
    the circumference, fully sure, where the radius had gone in."""
    looked_at = 0
    for question in BANK.values():
        for part in question.quantities:
            for slip in part.slips:
                if slip.misconception != "circumference-for-area" or not slip.line:
                    continue
                right = next(line.value for line in part.lines if line.name == slip.line)
                for variant in draw_all(question, {f"S{n}": f"circle {n}" for n in range(30)}, frozenset()).values():
                    typed = {name: float(shown.number) for name, shown in variant.shown.items()} | {"pi": np.pi}
                    if not names_in(right) <= typed.keys() or variant.shown[min(names_in(right) - {"pi"})].unit != "mm":
                        continue
                    ratio = float(compiled(slip.answer)(typed) / compiled(right)(typed))
                    looked_at += 1
                    assert not np.isclose(ratio, [0.25, 0.5, 2], rtol=0.005).any(), (question.key, typed)
    assert looked_at > 100


AS_THE_DEMO_HAS_THEM = {"drain-hole", "bottle-jack"}  # other numbers there would make its returned books useless


def test_no_slip_is_the_number_of_a_diameter_halved_or_doubled_where_no_slip_says_that() -> None:
    """steering-ram once named the rod, fully sure, where the bore was halved: with 32 and 16 mm they are equal."""
    looked_at = 0
    for question in BANK.values():
        if question.key in AS_THE_DEMO_HAS_THEM:
            continue
        picks = [pick_of([c.count for c in choices(question)], f"halved|{i}") for i in range(150)]
        columns = columns_of(question, picks)
        columns = {name: values[keeps(question, columns, len(picks))] for name, values in columns.items()}
        diameters = [given.name for given in question.givens if "diameter" in given.is_ or "bore" in given.is_]
        for place in places(question, 3):
            right, *slips = methods_at(place, dimensions(question))
            used = [name for name in diameters if name in names_in(place.asked.tree)]
            given = names_in_full(question, columns)
            known = [m for m in slips if can_work(m, given) and not m.bare]
            if len(used) != 1 or not can_work(right, given):
                continue
            values = {m.misconceptions: value_of(m, given, {}) for m in known}
            for factor in (0.5, 2.0):
                other = value_of(right, given | {used[0]: columns[used[0]] * factor}, {})
                same = {who: np.isclose(value, other, rtol=0.004, atol=0) for who, value in values.items()}
                if not any(np.all(hit) for hit in same.values()):
                    looked_at += 1
                    assert {who for who, hit in same.items() if np.any(hit)} == set(), (question.key, place.key)
    assert looked_at > 40
