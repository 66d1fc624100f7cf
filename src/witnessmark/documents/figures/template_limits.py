"""The part of jinja2 that figures may use, and how much of it: a template of somebody else's bank can neither call
methods, nor loop for ever, nor build text or numbers without end."""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from jinja2 import StrictUndefined, nodes
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.visitor import NodeTransformer

MOST_ROUNDS = 20_000  # of all loops of one drawing
LONGEST_TEXT = 20_000  # characters
LARGEST_NUMBER = 10**30
LARGEST_TEMPLATE = 200_000  # bytes
FILTERS = ("int", "float", "round", "abs", "length", "escape", "e")
COUNTED, JOINED = "counted_rounds", "joined_texts"
REFUSED = (
    nodes.Macro,
    nodes.CallBlock,
    nodes.FilterBlock,
    nodes.Include,
    nodes.Import,
    nodes.FromImport,
    nodes.Extends,
)


class TooMuchDrawn(ValueError):
    """Raised when a template does more than a figure needs."""


class _Calls(Context):
    """Calls what a template may use as it is: nothing of a figure asks jinja2 for its context."""

    def call(self, called: Callable[..., Any], *values: Any, **named: Any) -> Any:
        """What it gives."""
        named.pop("_loop_vars", None)
        named.pop("_block_vars", None)
        return called(*values, **named)


class FigureEnvironment(ImmutableSandboxedEnvironment):
    """jinja2 without macros, methods and all but a few filters, where loops, texts and numbers have an end.

    It escapes nothing, since what a template prints is thrown away: a figure is what its calls draw.
    """

    context_class = _Calls
    intercepted_binops = frozenset({"+", "*", "**", "%"})

    def __init__(self) -> None:
        super().__init__(undefined=StrictUndefined)
        self.filters = {name: self.filters[name] for name in FILTERS}
        self.globals = {"range": self.globals["range"], JOINED: joined}

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """True of what jinja2 itself offers to a loop (`loop.last`): numbers and texts have no method here."""
        return type(obj).__module__.startswith("jinja2") and super().is_safe_attribute(obj, attr, value)

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """The result of an operator, which is never larger than a figure needs."""
        if operator == "%" and isinstance(left, str):
            raise TooMuchDrawn("% stands between numbers; join texts with ~")
        if operator == "*" and not all(isinstance(side, int | float) for side in (left, right)):
            raise TooMuchDrawn("* stands between numbers")
        if operator == "**":
            left, right = float(left), float(right)
        return _bounded(super().call_binop(context, operator, left, right))

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        tree = super()._parse(source, name, filename)
        for refused in tree.find_all(REFUSED):
            raise TooMuchDrawn(f"line {refused.lineno} has a statement that figures do not use")
        for text in tree.find_all(nodes.TemplateData):
            if "<" in text.data or "&" in text.data:
                raise TooMuchDrawn(f"line {text.lineno} has markup; figures are drawn by calls alone")
        made: nodes.Template = _Limiter().visit(tree)
        return made


class _Limiter(NodeTransformer):
    """Lets every loop be counted, and every joining of texts measured."""

    def visit_For(self, node: nodes.For) -> nodes.For:  # noqa: N802 - the name that jinja2 looks for
        self.generic_visit(node)
        if node.recursive:
            raise TooMuchDrawn(f"line {node.lineno} has a loop that calls itself")
        node.iter = _called(COUNTED, [node.iter], node.lineno)
        return node

    def visit_Concat(self, node: nodes.Concat) -> nodes.Call:  # noqa: N802
        self.generic_visit(node)
        return _called(JOINED, node.nodes, node.lineno)


def _called(name: str, arguments: list[Any], line: int) -> nodes.Call:
    return nodes.Call(nodes.Name(name, "load", lineno=line), arguments, [], None, None, lineno=line)


class Rounds:
    """Counts the rounds of all loops of one drawing."""

    def __init__(self) -> None:
        self.left = MOST_ROUNDS

    def __call__(self, items: Iterable[Any]) -> Iterator[Any]:
        """The same items; raises TooMuchDrawn after too many."""
        for item in items:
            self.left -= 1
            if self.left < 0:
                raise TooMuchDrawn(f"a figure loops at most {MOST_ROUNDS} times")
            yield item


def joined(*pieces: Any) -> str:
    """The pieces as one text, as `~` gives it."""
    text: str = _bounded("".join(str(piece) for piece in pieces))
    return text


def _bounded(value: Any) -> Any:
    if isinstance(value, str) and len(value) > LONGEST_TEXT:
        raise TooMuchDrawn(f"a text of a figure has at most {LONGEST_TEXT} characters")
    if isinstance(value, int) and abs(value) > LARGEST_NUMBER:
        raise TooMuchDrawn(f"a number of a figure is at most {LARGEST_NUMBER:.0e}")
    return value
