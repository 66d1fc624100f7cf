"""Where the reading of a formula stands: its tokens, the writer's habits, what was repaired, and its numbers."""

import math
import re
from dataclasses import dataclass, field
from decimal import Decimal

from witnessmark.maths.syntax import Binary, Minus, Name, Number, Tree
from witnessmark.reading.formula.tokens import Stopped, Token

DEEPEST = 25
MOST_PIECES = 110
PI_DIGITS = "3.14159265358979"
FEWEST_PI_DIGITS = 4


@dataclass(frozen=True, slots=True)
class Habits:
    """How a writer uses the signs that have two meanings; the values of each are in CHOICES, likeliest first."""

    slash: str = "fraction"
    reach: str = "near"
    log: str = "natural"
    angle: str = "plain"
    figure: str = "raised"
    comma: str = "thousands"
    power: str = "fraction"
    cut: str = "first"


CHOICES = {
    "slash": ("fraction", "below", "in order"),  # 1/2mv: (1/2)mv, 1/(2mv), (1/2)mv; F/2A: F/(2A), F/(2A), (F/2)A
    "reach": ("near", "product", "term", "sum"),  # how far a root or a sine without brackets reaches
    "log": ("natural", "of ten"),
    "angle": ("plain", "degrees"),
    "figure": ("raised", "times"),  # d2: d**2 or d*2
    "comma": ("thousands", "decimal"),
    "power": ("fraction", "in order"),  # d^1/2: d**(1/2) or d**1/2
    "cut": ("first", "second"),  # letters run together that can be cut in two ways
}


@dataclass(slots=True)
class Cursor:
    """One pass over the tokens. `met` gathers the habits that mattered, `repairs` and `notes` are sentences."""

    tokens: tuple[Token, ...]
    habits: Habits
    met: set[str] = field(default_factory=set)
    repairs: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    at: int = 0
    depth: int = 0
    pieces: int = 0
    separating: bool = False
    bars: int = 0

    @property
    def now(self) -> Token:
        """The token at hand."""
        return self.tokens[self.at]

    def ahead(self, steps: int = 1) -> Token:
        """A later token, the end at most."""
        return self.tokens[min(self.at + steps, len(self.tokens) - 1)]

    def is_sign(self, *signs: str) -> bool:
        """True when the token at hand is one of these signs."""
        return self.now.kind == "sign" and self.now.value in signs

    def taken(self, *signs: str) -> str:
        """The sign at hand, taken, if it is one of these."""
        if not self.is_sign(*signs):
            return ""
        self.at += 1
        return self.tokens[self.at - 1].value

    def deeper(self) -> None:
        """One level down; Stopped below the deepest."""
        self.depth += 1
        if self.depth > DEEPEST:
            raise Stopped(self.now.at, f"brackets and functions at most {DEEPEST} deep were expected")

    def built(self, tree: Tree) -> Tree:
        """The tree, counted against the largest size."""
        self.pieces += 1
        if self.pieces > MOST_PIECES:
            raise Stopped(self.now.at, f"a formula of at most {MOST_PIECES} pieces was expected")
        return tree

    def joined(self, op: str, left: Tree, right: Tree) -> Tree:
        """Two trees under one operation."""
        return self.built(Binary(op, left, right))

    def turned(self, sign: str, tree: Tree) -> Tree:
        """The tree, under a minus when the sign is one."""
        return self.built(Minus(tree)) if sign == "-" else tree

    def number(self) -> Tree:
        """The number at hand; 3.14, 3.142, longer forms and 22/7 are pi, which is noted."""
        text = self._digits()
        if text == "22" and self._seventh_follows():
            self.at += 2
            return self._pi("22/7")
        if len(text) >= FEWEST_PI_DIGITS and _is_pi(Decimal(text)):
            return self._pi(text)
        number = number_of(text)
        if not math.isfinite(number.value) or (not number.value and Decimal(text)):
            raise Stopped(self.tokens[self.at - 1].at, "a number of ordinary size was expected")
        return self.built(number)

    def _digits(self) -> str:
        """The digits of the number at hand; a comma within them is a decimal sign or parts thousands."""
        text = self.now.value
        self.at += 1
        rest = self.ahead()
        close = self.is_sign(",") and not self.now.gap and rest.kind == "number" and not rest.gap
        if self.separating or not close or not text.isdigit() or not rest.value.isdigit():
            return text
        self.at += 2
        decimal = f"{text}.{rest.value}"
        if len(rest.value) == 3 and len(text) <= 3 and text[0] != "0" and not _is_pi(Decimal(decimal)):
            self.met.add("comma")
            if self.habits.comma == "thousands":
                return text + rest.value
        self.repairs.append(f"“{text},{rest.value}” was read as {decimal}")
        return decimal

    def _seventh_follows(self) -> bool:
        before = self.tokens[self.at - 2].value if self.at > 1 else ""
        seventh = self.is_sign("/") and self.ahead().value == "7" and self.ahead(2).value not in ("^", ",")
        return seventh and before not in ("/", "^")

    def _pi(self, text: str) -> Tree:
        note = f"{text} was taken as π"
        self.notes += [note] if note not in self.notes else []
        return self.built(Name("pi"))


def number_of(text: str) -> Number:
    """A number without noughts in front that say nothing, which the author's grammar does not know."""
    return Number(re.sub(r"^0+(?=\d)", "", text))


def _is_pi(number: Decimal) -> bool:
    """True of pi rounded or cut off at the last figure written."""
    exponent = number.as_tuple().exponent
    short = (Decimal(PI_DIGITS) - number).scaleb(-exponent) if isinstance(exponent, int) else Decimal(1)
    return Decimal("-0.5") <= short < 1
