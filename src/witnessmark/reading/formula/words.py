"""The words of one question's formulae: its letters in every spelling, the functions, and signs written as words."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from witnessmark.maths.printing.symbols import GREEK

Symbols = Mapping[str, "str | Collection[str]"]
LONGEST_RUN = 60
MOST_CUTS = 2
FUNCTION_WORDS = {
    "sqrt": "sqrt", "root": "sqrt", "square root": "sqrt", "square root of": "sqrt", "sq root": "sqrt",
    "root of": "sqrt", "√": "sqrt", "cbrt": "cbrt", "∛": "cbrt", "cube root of": "cbrt", "cube root": "cbrt",
    "sin": "sin", "cos": "cos", "tan": "tan", "cot": "cot", "sec": "sec", "cosec": "cosec", "csc": "cosec",
    "asin": "asin", "acos": "acos", "atan": "atan", "arcsin": "asin", "arccos": "acos", "arctan": "atan",
    "ln": "ln", "log": "log", "lg": "log10", "log10": "log10", "log_10": "log10", "exp": "exp", "abs": "abs",
    "min": "min", "max": "max", "atan2": "atan2", "frac": "frac",
}  # fmt: skip
SIGN_WORDS = {
    "times": "*", "multiplied by": "*", "cdot": "*", "divided by": "/", "over": "/", "plus": "+", "minus": "-",
    "squared": "^2", "cubed": "^3", "to the power of": "^", "equals": "=", "left": "", "right": "",
}  # fmt: skip
NAMES_OF_LETTERS = {letter: name for name, letter in GREEK.items() if name not in ("lamda", "Pi")}


@dataclass(frozen=True, slots=True)
class Word:
    """What a piece of text stands for: kind `name`, `function`, `sign`, `number` or `euler`, and its value.

    In a vocabulary `text` is how the word is shown, in a cut of a run it is what was typed. `said` is a sentence when
    it was written in an unexpected way.
    """

    kind: str
    value: str
    text: str
    said: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Vocabulary:
    """Every word that may occur: by exact spelling, and by spelling in lower case where that is clear."""

    exact: dict[str, Word]
    folded: dict[str, Word]
    phrases: tuple[str, ...]
    letters: str
    asked: frozenset[str] = frozenset()

    def word(self, text: str) -> Word | None:
        """The word of this spelling; a name in the wrong case says so; None when there is none."""
        if found := self.exact.get(text):
            return found
        if text in self.asked:
            return None
        found = self.folded.get(text.casefold())
        if found is None or (found.kind == "name" and found.value != "pi"):
            return found and Word(found.kind, found.value, text, f"“{text}” was read as {found.text}")
        return found

    def phrase_at(self, text: str, at: int) -> str:
        """The longest wording of several words that stands at this place, or nothing."""
        for phrase in self.phrases:
            end = at + len(phrase)
            if text[at:end].casefold() == phrase.casefold() and not (end < len(text) and text[end].isalnum()):
                return text[at:end]
        return ""


def vocabulary(symbols: Symbols, asked: "str | Collection[str]" = ()) -> Vocabulary:
    """The words for a question with these letters (name to its spelling or spellings); `asked` spells the result."""
    frozen = tuple(spellings_of(name, given) for name, given in symbols.items())
    result = spellings_of("", asked)
    return _vocabulary(frozen, frozenset((*result.stated, *result.made)))


@dataclass(frozen=True, slots=True)
class Spellings:
    """The ways to write one name: those that are stated, and those made from them."""

    name: str
    stated: tuple[str, ...]
    made: tuple[str, ...]

    @property
    def shown(self) -> str:
        """The spelling for messages."""
        return (*self.stated, *self.made, self.name)[0]


def spellings_of(name: str, given: "str | Collection[str]") -> Spellings:
    """Every way to write a name: as given, Greek as a letter or a word, an index with or without its underscore, and
    a cell of a table (`material.shear_strength`) by its words, with or without the table's.
    """
    stated = [" ".join(s.split()) for s in ([given] if isinstance(given, str) else given) if s.strip()]
    owner, point, cell = name.partition(".")
    words = cell.replace("_", " ")
    made = [f"{owner} {words}", name, words, cell] if point else []
    stated += [name] if name and not point else []
    made += [variant for text in stated for variant in _variants(text)]
    return Spellings(name, tuple(dict.fromkeys(stated)), tuple(dict.fromkeys(made)))


def _variants(text: str) -> Iterable[str]:
    head, mark, index = text.partition("_")
    heads = {head, GREEK.get(head, head), NAMES_OF_LETTERS.get(head, head)}
    if head.startswith("Δ"):
        heads.add("Delta" + head[1:])
    for written in sorted(heads):
        if mark:
            yield from (f"{written}_{index}", f"{written}{index}", f"{written}{index}".replace("_", ""))
            yield (
                f"{written} {index}".replace("_", " ") if len(written) > 1 and len(index) > 1 else f"{written}_{index}"
            )
        else:
            yield written
            letters = written.rstrip("0123456789")
            if letters and letters != written and " " not in written:
                yield f"{letters}_{written[len(letters) :]}"


@lru_cache(maxsize=256)
def _vocabulary(symbols: tuple[Spellings, ...], asked: frozenset[str]) -> Vocabulary:
    exact = _names((*symbols, Spellings("pi", (), ("π", "pi", "Π"))))
    names = tuple(exact.values())
    for words, kind in ((FUNCTION_WORDS, "function"), (SIGN_WORDS, "sign")):
        for text, value in words.items():
            exact.setdefault(text, Word(kind, value, text))
    if "x" not in exact and "X" not in exact:
        exact |= {"x": Word("sign", "*", "x"), "X": Word("sign", "*", "X")}
    exact.setdefault("e", Word("euler", "e", "e"))
    phrases = sorted((w for w in exact if " " in w or "." in w), key=len, reverse=True)
    shown = ", ".join(dict.fromkeys(w.text for w in names))
    return Vocabulary(exact, _folded(exact), tuple(phrases), shown, asked)


def _names(symbols: tuple[Spellings, ...]) -> dict[str, Word]:
    """Spellings of names, stated ones before made ones; what two names have in the same way belongs to neither."""
    exact: dict[str, Word] = {}
    for kind in ("stated", "made"):
        owners: dict[str, list[Spellings]] = {}
        for one in symbols:
            for text in getattr(one, kind):
                owners.setdefault(text, []).append(one)
        clear = {
            text: ones[0] for text, ones in owners.items() if len({o.name for o in ones}) == 1 and text not in exact
        }
        exact |= {text: Word("name", one.name, one.shown) for text, one in clear.items()}
    return exact


def _folded(exact: Mapping[str, Word]) -> dict[str, Word]:
    found: dict[str, Word] = {}
    unclear: set[str] = set()
    for text, word in exact.items():
        key = text.casefold()
        if key in found and (found[key].kind, found[key].value) != (word.kind, word.value):
            unclear.add(key)
        found.setdefault(key, word)
    return {key: word for key, word in found.items() if key not in unclear and word.kind != "euler"}


def cuts(run: str, words: Vocabulary) -> tuple[tuple[Word, ...], ...]:
    """The best ways (two at most) to cut a run of letters and figures into words: `pidt` into pi, d, t.

    Fewest changes of case first, then fewest pieces; none when it cannot be cut.
    """
    if len(run) > LONGEST_RUN:
        return ()
    best: list[list[tuple[tuple[int, int], tuple[Word, ...]]]] = [[((0, 0), ())], *([] for _ in run)]
    for start in range(len(run)):
        if best[start]:
            for end, word in _words_from(run, start, words):
                cost = (1 if word.said else 0, 1)
                best[end] += [((c[0] + cost[0], c[1] + cost[1]), (*w, word)) for c, w in best[start]]
        best[start + 1] = _cheapest(best[start + 1]) if start + 1 < len(best) else []
    lowest = best[-1][0][0] if best[-1] else (0, 0)
    return tuple(w for cost, w in best[-1] if cost == lowest)[:MOST_CUTS]


def furthest(run: str, words: Vocabulary) -> int:
    """How many characters of a run can be cut into words from its start; where reading stopped."""
    run, reached = run[:LONGEST_RUN], {0}
    for start in range(len(run)):
        if start in reached:
            reached |= {end for end, _ in _words_from(run, start, words)}
    return max(reached)


def _cheapest(ways: list[tuple[tuple[int, int], tuple[Word, ...]]]) -> list[tuple[tuple[int, int], tuple[Word, ...]]]:
    ways = sorted(ways, key=lambda way: way[0])
    return ways[:MOST_CUTS]


def _words_from(run: str, start: int, words: Vocabulary) -> Iterable[tuple[int, Word]]:
    figures = len(run[start:]) - len(run[start:].lstrip("0123456789"))
    if figures and start:
        yield start + figures, Word("number", run[start : start + figures], run[start : start + figures])
    if start and run[start] == "_":
        return
    for end in range(start + 1, min(len(run), start + 24) + 1):
        word = words.word(run[start:end])
        if word is None or (run[end - 1].isdigit() and run[end : end + 1].isdigit()):
            continue
        if word.kind != "sign" or end - start == 1 or (start, end) == (0, len(run)):
            yield end, replace(word, text=run[start:end])
