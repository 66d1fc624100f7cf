"""The names of one question while it is read: who owns each, its dimension, and expressions over them."""

import keyword
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from witnessmark.files.bank.cells import ROW, written_out
from witnessmark.files.shapes.placed import Placed
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.dimensions import DimensionError, described, dimension_of
from witnessmark.maths.many import SLOPE, takes
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.printing.symbols import GREEK
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.syntax import (
    WORDS_OF_FORMULAS,
    Binary,
    Call,
    Comparison,
    Minus,
    Name,
    Tree,
    is_call_of_many,
    is_name,
    names_alone,
    names_in,
    parse,
    substituted,
    walk,
)
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.table import cell_name
from witnessmark.words.errors import FormulaError
from witnessmark.words.nearest import near, near_or_all

NAME_FORM = "a name of letters a to z, digits and _, starting with a letter"
PLACEHOLDER = re.compile(r"\{([^{}]*)\}|[{}]")
Names = Mapping[str, Dimension]


def constants() -> dict[str, Dimension]:
    """The dimensions of the named constants."""
    return {name: unit(constant.unit).dimension for name, constant in CONSTANTS.items()}


NAMES_OF_A_QUESTION = "a given, a table cell, an earlier line of this part, a carried result or a constant"


@dataclass(slots=True)
class Scope:
    """`base` are names that every expression may use; `results` earlier parts' names; `broken` names that stand in the
    file but could not be read (they raise no further problems); `unprinted` givens are read from the figure,
    and so is which balloon is which in the parts of `balloons`; `names_are` says what a name may be.
    `columns` are those of the table, each with how many rows it has; `hidden` lies behind its readings, and only the
    table and `keep` may name it; `row` is the one that is read, 0 where an expression is of no row."""

    placed: Placed
    base: dict[str, Dimension] = field(default_factory=constants)
    units: dict[str, str] = field(default_factory=dict)
    words: set[str] = field(default_factory=set)
    owners: dict[str, str] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    results: dict[str, Dimension] = field(default_factory=dict)
    part_of: dict[str, str] = field(default_factory=dict)
    line_dimensions: dict[str, Dimension] = field(default_factory=dict)
    formulas: dict[str, Tree] = field(default_factory=dict)
    used: dict[str, Path] = field(default_factory=dict)
    issued: bool = False
    unprinted: set[str] = field(default_factory=set)
    balloons: list[str] = field(default_factory=list)
    names_are: str = NAMES_OF_A_QUESTION
    columns: dict[str, int] = field(default_factory=dict)
    hidden: dict[str, Dimension] = field(default_factory=dict)
    row: int = 0

    def claim(self, path: Path, name: str, what: str, at_key: bool = True) -> bool:
        """Gives a name to its owner; a problem where it is no name, reserved, or taken."""
        add = self.placed.add_key if at_key else self.placed.add
        if keyword.iskeyword(name):
            found = f"'{name}', a word that formulas keep for themselves"
            add("name-taken", path, "a name that is not taken", found, f"type {name}_ and add symbol: {name}")
        elif not is_name(name):
            add("not-a-name", path, NAME_FORM, f"'{name}'", _spelled(name))
        elif name in WORDS_OF_FORMULAS or name in CONSTANTS:
            kind = "function" if name in WORDS_OF_FORMULAS else "constant"
            add("name-taken", path, "a name that is not taken", f"'{name}', which is a {kind}", f"type {name}_1, say")
        elif name in self.owners:
            found = f"'{name}' as {what}, already {self.owners[name]}"
            add("name-twice", path, "each name once in a question", found, "rename one of them")
        else:
            self.owners[name] = what
            return True
        return False

    def expression(self, path: Path, text: str, names: Names, own: Iterable[str] = ()) -> Tree | None:
        """The tree of an expression over these names (and `own`, which are known by other means), or problems."""
        try:
            parsed = parse(text)
        except FormulaError as error:
            place = self.placed.text.place_inside(path, text, error.column - 1)
            self.placed.add_at("unreadable-formula", place, error.message, f"'{text}'", error.remedy)
            return None
        tree = self._written_out(path, parsed)
        if tree is None:
            return None
        unknown = [n for n in sorted(names_in(tree)) if n not in names and n not in own and not self.is_broken(n)]
        for name in self._one_of_each_part(unknown):
            self._unknown(path, name, names)
        for name in names_in(tree):
            self.used.setdefault(name, path)
        return None if unknown or self._too_few(path, tree) else tree

    def _one_of_each_part(self, names: Sequence[str]) -> list[str]:
        """Names of which only the first cell of a column that is asked is told."""
        first = {self.part_of.get(name, name): name for name in reversed(names)}
        return [name for name in names if name in first.values()]

    def _written_out(self, path: Path, tree: Tree) -> Tree | None:
        """The tree with the cells of the table in the place of its columns; None with a problem where a column stands
        where no row is meant."""
        alone = sorted(names_alone(tree) & self.columns.keys()) if not self.row else []
        for name in alone:
            expected = "a column of the table inside mean, median, spread or slope, or in a formula for each row"
            place = self.placed.text.place_inside(path, name)
            self.placed.add_at("column-alone", place, expected, f"'{name}' alone", f"one cell is {cell_name(name, 1)}")
        return None if alone else written_out(tree, self.columns, self.row, ROW not in self.owners)

    def _too_few(self, path: Path, tree: Tree) -> bool:
        """Whether a function of many has too few values, with a problem; not where one of them could not be read."""
        short = [one for one in walk(tree) if is_call_of_many(one) and not takes(one.function, len(one.arguments))]
        short = [call for call in short if not any(map(self.is_broken, names_in(call)))]
        for call in short[:1]:
            place = self.placed.text.place_inside(path, call.function)
            expected = "as many x as y in it, two at least" if call.function == SLOPE else "two values at least in it"
            told = f"{len(call.arguments)} in {call.function}"
            self.placed.add_at("too-few-values", place, expected, told, "name a column of the table")
        return bool(short)

    def is_broken(self, name: str) -> bool:
        """True of a name whose own definition has a problem already."""
        return name in self.broken or name.partition(".")[0] in self.broken

    def _unknown(self, path: Path, name: str, names: Names) -> None:
        place = self.placed.text.place_inside(path, name)
        if name in self.part_of:
            letter = self.part_of[name]
            found = f"'{name}', the result of part {letter}"
            self.placed.add_at("not-carried", place, "results that the part carries", found, f"add carries: [{letter}]")
            return
        row, _, cell = name.partition(".")
        cells = [n for n in names if n.startswith(f"{row}.")]
        remedy = near(name, self.broken) or near_or_all(name, cells if cell and cells else names)
        found = f"'{name}', which is {self.owners[name]}" if name in self.owners else f"'{name}'"
        self.placed.add_at("unknown-name", place, self.names_are, found, remedy)

    def dimension(self, path: Path, tree: Tree, names: Names) -> Dimension | None:
        """The dimension of a tree, or a problem; None also where a broken name hides it."""
        if any(name not in names or self.is_broken(name) for name in names_in(tree)):
            return None
        try:
            return dimension_of(tree, names)
        except DimensionError as error:
            place = self.placed.text.place_inside(path, plain(error.tree))
            limit = path[0] == "keep" and isinstance(error.tree, Comparison)
            remedy = "a unit may stand behind a number on the right, as in t < 8 mm" if limit else ""
            self.placed.add_at("unlike-dimensions", place, error.message, _sides(error.tree, names), remedy)
            return None

    def has_unit(self, path: Path, tree: Tree, names: Names, unit_name: str, what: str) -> bool:
        """True where a tree has the dimension of its unit; else a problem."""
        found = self.dimension(path, tree, names)
        wanted = unit(unit_name).dimension
        if found is None:
            return False
        if found == wanted and self._is_difference(tree, unit_name):
            expected = f"a unit of differences for {what}, since {unit_name} has a zero of its own"
            self.placed.add(
                "difference-of-temperatures", path, expected, f"'{plain(tree)}'", "type unit: K, or delta_degC"
            )
            return False
        if found != wanted:
            shown = f"{what} in {unit_name}, {described(wanted)}" if unit_name else f"{what} as a pure number"
            self.placed.add("wrong-dimension", path, shown, f"'{plain(tree)}', {described(found)}")
        return found == wanted

    def _is_difference(self, tree: Tree, unit_name: str) -> bool:
        """True of a difference of two temperatures (`T_2 - T_1`) in a unit whose zero is not that of kelvin."""
        return (
            not self.issued and bool(unit(unit_name).offset) and self._zeros_in(substituted(tree, self.formulas)) == 0
        )

    def _zeros_in(self, tree: Tree) -> float | None:
        """How often the zero of a temperature scale goes into a value: 1 for a temperature, 0 for a difference of two;
        None for what is neither."""
        match tree:
            case Name(name=name) if self.units.get(name):
                return 1.0 if unit(self.units[name]).offset else None
            case Minus(of=of) | Call(function="abs", arguments=(of,)):
                zeros = self._zeros_in(of)
                return None if zeros is None else -zeros
            case Binary(op="+" | "-" as op, left=left, right=right):
                first, second = self._zeros_in(left), self._zeros_in(right)
                return None if first is None or second is None else first + (second if op == "+" else -second)
        return None

    def placeholders(self, path: Path, text: str) -> None:
        """A problem for every {name} of a text that names nothing the student is given."""
        for match in PLACEHOLDER.finditer(text):
            name = match[1]
            if name in self.unprinted:
                place = self.placed.text.place_inside(path, match[0], skip=text[: match.start()].count(match[0]))
                found = f"{match[0]}, which is read from the figure"
                self.placed.add_at(
                    "in-figure", place, "the name of a given that is printed", found, "leave it out of the text"
                )
                continue
            if name is not None and (name in self.units or name in self.words or self.is_broken(name)):
                self.used.setdefault(name, path)
                continue
            skip = text[: match.start()].count(match[0])
            place = self.placed.text.place_inside(path, match[0], skip=skip)
            known = {*self.units, *self.words}
            hint = _hint_of_braces(name, known)
            if name and not hint:
                hint = f"known here: {', '.join(sorted(known))}" if known else "none is known here"
            self.placed.add_at("unknown-placeholder", place, "the name of a given or a table cell", match[0], hint)


def _hint_of_braces(name: str | None, known: Iterable[str]) -> str:
    if not name:
        return "a brace stands only round the name of a given"
    if "," in name:
        each = ", ".join(f"{{{part.strip()}}}" for part in name.split(",") if part.strip())
        return f"each name has braces of its own; type {each}"
    return near(name, known)


def _sides(tree: Tree, names: Names) -> str:
    match tree:
        case Binary(left=left, right=right) | Comparison(left=left, right=right) | Call(arguments=(left, right)):
            sides = [left, right]
        case Call(arguments=(of,)):
            sides = [of]
        case _:
            sides = [tree]
    told = [f"{plain(side)} is {described(dimension_of(side, names))}" for side in sides]
    return f"{plain(tree)}, where {' and '.join(told)}"


def _spelled(name: str) -> str:
    """What to type for a name with Greek letters, which are printed for their names in our own."""
    plain = {letter: spelled for spelled, letter in GREEK.items() if is_name(spelled)}
    latin = "".join(plain.get(sign, sign) for sign in name)
    return f"type {latin}; it is printed as {name}" if latin != name and is_name(latin) else ""
