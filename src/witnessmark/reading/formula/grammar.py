"""The grammar of typed formulae: tokens to a tree, under stated habits of writing.

Where people write one thing and mean two (`4F/πσ`, `√2gh`, `log`), the parser follows the habit that it was given and
notes that the habit mattered, so that the caller can read once more with the other one.
"""

from collections.abc import Callable
from decimal import Decimal

from witnessmark.maths.syntax import FUNCTIONS, Binary, Call, Minus, Name, Number, Tree, walk
from witnessmark.reading.formula.cursor import Cursor, number_of
from witnessmark.reading.formula.tokens import Stopped, Token

MOST_POWER = 30
LARGEST_RAISED = 6
TWO_ARGUMENTS = frozenset(name for name, count in FUNCTIONS.items() if count == 2)
INVERSES = {"sin": "asin", "cos": "acos", "tan": "atan"}
UNDER_ONE = {"cot": "tan", "sec": "cos", "cosec": "sin"}
ROOTS = ("sqrt", "cbrt")
ONE, TEN, HALF_TURN = Number("1"), Number("10"), Number("180")


class Grammar(Cursor):
    """Recursive descent over the tokens; every method takes what it names and leaves the cursor behind it."""

    __slots__ = ()

    def formula(self) -> Tree:
        """The tree of all tokens; Stopped where it cannot go on."""
        tree = self.sum()
        if self.now.kind != "end":
            raise Stopped(self.now.at, _unexpected(self.now))
        return tree

    def sum(self) -> Tree:
        """Terms with + and - between them."""
        self.deeper()
        tree = self.term(self.taken("-", "+"))
        while op := self.taken("+", "-"):
            tree = self.joined(op, tree, self.term(self.taken("-") if self.now.gap else ""))
        self.depth -= 1
        return tree

    def signed(self, inner: Callable[[], Tree]) -> Tree:
        """What stands behind a sign, with one sign change of its own, as in 2*-3."""
        return self.turned(self.taken("-", "+"), inner())

    def term(self, sign: str = "") -> Tree:
        """Factors, side by side or with signs of multiplication and division; a minus in front takes the first."""
        tree = self.side_by_side(self.turned(sign, self.factor()))
        while op := self.taken("*", "/"):
            tree = self.over(tree) if op == "/" else self.joined("*", tree, self.signed(self.factor))
            tree = self.side_by_side(tree)
        return tree

    def side_by_side(self, tree: Tree, beyond_functions: bool = True) -> Tree:
        """The tree times all factors that follow without a sign."""
        while self.starts_factor() and (beyond_functions or self.now.kind != "function"):
            tree = self.joined("*", tree, self.factor())
        return tree

    def over(self, tree: Tree) -> Tree:
        """The tree divided by what follows the slash, as the habit says."""
        first = self.signed(self.factor)
        if not self.starts_factor():
            return self.joined("/", tree, first)
        self.met.add("slash")
        number_over_number = isinstance(first, Number) and _is_number(tree)
        if self.habits.slash == "in order" or (self.habits.slash == "fraction" and number_over_number):
            return self.joined("/", tree, first)
        return self.joined("/", tree, self.side_by_side(first))

    def starts_factor(self) -> bool:
        """True when a factor begins here without any sign before it."""
        if self.now.kind == "number":
            raise Stopped(self.now.at, f"a sign was expected before “{self.now.value}”")
        return (
            self.now.kind in ("name", "function", "euler") or self.is_sign("(") or (self.is_sign("|") and not self.bars)
        )

    def factor(self) -> Tree:
        """One factor with its degree sign or power."""
        base = self.primary()
        if self.taken("°"):
            base = self.in_degrees(base)
        if not self.taken("^"):
            return self.figure_behind(base)
        tree = self.joined("**", base, self.exponent())
        if self.is_sign("^"):
            raise Stopped(self.now.at, "one power stands on another; use brackets")
        return self.figure_behind(tree) if self.now.kind != "number" else tree

    def in_degrees(self, angle: Tree) -> Tree:
        """An angle in degrees as radians."""
        return self.joined("/", self.joined("*", angle, Name("pi")), HALF_TURN)

    def figure_behind(self, base: Tree) -> Tree:
        """A figure straight behind a letter or bracket: a power that lost its raise, or a factor."""
        figure = self.now.value
        if self.now.kind != "number" or isinstance(base, Number) or not figure.isdigit():
            return base
        self.met.add("figure")
        self.at += 1
        raised = self.habits.figure == "raised" and int(figure) <= LARGEST_RAISED
        return self.joined("**" if raised else "*", base, number_of(figure))

    def exponent(self) -> Tree:
        """A power: a number, a letter or a bracket, with its sign."""
        sign, start = self.taken("-", "+"), self.now.at
        tree = self.primary()
        if tree == ONE and self.is_sign("/") and self.ahead().kind == "number" and not self.ahead().gap:
            self.met.add("power")
            if self.habits.power == "fraction":
                self.at += 2
                tree = self.joined("/", tree, number_of(self.tokens[self.at - 1].value))
        if any(isinstance(t, Number) and abs(Decimal(t.text)) > MOST_POWER for t in walk(tree)):
            raise Stopped(start, f"a power of at most {MOST_POWER} was expected")
        return self.turned(sign, tree)

    def primary(self) -> Tree:
        """A number, a letter, a bracket, a pair of bars or a function."""
        token = self.now
        if token.kind == "number":
            whole = self.number()
            return self.joined("+", whole, self.primary()) if self.taken("&") else whole
        self.at += token.kind != "end"
        match token.kind, token.value:
            case "name", name:
                return self.built(Name(name))
            case "function", name:
                return self.called(name)
            case "euler", _ if self.taken("^"):
                return self.built(Call("exp", (self.exponent(),)))
            case "sign", "(":
                return self.bracket()
            case "sign", "|":
                return self.between_bars(token)
        raise Stopped(token.at, _unexpected(token))

    def bracket(self) -> Tree:
        """What stands in a bracket that was opened; the closing one may be missing at the very end."""
        outside = self.separating, self.bars
        self.separating, self.bars = False, 0
        tree = self.sum()
        self.close()
        self.separating, self.bars = outside
        return tree

    def close(self) -> None:
        """The closing bracket."""
        if self.taken(")"):
            return
        if self.now.kind != "end":
            raise Stopped(self.now.at, _unexpected(self.now))
        sentence = "a bracket was open and was closed at the end"
        self.repairs += [sentence] if sentence not in self.repairs else []

    def between_bars(self, opened: Token) -> Tree:
        """The size of what stands between two bars."""
        self.bars += 1
        tree = self.sum()
        if not self.taken("|"):
            raise Stopped(opened.at, "a second “|” was expected for this one")
        self.bars -= 1
        return self.built(Call("abs", (tree,)))

    def called(self, name: str) -> Tree:
        """A function whose name was taken, with its argument."""
        self.deeper()
        if name in TWO_ARGUMENTS:
            tree = self.built(Call(name, self.two_arguments()))
        elif name == "frac":
            tree = self.joined("/", self.opened(), self.opened())
        else:
            tree = self.of_one(name)
        self.depth -= 1
        return tree

    def of_one(self, name: str) -> Tree:
        """A function of one argument; a power may stand on its name, and -1 there means the inverse."""
        power = self.exponent() if self.taken("^") else None
        if power == Minus(ONE) and name in INVERSES:
            name, power = INVERSES[name], None
        bracketed = self.taken("(")
        argument = self.bracket() if bracketed else self.unbracketed(name)
        if name in (*INVERSES, *UNDER_ONE) and _is_number(argument, pi_too=False):
            self.met.add("angle")
            argument = self.in_degrees(argument) if self.habits.angle == "degrees" else argument
        tree = self.applied(name, argument)
        return self.joined("**", tree, power) if power else tree

    def applied(self, name: str, argument: Tree) -> Tree:
        """The function in the terms of our own trees, which know no cotangent and no logarithm of ten."""
        if name in UNDER_ONE:
            return self.joined("/", ONE, self.built(Call(UNDER_ONE[name], (argument,))))
        if name == "cbrt":
            return self.joined("**", argument, Binary("/", ONE, Number("3")))
        if name == "log":
            self.met.add("log")
        natural = self.built(Call("log" if name in ("ln", "log10") else name, (argument,)))
        of_ten = name == "log10" or (name == "log" and self.habits.log == "of ten")
        return self.joined("/", natural, Call("log", (TEN,))) if of_ten else natural

    def opened(self) -> Tree:
        """A bracket that has to follow."""
        if not self.taken("("):
            raise Stopped(self.now.at, "a bracket was expected here")
        return self.bracket()

    def two_arguments(self) -> tuple[Tree, Tree]:
        """Two arguments in a bracket, with a comma or a semicolon between them."""
        if not self.taken("("):
            raise Stopped(self.now.at, "a bracket was expected here")
        outside, self.separating = self.separating, True
        first = self.sum()
        if not self.taken(",", ";"):
            raise Stopped(self.now.at, "a comma and a second argument were expected here")
        second = self.sum()
        self.close()
        self.separating = outside
        return first, second

    def unbracketed(self, name: str) -> Tree:
        """An argument without brackets, as far as the habit lets it reach."""
        tree, root, reach = self.factor(), name in ROOTS, self.habits.reach
        if isinstance(tree, Number) and not root and self.now.kind == "name":
            tree = self.joined("*", tree, self.factor())
        if self._could_reach(tree, root):
            self.met.add("reach")
        if reach != "near":
            tree = self.side_by_side(tree, beyond_functions=False)
        while reach in ("term", "sum") and self.taken("/"):
            tree = self.side_by_side(self.over(tree), beyond_functions=False)
        while reach == "sum" and root and (op := self.taken("+", "-")):
            tree = self.joined(op, tree, self.term())
        return tree

    def _could_reach(self, tree: Tree, root: bool) -> bool:
        """True when the argument may well go on behind its first factor."""
        if self.starts_factor():
            return self.now.kind != "function"
        if isinstance(tree, Number):
            return False
        tight = not self.now.gap or (isinstance(tree, Binary) and tree.op == "**")
        return self.is_sign("/") or (root and tight and self.is_sign("+", "-"))


def _is_number(tree: Tree, pi_too: bool = True) -> bool:
    names = [t.name for t in walk(tree) if isinstance(t, Name)]
    return not names or (pi_too and set(names) == {"pi"})


def _unexpected(token: Token) -> str:
    if token.kind == "end":
        return "the formula breaks off here"
    if token.value == ")":
        return "this closing bracket has no opening one"
    return f"“{token.value}” was not expected here"
