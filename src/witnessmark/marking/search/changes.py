"""The grammar of changes: what people do otherwise at one node of a working, each with a weight of how plausible it is.

A change is a template over what stands below the node: `BELOW[0]`, `BELOW[1]` for its children, `SELF` for the node as
a whole. So the same text serves to work it in numbers and to write the changed formula. Weights are our assumption
(common practice, no source); `tests/review/test_planted_methods.py` shows what they are worth.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from witnessmark.maths.many import OF_MANY
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree

SELF = Name("§")
BELOW = (Name("§0"), Name("§1"))
LEFT, RIGHT = BELOW
ONE, TWO = Number("1"), Number("2")
PI = Name("pi")
FACTORS: tuple[tuple[Tree, float], ...] = (
    (TWO, 1.0), (Number("4"), 0.5), (Number("3"), 0.5), (Number("1.5"), 0.4), (PI, 0.3), (Number("8"), 0.15),
    (Number("6"), 0.1), (Number("12"), 0.1), (Number("16"), 0.1), (Number("60"), 0.1),
    (Binary("/", PI, Number("4")), 0.3), (Binary("*", TWO, PI), 0.2), (Binary("/", PI, TWO), 0.1),
    (Binary("/", Number("4"), Number("3")), 0.1),
)  # fmt: skip
NUMBERS = ("1", "2", "3", "4", "6", "8", "12", "16", "32", "64")
POWERS = ("1", "2", "3", "4")
OTHER_FUNCTIONS = {
    "sin": ("cos", "tan"), "cos": ("sin", "tan"), "tan": ("sin", "cos"), "asin": ("acos", "atan"),
    "acos": ("asin", "atan"), "atan": ("asin", "acos"), "exp": ("log",), "log": ("exp",), "min": ("max",),
    "max": ("min",), "round_up": ("round_down",), "round_down": ("round_up",),
}  # fmt: skip
NOT_TAKEN = {
    "sqrt": "the square root were not taken", "round_up": "nothing were rounded up",
    "round_down": "nothing were rounded down",
}  # fmt: skip
LONGEST_WORDS = 24


@dataclass(frozen=True, slots=True)
class Form:
    """A change at a node: the template, what was done in words that follow "as if", its weight. `whole` is True of one
    that takes the node as it is, changed below or not."""

    template: Tree
    done: str
    weight: float
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Context:
    """What may stand in for a name: those of one's own dimension, and all others."""

    dimensions: Mapping[str, Dimension]
    others: Sequence[str]


def forms_at(tree: Tree, words: str, context: Context, is_term: bool) -> tuple[Form, ...]:
    """Every change at a node, called so in words; `is_term` is True where a factor would not be one of the result."""
    found = [*_here(tree, words, context)]
    if is_term:
        found += _scaled(words)
    return tuple(found)


def _scaled(words: str) -> Iterator[Form]:
    """What is done to a term, an argument or the result as a whole."""
    for factor, weight in FACTORS:
        said = _said(factor)
        double = factor == TWO
        times = f"{words} were doubled" if double else f"{words} were multiplied by {said}"
        over = f"half of {words} were taken" if double else f"{words} were divided by {said}"
        yield Form(Binary("*", factor, SELF), times, weight, whole=True)
        yield Form(Binary("/", SELF, factor), over, weight, whole=True)
    yield Form(Binary("**", SELF, TWO), f"{words} were squared", 0.4, whole=True)
    yield Form(Call("sqrt", (SELF,)), f"the square root of {words} were taken", 0.4, whole=True)
    yield Form(Binary("/", ONE, SELF), f"{words} were turned upside down", 0.4, whole=True)
    for thousand in ("1000", "100"):
        yield Form(Binary("*", Number(thousand), SELF), f"{words} were {thousand} times too large", 0.1, whole=True)
        yield Form(Binary("/", SELF, Number(thousand)), f"{words} were {thousand} times too small", 0.1, whole=True)


def _said(factor: Tree) -> str:
    match factor:
        case Number(text=text):
            return text
        case Name(name=name):
            return name
        case Binary(op=op, left=left, right=right):
            return f"{_said(left)}{'/' if op == '/' else ' '}{_said(right)}"
    raise TypeError(f"not a factor: {factor!r}")


def _here(tree: Tree, words: str, context: Context) -> Iterator[Form]:
    match tree:
        case Number(text=text):
            yield from _of_number(text)
        case Name(name="pi"):
            yield from _of_pi()
        case Name(name=name):
            yield from _of_name(name, context)
        case Binary(op="*"):
            yield from _of_product(tree)
        case Binary(op="/"):
            yield from _of_ratio(tree)
        case Binary(op="+" | "-" as op, left=left, right=right):
            yield from _of_sum(op, left, right)
        case Binary(op="**", right=Number(text=text)):
            yield from _of_power(words, text)
        case Minus():
            yield Form(LEFT, "a minus sign were lost", 1.0)
        case Call(function=function, arguments=arguments):
            yield from _of_call(function, len(arguments))
            yield from _taken_out(function, arguments)


def _of_number(text: str) -> Iterator[Form]:
    for other in NUMBERS:
        if other != text:
            yield Form(Number(other), f"{other} stood in the place of the {text}", 0.3 if other == "1" else 0.2)


def _of_pi() -> Iterator[Form]:
    yield Form(ONE, "pi were left out", 1.0)
    for number, weight in (("2", 0.2), ("3", 0.3), ("4", 0.5)):
        yield Form(Number(number), f"{number} stood in the place of pi", weight)
    yield Form(Binary("**", PI, TWO), "pi were squared", 0.1)


def _of_name(name: str, context: Context) -> Iterator[Form]:
    here, own = Name(name), context.dimensions.get(name)
    yield Form(Binary("**", here, TWO), f"{name} were used twice", 0.3)
    yield Form(Call("sqrt", (here,)), f"the square root of {name} were taken", 0.15)
    if name == "g":
        yield Form(Number("10"), "g were taken as 10", 0.3)
    for other in context.others:
        if other != name:
            alike = own is not None and context.dimensions.get(other) == own
            yield Form(Name(other), f"{other} stood in the place of {name}", 0.6 if alike else 0.06)
            if alike and (own is None or not own.is_number):
                yield from _joined(here, Name(other))
    if own is not None and own.is_number:
        yield Form(Binary("-", here, ONE), f"{name} were taken as one less", 0.4)
        yield Form(Binary("+", here, ONE), f"{name} were taken as one more", 0.4)
        yield Form(Binary("-", ONE, here), f"1 - {name} stood in the place of {name}", 0.4)


def _joined(here: Name, other: Name) -> Iterator[Form]:
    """A name joined with another of its dimension, which the working does not do."""
    a, b = here.name, other.name
    yield Form(Binary("+", here, other), f"{b} were added to {a}", 0.25)
    yield Form(Binary("-", here, other), f"{b} were taken from {a}", 0.25)
    yield Form(Binary("-", here, Binary("*", TWO, other)), f"twice {b} were taken from {a}", 0.12)
    yield Form(Binary("+", here, Binary("*", TWO, other)), f"twice {b} were added to {a}", 0.12)
    yield Form(Binary("+", here, Binary("/", other, TWO)), f"half of {b} were added to {a}", 0.08)
    yield Form(Binary("-", here, Binary("/", other, TWO)), f"half of {b} were taken from {a}", 0.08)
    yield Form(Binary("/", Binary("+", here, other), TWO), f"the mean of {a} and {b} were taken for {a}", 0.25)


def _of_product(tree: Binary) -> Iterator[Form]:
    left, right = words_of(tree.left), words_of(tree.right)
    yield Form(LEFT, f"{right} were left out", 1.0)
    yield Form(RIGHT, f"{left} were left out", 1.0)
    yield Form(Binary("/", LEFT, RIGHT), f"{right} were divided by instead of multiplied by", 0.7)
    yield Form(Binary("/", RIGHT, LEFT), f"{left} were divided by instead of multiplied by", 0.6)
    yield Form(Binary("+", LEFT, RIGHT), "a product were taken as a sum", 0.2)
    if isinstance(tree.left, Binary) and tree.left.op in "+-":
        yield _without_brackets(tree.left.op, tree.left.left, Binary("*", tree.left.right, RIGHT))
    if isinstance(tree.right, Binary) and tree.right.op in "+-":
        yield _without_brackets(tree.right.op, Binary("*", LEFT, tree.right.left), tree.right.right)


def _of_ratio(tree: Binary) -> Iterator[Form]:
    left, right = words_of(tree.left), words_of(tree.right)
    yield Form(Binary("/", RIGHT, LEFT), "the ratio were upside down", 1.0)
    yield Form(Binary("*", LEFT, RIGHT), f"{right} were multiplied by instead of divided by", 0.7)
    yield Form(LEFT, f"{right} were left out", 1.0)
    yield Form(RIGHT, f"only {right} were taken", 0.2)
    yield Form(Binary("/", ONE, RIGHT), f"{left} were left out", 0.5)
    yield Form(Binary("/", Binary("-", LEFT, RIGHT), RIGHT), f"{right} were taken from {left} first", 0.2)
    yield Form(Binary("/", LEFT, Binary("+", LEFT, RIGHT)), f"{left} were added to {right} below the line", 0.2)
    if isinstance(tree.left, Binary) and tree.left.op in "+-":
        yield _without_brackets(tree.left.op, tree.left.left, Binary("/", tree.left.right, RIGHT))
    if isinstance(tree.right, Binary) and tree.right.op in "+-":
        yield _without_brackets(tree.right.op, Binary("/", LEFT, tree.right.left), tree.right.right)


def _without_brackets(op: str, left: Tree, right: Tree) -> Form:
    """A factor or divisor that reaches the nearest term of a sum alone."""
    return Form(Binary(op, left, right), "the brackets round a sum were left out", 0.4)


def _of_sum(op: str, left: Tree, right: Tree) -> Iterator[Form]:
    other, word = ("-", "a sum were taken as a difference") if op == "+" else ("+", "a difference were taken as a sum")
    yield Form(Binary(other, LEFT, RIGHT), word, 1.0)
    if op == "-":
        yield Form(Binary("-", RIGHT, LEFT), "a difference were taken the other way round", 0.4)
    yield Form(LEFT, f"{words_of(right)} were left out", 1.0)
    yield Form(RIGHT, f"{words_of(left)} were left out", 1.0)
    yield Form(
        Binary("/", Binary("+", LEFT, RIGHT), TWO), f"the mean of two terms were taken for their {_NOUN[op]}", 0.5
    )
    yield Form(Binary("*", LEFT, RIGHT), f"the {_NOUN[op]} of two terms were taken as their product", 0.3)
    yield Form(Binary("/", LEFT, RIGHT), f"the {_NOUN[op]} of two terms were taken as their ratio", 0.2)
    squares = [Binary("**", side, TWO) for side in BELOW]
    yield Form(Call("sqrt", (Binary(op, *squares),)), f"the root of the {_NOUN[op]} of squares were taken", 0.15)
    for n, side in enumerate(BELOW):
        for times, said in ((TWO, "twice"), (Number("3"), "three times"), (Number("1.5"), "1.5 times")):
            pair = [Binary("*", times, s) if s is side else s for s in BELOW]
            yield Form(Binary(op, *pair), f"{words_of((left, right)[n])} were taken {said}", 0.2)
    yield from _power_of_both(op, left, right)


def _power_of_both(op: str, left: Tree, right: Tree) -> Iterator[Form]:
    match left, right:
        case Binary(op="**", left=a, right=power), Binary(op="**", left=b, right=other) if power == other:
            yield Form(Binary("**", Binary(op, a, b), power), f"the power were taken of the {_NOUN[op]}", 0.6)


_NOUN = {"+": "sum", "-": "difference"}


def _of_power(words: str, text: str) -> Iterator[Form]:
    yield Form(LEFT, f"{words} lost its power", 0.9)
    for other in POWERS:
        if other not in (text, "1"):
            yield Form(Binary("**", LEFT, Number(other)), f"{words} had the power {other}", 0.4)
    yield Form(Binary("*", Number(text), LEFT), f"the power of {words} were taken as a factor", 0.5)


def _of_call(function: str, arguments: int) -> Iterator[Form]:
    if function in OF_MANY:
        return
    if arguments != 1:
        yield Form(LEFT, f"{function} were left out", 0.5)
        yield Form(RIGHT, f"{function} were left out", 0.5)
        return
    yield Form(LEFT, NOT_TAKEN.get(function, f"{function} were not taken"), 0.9)
    for other in OTHER_FUNCTIONS.get(function, ()):
        yield Form(Call(other, (LEFT,)), f"{other} were taken for {function}", 0.8)
    if function == "exp":
        yield Form(Call("exp", (Minus(LEFT),)), "the sign of the exponent were lost", 0.6)
        yield Form(Binary("+", ONE, LEFT), "1 and the exponent were added for exp", 0.4)
        yield Form(Binary("**", Number("10"), LEFT), "a power of ten were taken for exp", 0.3)
    if function == "log":
        ten = Call("log", (Number("10"),))
        yield Form(Binary("/", Call("log", (LEFT,)), ten), "the logarithm to ten were taken", 0.7)


def _taken_out(function: str, arguments: Sequence[Tree]) -> Iterator[Form]:
    """A factor of the argument that stands before the function instead."""
    match arguments:
        case (Binary(op="*", left=left, right=right),):
            yield Form(Binary("*", left, Call(function, (right,))), f"{words_of(left)} stood before {function}", 0.4)
            yield Form(Binary("*", right, Call(function, (left,))), f"{words_of(right)} stood before {function}", 0.4)
        case (Binary(op="/", left=left, right=right),):
            yield Form(Binary("/", Call(function, (left,)), right), f"{words_of(right)} stood below {function}", 0.3)


def words_of(tree: Tree) -> str:
    """A part of a working in words."""
    match tree:
        case Name(name=name):
            return name
        case Number(text=text):
            return f"the {text}"
        case Binary(op="**", left=Name(name=name)):
            return f"the power of {name}"
        case Call(function=function, arguments=(Name(name=name),)):
            return f"{function}({name})"
    text = plain(tree)
    return text if len(text) <= LONGEST_WORDS else "a factor"


def together(names: Sequence[str], context: Context) -> Iterator[tuple[dict[str, Tree], str, float]]:
    """What is done to a name wherever it stands, or to two names at once: the trees that take their places."""
    for name in names:
        for other in context.others:
            if other != name and context.dimensions.get(other) == context.dimensions.get(name):
                yield {name: Name(other)}, f"{other} stood in the place of {name} throughout", 0.6
        if not context.dimensions[name].is_number:
            yield {name: Binary("/", Name(name), TWO)}, f"half of {name} were taken throughout", 0.8
            yield {name: Binary("*", TWO, Name(name))}, f"{name} were doubled throughout", 0.8
    for n, name in enumerate(names):
        for other in names[n + 1 :]:
            alike = context.dimensions[name] == context.dimensions[other]
            number = context.dimensions[name].is_number
            swapped: dict[str, Tree] = {name: Name(other), other: Name(name)}
            yield (
                swapped,
                f"{name} and {other} stood in each other's place",
                0.1 if not alike else 0.3 if number else 1.0,
            )
