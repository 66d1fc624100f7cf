"""What the finds of a question share: lines, carried results, slips and marks, checked against the names known."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from witnessmark.files.bank.scope import Names, Scope
from witnessmark.files.shapes.shapes import LineShape
from witnessmark.files.shapes.slip_shapes import SlipShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import Dimension, read_author_quantity, unit
from witnessmark.maths.syntax import Comparison, Tree, names_in, substituted
from witnessmark.questions.model.kinds import result_names
from witnessmark.questions.model.mark_steps import is_in_steps, keeps_text, may_keep, steps_text
from witnessmark.questions.model.parts import Line, Slip
from witnessmark.questions.model.question import Table
from witnessmark.questions.model.table import TableColumn
from witnessmark.words.errors import UnitError
from witnessmark.words.nearest import near, near_or_all

LONGEST_AMOUNT = 40


@dataclass(frozen=True, slots=True)
class Right:
    """What the slips of a find go wrong from: its marks, its lines, its answer where that could be read, and the names
    by which a slip calls that answer."""

    marks: Decimal
    answer: Tree | None
    lines: tuple[Line, ...] = ()
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Tables:
    """The tables of the bank by key, and those that have problems of their own, which raise no further ones."""

    by_key: Mapping[str, Table]
    broken: Collection[str] = ()


NO_TABLES = Tables({})


def stub_of(key: str) -> str:
    """A misconception on one line, ready to paste and to fill in."""
    return f'{key}: {{believes: "...", shows: "...", say: "...", demonstrate: "..."}}'


def at_least_none(marks: Decimal) -> Decimal:
    """Marks that a line or slip can have: none in the place of less, which is told as a problem and makes no part."""
    return max(marks, Decimal(0))


class WorkingReader:
    """Reads the expressions of one question's finds in order; `quantities` are the letters of the numbers so far.

    `rows` are those of the table (0: there is none), `column_of` the letter of each cell that is asked, by its key.
    `letters_are_free`: no given may have the letter of a part, as it may in a question that went out before this rule.
    """

    found_before = 0

    def __init__(
        self,
        scope: Scope,
        misconceptions: Collection[str] | None,
        letters_are_free: bool = True,
        tables: Tables = NO_TABLES,
        rows: int = 0,
    ) -> None:
        self.scope, self.placed, self.tables = scope, scope.placed, tables
        self.misconceptions, self.letters_are_free = misconceptions, letters_are_free
        self.unknown: set[str] = set()
        self.quantities: list[str] = []
        self.key_of: dict[str, str] = {}
        self.column_of: dict[str, str] = {}
        self.rows = rows
        self.asked_columns: list[TableColumn] = []

    @property
    def has_problems(self) -> bool:
        """True where the find that is being read has problems, so that no part can be made of it."""
        return len(self.placed.problems) > self.found_before

    def lines(
        self, shapes: Mapping[str, LineShape], path: Path, key: str, names: dict[str, Dimension]
    ) -> tuple[Line, ...]:
        """The lines in order; each adds its name to `names`."""
        lines = []
        for name, shape in shapes.items():
            at: Path = (*path, "lines", name)
            claimed = self.scope.claim(at, name, f"a line of part {key}")
            self.marks((*at, "marks"), shape.marks, zero=True)
            tree = self.working((*at, "value"), shape.value, names)
            if not self.placed.unit((*at, "unit"), shape.unit) or tree is None or not claimed:
                self.scope.broken.add(name)
                continue
            if not self.scope.has_unit((*at, "value"), tree, names, shape.unit, shape.is_):
                self.scope.broken.add(name)
            names[name] = self.scope.line_dimensions[name] = unit(shape.unit).dimension
            self.scope.formulas[name] = substituted(tree, self.scope.formulas)
            lines.append(Line(name, shape.is_, shape.unit, tree, at_least_none(shape.marks), shape.symbol))
        return tuple(lines)

    def line_marks(self, lines: Mapping[str, LineShape], path: Path, marks: Decimal) -> None:
        """A problem where the lines have more marks than their part."""
        total = sum((line.marks for line in lines.values()), Decimal(0))
        if total > marks:
            expected = f"marks of the lines of at most {marks}, the marks of the part"
            self.placed.add_key("line-marks", (*path, "lines"), expected, str(total))

    def working(self, path: Path, text: str, names: Names, own: Collection[str] = ()) -> Tree | None:
        """The tree of an expression that is no comparison, or a problem."""
        tree = self.scope.expression(path, text, names, own)
        return tree if tree is not None and self.comparison(path, tree, False) else None

    def comparison(self, path: Path, tree: Tree, wanted: bool) -> bool:
        """True where a tree is a comparison as wanted, or is none as wanted; else a problem."""
        if isinstance(tree, Comparison) == wanted:
            return True
        kinds = ("a comparison with <, <=, > or >=", "an expression")
        expected, found = kinds if wanted else reversed(kinds)
        self.placed.add("comparison" if wanted else "no-comparison", path, expected, found)
        return False

    def carried(self, path: Path, letters: Sequence[str]) -> dict[str, Dimension]:
        """The names of the results that a part carries; a problem for a letter that is no earlier quantity."""
        carried: dict[str, Dimension] = {}
        earlier = self.quantities
        for position, letter in enumerate(letters):
            if letter not in earlier and not self.scope.is_broken(letter):
                remedy = f"type one of [{', '.join(earlier)}]" if earlier else "delete carries"
                expected = "the letter of an earlier part that asks a quantity"
                self.placed.add("carries", (*path, position), expected, f"'{letter}'", remedy)
            found = [name for name, owner in self.scope.part_of.items() if owner == letter]
            carried |= {name: self.scope.results[name] for name in found if name in self.scope.results}
        return carried

    def carries_used(self, path: Path, letters: Sequence[str], trees: Sequence[Tree | None]) -> None:
        """A problem for a carried result that no expression of the part uses."""
        if any(tree is None for tree in trees):
            return
        used = frozenset[str]().union(*(names_in(tree) for tree in trees if tree is not None))
        for position, letter in enumerate(letters):
            names = [name for name, owner in self.scope.part_of.items() if owner == letter]
            if names and not used & set(names) and not self.scope.is_broken(letter):
                found = f"no use of {' or '.join(names)}"
                self.placed.add("carries-unused", (*path, position), "a carried result that the answer uses", found)

    def result_keys(self, letters: Sequence[str], trees: Sequence[Tree]) -> tuple[str, ...]:
        """The keys of the results that a part carries: of two limits and a column those that it uses."""
        used = frozenset[str]().union(*(names_in(tree) for tree in trees))
        found: list[str] = []
        for letter in letters:
            several = [name for name, key in self.key_of.items() if self.scope.part_of[name] == letter != key]
            found += [self.key_of[name] for name in several if name in used] if several else [letter]
        return tuple(found)

    def name_result(
        self, key: str, symbol: str, unit_name: str, answer: Tree | None, path: Path, side: str = ""
    ) -> None:
        """Gives the names of a result to later parts; `answer` is None where it could not be read, or has another
        dimension than its unit. `side` says which of two limits it is."""
        letter = self.column_of.get(key, key)
        if letter not in self.quantities:
            self.quantities.append(letter)
        for name in result_names(key, symbol):
            at: Path = (*path, "symbol") if name == symbol else path
            claimed = self.scope.claim(at, name, f"the result of part {key}", at_key=name != symbol)
            if not claimed or answer is None:
                self.scope.broken |= {name, letter}
                continue
            self.scope.part_of[name] = letter
            self.key_of[name] = f"{key}.{side}" if side else key
            self.scope.results[name] = unit(unit_name).dimension
            self.scope.formulas[name] = substituted(answer, self.scope.formulas)

    def slips(self, shapes: Sequence[SlipShape], right: Right, path: Path, names: Names) -> tuple[Slip, ...]:
        """The slips of a part."""
        found: list[Slip] = []
        for position, shape in enumerate(shapes):
            at: Path = (*path, "slips", position)
            self.misconception((*at, "misconception"), shape.misconception)
            self.keeps((*at, "keeps"), shape.keeps, right.marks)
            if any((shape.misconception, shape.line) == (slip.misconception, slip.line) for slip in found):
                self.placed.add(
                    "slip-twice", at, "each misconception once for one line", f"'{shape.misconception}' again"
                )
            tree = self._slip_tree(shape, right, at, names)
            if tree is not None:
                found.append(Slip(shape.misconception, tree, at_least_none(shape.keeps), shape.line))
        return tuple(found)

    def _slip_tree(self, shape: SlipShape, right: Right, at: Path, names: Names) -> Tree | None:
        """A slip's expression; its own line or result in it stands for the right value (`A_s/2`)."""
        line = next((line for line in right.lines if line.name == shape.line), None)
        if shape.line and line is None:
            if not self.scope.is_broken(shape.line):
                remedy = near_or_all(shape.line, [line.name for line in right.lines])
                self.placed.add("unknown-line", (*at, "line"), "a line of this part", f"'{shape.line}'", remedy)
            return None
        meant = line.value if line else right.answer
        own = (shape.line,) if line else tuple(n for n in right.names if n not in names)
        later = right.lines[right.lines.index(line) :] if line else ()
        known = {**names, **self.scope.results}
        for unworked in later:
            known.pop(unworked.name, None)
        tree = self.working((*at, "answer"), shape.answer, known, own)
        if tree is None or meant is None:
            return None
        tree = substituted(tree, dict.fromkeys(own, meant))
        if tree == meant or substituted(tree, self.scope.formulas) == substituted(meant, self.scope.formulas):
            self.placed.add("slip-is-right", (*at, "answer"), "a wrong expression", f"'{shape.answer}', the right one")
        return tree

    def misconception(self, path: Path, key: str) -> None:
        """A problem where the bank has no such misconception; each is told once in a file."""
        if self.misconceptions is not None and key not in {*self.misconceptions, *self.unknown}:
            self.unknown.add(key)
            remedy = near(key, self.misconceptions) or f"add to misconceptions.yaml: {stub_of(key)}"
            self.placed.add("unknown-misconception", path, "a key of misconceptions.yaml", f"'{key}'", remedy)

    def keeps(self, path: Path, keeps: Decimal, marks: Decimal) -> None:
        """A problem where a wrong method keeps full marks, or an amount that is no mark."""
        if marks > 0 and not may_keep(keeps, marks):
            self.placed.add("keeps", path, keeps_text(marks), str(keeps))

    def marks(self, path: Path, marks: Decimal, zero: bool = False) -> None:
        """A problem where marks are not halves or whole."""
        if not is_in_steps(marks) or (marks == 0 and not zero):
            self.placed.add("marks", path, steps_text() + ("" if zero else ", more than 0"), str(marks))

    def tolerance(self, path: Path, text: str, unit_name: str) -> tuple[Decimal, Decimal]:
        """What is allowed beside rounding: a share of the right value, and an amount in its unit; one of them is 0."""
        none = Decimal(0)
        if not text:
            return none, none
        number, percent, rest = text.partition("%")
        try:
            share = Decimal(number.strip()) / 100
        except InvalidOperation:
            share = Decimal(-1)
        if percent and not rest and 0 < share < 1:
            return share, none
        amount = _amount_in(text, unit_name)
        if amount is None:
            expected = "a percentage between 0 % and 100 %, or an amount with a unit as that of the answer"
            self.placed.add("tolerance", path, expected, f"'{text}'", "type it like 1 %, or like 0.5 mm")
        return none, amount or none

    def each_once(self, path: Path, texts: Sequence[str], *below: str) -> None:
        """A problem for each text that stands twice in a list."""
        for position, text in enumerate(texts):
            if text in texts[:position]:
                self.placed.add(
                    "text-twice", (*path, position, *below), "each text once", f"'{text}' again", "delete it"
                )


def _amount_in(text: str, unit_name: str) -> Decimal | None:
    """An amount such as `0.5 mm` as a number of another unit of its dimension; None for what is none."""
    try:
        if len(text) > LONGEST_AMOUNT or not text.isprintable():
            return None
        number, own = read_author_quantity(text)
        first, second = unit("" if own == "number" else own), unit(unit_name)
    except UnitError:
        return None
    if first.dimension != second.dimension or not number.is_finite() or number <= 0:
        return None
    return number * Decimal(f"{first.scale / second.scale:.12g}")
