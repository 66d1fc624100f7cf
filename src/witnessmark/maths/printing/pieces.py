"""The one grammar of printed formulae: an author's tree as pieces, in the author's order, with brackets where needed.

Every printer (typst, MathML, spoken) walks the same pieces, so that all of them say the same formula.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from witnessmark.maths.many import MEAN, SLOPE, series_of
from witnessmark.maths.printing.numbers import Digits, digits_of
from witnessmark.maths.printing.plain import COMPARISON, SUM, binding
from witnessmark.maths.printing.symbols import Symbol, symbol_for
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Name, Number, Tree, is_of_ten, names_in

TIMES, JOINED = "×", ""
RELATIONS = {"<": "<", "<=": "≤", ">": ">", ">=": "≥"}
FUNCTION_NAMES = {
    "asin": "arcsin",
    "acos": "arccos",
    "atan": "arctan",
    "log": "ln",
    "round_up": "round up",
    "round_down": "round down",
}
OF_TEN = "lg"  # ISO 80000-2:2019, 2-13.6 (from memory)
RAISED_ON_NAME = frozenset({"sin", "cos", "tan"})


@dataclass(frozen=True, slots=True)
class Letter:
    """A symbol."""

    symbol: Symbol


@dataclass(frozen=True, slots=True)
class Amount:
    """A number, with its unit text (`` for none)."""

    digits: Digits
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Sign:
    """An operator or relation between its neighbours: `+ − × / = ≈ < ≤ > ≥ , ;`, or JOINED for symbols side by side."""

    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """Pieces one after the other."""

    items: tuple["Piece", ...]


@dataclass(frozen=True, slots=True)
class Fraction:
    """One piece over another."""

    over: "Piece"
    under: "Piece"


@dataclass(frozen=True, slots=True)
class Root:
    """A square root."""

    of: "Piece"


@dataclass(frozen=True, slots=True)
class Power:
    """A base with a raised exponent."""

    base: "Piece"
    exponent: "Piece"


@dataclass(frozen=True, slots=True)
class Fenced:
    """A piece between brackets (`(` and `)`) or bars."""

    of: "Piece"
    left: str = "("
    right: str = ")"


@dataclass(frozen=True, slots=True)
class Applied:
    """A named function before its fenced argument; `raised` is a power written on its name, as in sin²(α)."""

    function: str
    argument: "Piece"
    raised: "Piece | None" = None


@dataclass(frozen=True, slots=True)
class Text:
    """Upright words inside a formula."""

    words: str


Piece = Letter | Amount | Sign | Row | Fraction | Root | Power | Fenced | Applied | Text
Amounts = Mapping[str, Amount]
EQUALS, ABOUT = Sign("="), Sign("≈")


def formula(tree: Tree, symbols: Mapping[str, str] | None = None) -> Piece:
    """The pieces of a formula in symbols; `symbols` states the symbol of a name where it is not the name itself."""
    return _Layout(symbols or {}, {}).of(tree)


def substituted_formula(tree: Tree, amounts: Amounts, symbols: Mapping[str, str] | None = None) -> Piece:
    """The same formula with every name in `amounts` replaced by its number with unit."""
    return _Layout(symbols or {}, amounts).of(tree)


def letter(name: str, symbols: Mapping[str, str] | None = None) -> Piece:
    """The symbol of one name."""
    return Letter(symbol_for(name, symbols or {}))


def amount(value: Decimal | float, unit: str = "", figures: int | None = None) -> Amount:
    """A number with its unit, rounded half up to `figures`, or as it is."""
    return Amount(digits_of(value, figures), unit)


def row(*pieces: Piece) -> Row:
    """Pieces one after the other, such as both sides of an equation with EQUALS between them."""
    return Row(pieces)


@dataclass(frozen=True, slots=True)
class _Layout:
    symbols: Mapping[str, str]
    amounts: Amounts

    def of(self, tree: Tree) -> Piece:
        match tree:
            case Number():
                return Amount(digits_of(Decimal(tree.text)))
            case Name(name=name):
                return self.amounts.get(name) or Letter(symbol_for(name, self.symbols))
            case Minus(of=of):
                return Row((Sign("−"), self.inner(of, below=SUM)))
            case Comparison(op=op, left=left, right=right):
                return Row((self.of(left), Sign(RELATIONS[op]), self.of(right)))
            case Call():
                return self.call(tree)
            case Binary(op="**", left=left, right=right):
                return self.power(left, self.exponent(right))
            case Binary(op="/", left=Call(arguments=(of,))) if is_of_ten(tree):
                return Applied(OF_TEN, Fenced(self.of(of)))
            case Binary(op="/", left=left, right=right):
                return Fraction(self.of(left), self.of(right))
            case Binary(op="*"):
                return self.product(tree)
            case Binary(op=op, left=left, right=right):
                return Row((*_items(self.of(left)), Sign(op.replace("-", "−")), self.term(op, right)))
        raise TypeError(f"{tree!r} is not a tree")

    def inner(self, tree: Tree, below: int) -> Piece:
        """A tree, fenced when its top binds no firmer than `below`."""
        piece = self.of(tree)
        return Fenced(piece) if binding(tree) <= below or starts_with_minus(piece) else piece

    def term(self, op: str, right: Tree) -> Piece:
        """What follows + or −: sums are fenced after − only, signs always."""
        return self.inner(right, SUM if op == "-" else COMPARISON)

    def power(self, base: Tree, exponent: Piece) -> Piece:
        """A power, its base fenced unless it is a bare symbol or number."""
        piece = self.of(base)
        if isinstance(piece, Applied) and piece.function in RAISED_ON_NAME and piece.raised is None:
            return Applied(piece.function, piece.argument, exponent)
        simple = isinstance(piece, Letter | Fenced) or (isinstance(piece, Amount) and is_bare(piece))
        return Power(piece if simple else Fenced(piece), exponent)

    def exponent(self, tree: Tree) -> Piece:
        """An exponent: a simple fraction on one line, since a small one cannot be read."""
        match tree:
            case Binary(op="/", left=Number() | Name() | Minus() as left, right=Number() | Name() as right):
                return Row((self.of(left), Sign("/"), self.of(right)))
        return self.of(tree)

    def product(self, tree: Tree) -> Piece:
        factors = self.factors(tree)
        spelled = not names_in(tree).isdisjoint(self.amounts)  # numbers stand for names: write every product sign
        items: list[Piece] = [factors[0]]
        for before, factor in pairwise(factors):
            items += [Sign(TIMES if spelled or _needs_times(before, factor) else JOINED), factor]
        return Row(tuple(items))

    def factors(self, tree: Tree) -> list[Piece]:
        match tree:
            case Binary(op="*", left=left, right=right):
                return [*self.factors(left), *self.later(right)]
        return [self.factor(tree)]

    def later(self, tree: Tree) -> list[Piece]:
        match tree:
            case Binary(op="*"):
                first, *others = self.factors(tree)
                return [Fenced(first) if starts_with_minus(first) else first, *others]
            case Minus():
                return [Fenced(self.of(tree))]
        return [self.inner(tree, SUM)]

    def factor(self, tree: Tree) -> Piece:
        return self.of(tree) if isinstance(tree, Minus | Name | Number) else self.inner(tree, SUM)

    def call(self, tree: Call) -> Piece:
        arguments = [self.of(a) for a in tree.arguments]
        match tree.function:
            case "sqrt":
                return Root(arguments[0])
            case "abs":
                return Fenced(arguments[0], "|", "|")
            case "exp":
                return Power(Text("e"), self.exponent(tree.arguments[0]))
            case function if function == MEAN:
                return Fraction(_joined(arguments, "+"), Amount(digits_of(Decimal(len(arguments)))))
            case function if function == SLOPE:
                x, y = (_joined(column, ",") for column in series_of(function, arguments))
                return Applied(function, Fenced(Row((x, Sign(";"), y))))
        name = FUNCTION_NAMES.get(tree.function, tree.function)
        return Applied(name, Fenced(_joined(arguments, ",")))


def _joined(pieces: Sequence[Piece], sign: str) -> Piece:
    """Pieces with a sign between them."""
    items: list[Piece] = [pieces[0]]
    for piece in pieces[1:]:
        items += [Sign(sign), piece]
    return Row(tuple(items)) if len(items) > 1 else pieces[0]


def _items(piece: Piece) -> tuple[Piece, ...]:
    return piece.items if isinstance(piece, Row) else (piece,)


def _needs_times(before: Piece, factor: Piece) -> bool:
    """True where side by side would read as another number: `d 2`, `2 10³`, `2 ⅓`."""
    number = isinstance(factor, Amount) or (isinstance(factor, Power) and isinstance(factor.base, Amount))
    return number or (isinstance(before, Amount) and isinstance(factor, Fraction))


def is_bare(piece: Amount) -> bool:
    """True of a plain number: no unit, no sign, no power of ten."""
    return not piece.unit and not piece.digits.negative and piece.digits.power is None


def starts_with_minus(piece: Piece) -> bool:
    """True when the first thing printed is a minus sign."""
    match piece:
        case Sign(text=text):
            return text == "−"
        case Amount(digits=digits):
            return digits.negative
        case Row(items=items):
            return starts_with_minus(items[0])
        case Power(base=base):
            return starts_with_minus(base)
    return False
