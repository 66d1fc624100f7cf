"""The drain-hole question of the design, built by hand, and sheets of it: values for the tests of documents."""

from datetime import date
from decimal import Decimal

from witnessmark.documents.page.blocks import Figure
from witnessmark.maths.syntax import Comparison, parse
from witnessmark.questions.model.options import Option, Point
from witnessmark.questions.model.parts import (
    ChoicePart,
    ExpressionPart,
    HandPart,
    JudgePart,
    Line,
    OrderPart,
    PointsPart,
    QuantityPart,
    Slip,
)
from witnessmark.questions.model.question import Given, Misconception, Question, RowGiven, Table
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.questions.sheet.variant import Shown, Variant, variant_of

D = Decimal


def comparison(text: str) -> Comparison:
    """A comparison as a tree."""
    tree = parse(text)
    assert isinstance(tree, Comparison)
    return tree


METALS = Table("sheet-metals", "invented", {"shear_strength": "MPa"}, {"mild steel": {"shear_strength": D(300)}})
STEELS = Table("tool-steels", "invented", {"compressive_strength": "MPa"}, {"O1": {"compressive_strength": D(1800)}})
FACE = Misconception(
    "face-area-for-sheared-edge",
    "The plate gives way over the whole face of the punch.",
    "The area of the circle stands where perimeter times thickness belongs.",
    "Look at the slug. The bright band round its edge is what was cut; multiply the way round by the thickness.",
    "Push a biscuit cutter through rolled clay.",
    ("biscuit cutter",),
)
PARTS = (
    QuantityPart(
        "a", "Find the force needed to punch the hole.", D(3), "punching force", "F", "kN",
        lines=(Line("A_s", "sheared area", "mm^2", parse("pi*d*t"), D(1)),), answer=parse("tau*A_s"),
        slips=(Slip(FACE.key, parse("tau*pi*d**2/4"), D(1)),),
    ),
    QuantityPart(
        "b", "Find the compressive stress in the punch.", D(2), "punch stress", "sigma", "MPa",
        lines=(Line("A_p", "face area of the punch", "mm^2", parse("pi*d**2/4"), D(1)),), carries=("a",),
        answer=parse("F/A_p"),
    ),
    JudgePart(
        "c", "Will a punch of compressive strength {punch.compressive_strength} survive?", D(1),
        comparison("sigma < punch.compressive_strength"),
    ),
)  # fmt: skip
DRAIN_HOLE = Question(
    "drain-hole", "Punching a drain hole", "shear", 1,
    "A galley floor plate, {t} thick, is {material.name}. A round drain hole {d} in\ndiameter is punched through it in "
    "one stroke.\n",
    (
        Given("tau", "shear strength", "MPa", "τ", value=parse("material.shear_strength")),
        Given("d", "hole diameter", "mm", one_of=(D(10), D(12), D(16), D(20), D(25))),
        Given("t", "plate thickness", "mm", span=(D(1), D(8), D("0.5"))),
    ),
    (RowGiven("material", "sheet-metals"), RowGiven("punch", "tool-steels")), (), PARTS,
    {"sheet-metals": METALS, "tool-steels": STEELS}, {FACE.key: FACE},
    caution="A press closes with more force than a hand can feel. Guards stay on, hands stay out.",
)  # fmt: skip
WORDS = Question(
    "rigging-words", "Before the mast goes up", "lifting", 2,
    "The yard's crane lifts a mast of {m} with a sling on {n} legs.\n\nThe rigger stands clear of the load.",
    (Given("m", "mass of the mast", "kg"), Given("n", "number of legs", "")), (), (),
    (
        QuantityPart("a", "Find the pull in one leg when they all hang straight.", D(2), "pull in a leg",
             "F_leg", "kN", answer=parse("m*g/n")),
        ChoicePart("b", "The legs are spread. The pull in each leg is then", D(1), options=(
            Option("smaller"), Option("the same"), Option("larger", right=True))),
        OrderPart("c", "Put the steps of the lift in order.", D("1.5"), steps=(
            "Look over the sling and its label", "Take up the slack", "Lift a hand's breadth and wait",
            "Lift to height")),
        PointsPart("d", "Name reasons to lift a hand's breadth and wait.", D(2), needed=2,
             points=(Point("brake", ("the brake holds",)), Point("sling", ("the sling sits well",)))),
        ExpressionPart("e", "Write the mass that one leg carries in terms of m and n.", D(1), "mass on one leg",
             "m_1", "kg", answer=parse("m/n")),
        HandPart("f", "Sketch the sling with the mast hanging level.", D(3), criteria=(
            ("Legs meet above the centre of mass", D(2)), ("Angle shown and named", D(1)))),
    ),
)  # fmt: skip
PLACEHOLDER_SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="170pt" height="120pt" viewBox="0 0 170 120">'
    '<g font-family="Libertinus Serif" font-size="9.5" stroke="#111" fill="none"><rect x="5" y="5" width="160" '
    'height="80"/><circle cx="85" cy="45" r="24"/><path d="M61 45V104M109 45V104M61 100H109"/>'
    '<text x="85" y="97" text-anchor="middle" stroke="none" fill="#111">20 mm</text></g></svg>'
)
FIGURE = Figure(PLACEHOLDER_SVG, "A plate with a round hole, 20 mm across.", 170.0)


def drain_hole(d: str = "20", t: str = "5") -> Variant:
    """The drain hole with a hole and a plate of so many millimetres."""
    return variant_of(DRAIN_HOLE, {"material": "mild steel", "punch": "O1", "d": D(d), "t": D(t)})


def rigging() -> Variant:
    """A question of every other kind."""
    return Variant(WORDS, {"m": Shown(D(420), "kg"), "n": Shown(D(3), "")}, {})


def sheet(*variants: Variant, code: str = "K7Q4-M2P") -> Sheet:
    """A sheet of an invented student."""
    asked = variants or (drain_hole(), rigging())
    task = Task("shear-1", "Shear and punching", tuple(v.question.key for v in asked), date(2027, 3, 5))
    return Sheet(code, task, Student("S07", "Ada Example", "North yard"), asked)
