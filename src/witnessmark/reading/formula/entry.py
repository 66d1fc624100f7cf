"""A formula that a student typed, as an expression tree in the question's own names. Nothing typed is ever executed."""

import itertools
import math
import re
import unicodedata
import zlib
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from witnessmark.maths.compiled import compiled
from witnessmark.maths.syntax import Tree, names_in
from witnessmark.reading.formula.cursor import CHOICES, Habits
from witnessmark.reading.formula.grammar import Grammar
from witnessmark.reading.formula.tokens import IGNORED, LONGEST_FORMULA, Stopped, Tokens, plain_signs, tokens_of
from witnessmark.reading.formula.words import Symbols, Vocabulary, vocabulary
from witnessmark.reading.result import Certainty
from witnessmark.reading.text.plain_words import is_blank

MOST_READINGS = 8
MOST_TRIES = 48
MOST_SIDES = 6
PROBES = ((0.731, 1.137), (1.913, 0.877), (0.417, 1.291))
ALIKE = 1e-9
TOO_MANY = "it can be read in too many ways; brackets would settle it"
OWN_NAME = re.compile(r"[^\W\d_][\w ]{0,40}")
PLAIN_RESULT = re.compile(r"\s*[≈~]?\s*[-−+]?\s*[\d.,]")
SIDES = re.compile(r"(:?[=＝]|(?<!\w)equals(?!\w))")
LABEL = re.compile(r"\s*(?:\d{1,2}[a-z]?|[a-z]\))(?=:\s)")  # the number of the answer: `1a: ...`


@dataclass(frozen=True, slots=True)
class FormulaReading:
    """What was understood of a typed formula.

    `trees` holds every reading, likeliest first (several only when `ambiguous`, none when nothing could be read).
    `repairs` and `notes` are sentences, `reason` says why it is ambiguous or unreadable, and `stopped_at` is the
    character (from 1) of the typed text where reading stopped, 0 when it did not.
    """

    certainty: Certainty
    trees: tuple[Tree, ...] = ()
    repairs: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    stopped_at: int = 0
    reason: str = ""

    @property
    def tree(self) -> Tree | None:
        """The likeliest reading."""
        return self.trees[0] if self.trees else None


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of the typed equation: its text and where it starts."""

    text: str
    start: int


def read_formula(text: str, symbols: Symbols, asked: "str | Collection[str]" = ()) -> FormulaReading:
    """The formula in a text. `symbols` maps the names that may occur to their spelling or spellings (`tau` to `τ`),
    pi is always known, and `asked` spells the letter of the result, which may stand on the left of an equals sign.

    Every text gives a reading; none raises an error and none takes long.
    """
    if len(text) > LONGEST_FORMULA:
        reason = f"a formula of at most {LONGEST_FORMULA} characters was expected"
        return FormulaReading(Certainty.UNREADABLE, stopped_at=LONGEST_FORMULA + 1, reason=reason)
    try:
        return _read(text, vocabulary(symbols, asked))
    except Stopped as stop:
        if is_blank(text.replace("=", "")):
            return FormulaReading(Certainty.BLANK)
        return FormulaReading(Certainty.UNREADABLE, stopped_at=min(stop.at, len(text)) + 1, reason=stop.reason)


def _read(text: str, words: Vocabulary) -> FormulaReading:
    side, said = _side_that_counts(text, words)
    ways = _ways(side, words).or_stop()
    first = ways[0]
    repairs = tuple(dict.fromkeys((*said, *first.repairs)))
    trees = tuple(way.tree for way in ways)
    if len(trees) > 1:
        reason = f"it can be read in {len(trees)} ways; brackets would settle it"
        return FormulaReading(Certainty.AMBIGUOUS, trees, repairs, first.notes, reason=reason)
    certainty = Certainty.REPAIRED if repairs else Certainty.CERTAIN
    return FormulaReading(certainty, trees, repairs, first.notes)


def _side_that_counts(text: str, words: Vocabulary) -> tuple[_Side, list[str]]:
    """The side of the equals signs that holds the formula, and what was left out."""
    sides = list(_sides(text, words))
    if len(sides) > MOST_SIDES:
        raise Stopped(sides[MOST_SIDES].start, "fewer equals signs were expected")
    if len(sides) == 1:
        if _is_asked(sides[0], words) and (SIDES.search(text) or ":" in text):
            raise Stopped(len(text), "a formula was expected")
        return sides[0], []
    for side in sides[:-1]:
        if _plain(side.text).count("(") > _plain(side.text).count(")"):
            raise Stopped(side.start + len(side.text), "an equals sign was not expected inside a bracket")
    names = [s for s in sides if _is_asked(s, words)] or [s for s in sides[:1] if _is_own_name(s, words)]
    rest = [s for s in sides if s not in names]
    numbers = [s for s in rest if len(rest) > 1 and PLAIN_RESULT.match(s.text) and not _ways(s, words).has_names]
    formulas = [s for s in rest if s not in numbers]
    if not formulas:
        raise Stopped(len(text), "a formula was expected")
    if len(formulas) > 1 and not names:
        raise Stopped(formulas[1].start, "an equation stands here; write only what the result is equal to")
    said = [f"“{_shown(s)}” was taken as your name for the result" for s in names if not _is_asked(s, words)]
    said += [f"“{_shown(s)}” was left out, “{_shown(formulas[-1])}” was read" for s in (*formulas[:-1], *numbers)]
    return formulas[-1], said


def _sides(text: str, words: Vocabulary) -> Iterator[_Side]:
    start = 0
    for piece in SIDES.split(text):
        if not SIDES.fullmatch(piece):
            yield from (side for side in _labelled(_Side(piece, start), words) if side.text.strip())
        start += len(piece)
    yield from [_Side("", len(text))] if not SIDES.sub("", text).strip(" :") else []


def _labelled(side: _Side, words: Vocabulary) -> Iterator[_Side]:
    """A side without the colon behind a name for the result; any other colon is a sign of division."""
    before, colon, behind = side.text.partition(":")
    label = _Side(before, side.start)
    is_label = colon and (
        LABEL.match(side.text) or not before.strip() or _is_asked(label, words) or _is_own_name(label, words)
    )
    if not is_label:
        yield side
        return
    if not LABEL.match(side.text):
        yield label
    yield from _labelled(_Side(behind, side.start + len(before) + 1), words)


def _plain(text: str) -> str:
    return " ".join(plain_signs(text)[0].split())


def _shown(side: _Side) -> str:
    return " ".join("".join(c for c in side.text if unicodedata.category(c) not in IGNORED).split())


def _is_asked(side: _Side, words: Vocabulary) -> bool:
    """True when a side is the letter asked for, in any case that is not another letter's."""
    name = _plain(side.text).replace("(", "").replace(")", "")
    folded = {spelling.casefold() for spelling in words.asked}
    return name in words.asked or (name.casefold() in folded and words.word(name) is None)


def _is_own_name(side: _Side, words: Vocabulary) -> bool:
    """True when a side is a word or a few that are no formula of this question."""
    return bool(OWN_NAME.fullmatch(_plain(side.text)) and not _ways(side, words).found)


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to read a side."""

    tree: Tree
    repairs: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Ways:
    """Every different way to read a side, likeliest first, or where and why reading stopped."""

    found: tuple[_Way, ...]
    at: int = 0
    reason: str = ""

    @property
    def has_names(self) -> bool:
        """True when it could be read and is more than a number."""
        return any(names_in(way.tree) - {"pi"} for way in self.found)

    def or_stop(self) -> tuple[_Way, ...]:
        """The ways; Stopped when there are none."""
        if not self.found:
            raise Stopped(self.at, self.reason)
        return self.found


@lru_cache(maxsize=64)
def _ways(side: _Side, words: Vocabulary) -> _Ways:
    """All readings of a side: once with the likeliest habits, then with the other habits that mattered."""
    tried: dict[Habits, _Way | Stopped] = {}
    met: set[str] = set()
    cut_tokens = cache(lambda cut: tokens_of(side.text, side.start, words, CHOICES["cut"].index(cut)))
    while wanted := [h for h in _habits(met) if h not in tried]:
        if len(wanted) + len(tried) > MOST_TRIES:
            return _Ways((), side.start, TOO_MANY)
        for habits in wanted:
            tried[habits] = _one_way(cut_tokens, habits, met)
    different = _different([way for habits in _habits(met) if isinstance(way := tried[habits], _Way)])
    if len(different) > MOST_READINGS:
        return _Ways((), side.start, TOO_MANY)
    if different:
        return _Ways(tuple(different))
    stop = tried[Habits()]
    assert isinstance(stop, Stopped)
    return _Ways((), stop.at, stop.reason)


def _habits(met: set[str]) -> list[Habits]:
    """Every combination of the habits that mattered, likeliest first."""
    names = [name for name in CHOICES if name in met]
    return [Habits(**dict(zip(names, c, strict=True))) for c in itertools.product(*(CHOICES[n] for n in names))]


def _one_way(tokens: Callable[[str], Tokens], habits: Habits, met: set[str]) -> _Way | Stopped:
    try:
        read = tokens(habits.cut)
        met |= {"cut"} if read.other_cut else set()
        grammar = Grammar(read.tokens, habits, met)
        tree = grammar.formula()
    except Stopped as stop:
        return stop
    return _Way(tree, (*read.repairs, *grammar.repairs), tuple(grammar.notes))


def _different(ways: list[_Way]) -> list[_Way]:
    """The ways without repetitions, one more than MOST_READINGS at the most.

    Two trees that give one number at all probes are taken for one formula: far cheaper than algebra, and no mark hangs
    on it.
    """
    kept: list[tuple[_Way, tuple[float, ...]]] = []
    for way in ways:
        values = _at_probes(way.tree)
        if not any(way.tree == other.tree or _alike(values, known) for other, known in kept):
            kept.append((way, values))
        if len(kept) > MOST_READINGS:
            break
    return [way for way, _ in kept]


def _at_probes(tree: Tree) -> tuple[float, ...]:
    names = {name: zlib.crc32(name.encode("utf-8", "replace")) / 2**32 for name in names_in(tree)}
    probes = ({name: low + ratio * share for name, share in names.items()} | {"pi": math.pi} for low, ratio in PROBES)
    return tuple(float(compiled(tree)(probe)) for probe in probes)


def _alike(values: tuple[float, ...], others: tuple[float, ...]) -> bool:
    return all(math.isfinite(a) and abs(a - b) <= ALIKE * abs(a) for a, b in zip(values, others, strict=True))
