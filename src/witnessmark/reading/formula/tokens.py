"""A typed formula as tokens: signs of every kind made plain, runs of letters cut into the question's words."""

import re
import unicodedata
from dataclasses import dataclass

from witnessmark.reading.formula.words import Vocabulary, Word, cuts, furthest
from witnessmark.reading.text.near_words import nearest

LONGEST_FORMULA = 400
MOST_TOKENS = 160
SIGNS = {
    "×": "*", "✕": "*", "✖": "*", "⨯": "*", "∗": "*", "·": "*", "⋅": "*", "∙": "*", "•": "*", "‧": "*", "･": "*",
    "÷": "/", "∕": "/", "⁄": "/", "∶": ":", "−": "-", "–": "-", "—": "-", "‐": "-", "‑": "-", "﹣": "-",
    "º": "°", "˚": "°", "[": "(", "]": ")", "{": "(", "}": ")",
    "∆": "Δ", "⌀": "⌀", "’": "'", "′": "'", "ˆ": "^", "∣": "|",
}  # fmt: skip
RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻", "0123456789+-")
LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉ₐₑₒₓₕₖₗₘₙₚₛₜᵢⱼᵣᵤᵥ", "0123456789aeoxhklmnpstijruv")
PIECES = re.compile(
    r"(?P<raised>[⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻]+)|(?P<lowered>_?[₀-₉ₐ-ₜᵢⱼᵣᵤᵥ]+)|_\{(?P<index>\w{1,20})\}|(?P<nth>\\sqrt\s*\[)"
    r"|\\(?P<word>[A-Za-z]+)"
    r"|(?P<blank>\\[,;:! ]|\$|\s)|(?P<one>.)",
    re.DOTALL,
)
SHAPES = re.compile(
    r"(?P<space>\s+)|(?P<number>\d{1,3}(?:[ ']\d{3})+(?!\d)|\d+(?:\.\d+)?|\.\d+)|(?P<run>(?:[^\W\d_]|[⌀∅])\w*)"
    r"|(?P<sign>\*\*|[-+*/^()|,;:.√∛°&])"
)
POWER_OF_TEN = re.compile(r"[eE][+-]?\d{1,3}(?![\w.])")
IGNORED = {"Cf", "Cc", "Co", "Cn", "Cs"}
LONG_WORD = 5
LONGEST_SHOWN = 30
NTH_ROOT = "\\"


class Stopped(ValueError):
    """Reading stopped at a character of the text as it was typed (counted from 0), for a reason fit to be shown."""

    def __init__(self, at: int, reason: str) -> None:
        self.at, self.reason = at, reason
        super().__init__(reason)


@dataclass(frozen=True, slots=True)
class Token:
    """One token: number, name, function, euler, sign or end; its value, its place, and whether a gap is before it."""

    kind: str
    value: str
    at: int
    gap: bool = False


@dataclass(frozen=True, slots=True)
class Tokens:
    """The tokens of a formula, what had to be repaired for them, and whether a run could be cut in another way too."""

    tokens: tuple[Token, ...]
    repairs: tuple[str, ...]
    other_cut: bool


def plain_signs(text: str) -> tuple[str, list[int]]:
    """The text with every sign in its plain form, and for each character the place that it comes from."""
    out: list[str] = []
    places: list[int] = []
    for match in PIECES.finditer(text):
        plain = _plain(match, out[-1][-1:] if out else "")
        out += [plain] if plain else []
        places += [min(match.start() + i, match.end() - 1) for i in range(len(plain))]
    return "".join(out), places


def _plain(match: re.Match[str], before: str) -> str:
    if match["raised"]:
        return f"^({match['raised'].translate(RAISED)})"
    if match["lowered"]:
        return "_" + match["lowered"].lstrip("_").translate(LOWERED)
    if match["index"]:
        return "_" + match["index"]
    if match["word"]:
        return f" {match['word']} "
    if match["nth"]:
        return NTH_ROOT
    return " " if match["blank"] else _character(match["one"], before)


def _character(character: str, before: str) -> str:
    if character in SIGNS:
        return SIGNS[character]
    if unicodedata.category(character) in IGNORED:
        return ""
    if unicodedata.decomposition(character).startswith("<fraction>"):
        above, below = unicodedata.normalize("NFKC", character).split("⁄")
        return f"{'&' if before.isdigit() else ''}({above}/{below or '1'})"
    if character.isdecimal():
        return str(unicodedata.decimal(character))
    wide = unicodedata.normalize("NFKC", character)
    return SIGNS.get(wide, wide) if len(wide) == 1 else character


def tokens_of(text: str, start: int, words: Vocabulary, cut: int = 0) -> Tokens:
    """The tokens of a text that starts at `start` of the whole entry; `cut` chooses between equal ways to cut runs.

    Raises Stopped at a letter that the question does not have or a sign that has no place in a formula.
    """
    plain, places = plain_signs(text)
    reader = _Reader(plain, [start + p for p in places], words, cut)
    reader.read()
    return Tokens((*reader.tokens, Token("end", "", start + len(text))), tuple(reader.repairs), reader.other_cut)


class _Reader:
    """Walks the plain text once and gathers its tokens."""

    def __init__(self, plain: str, places: list[int], words: Vocabulary, cut: int) -> None:
        self.plain, self.places, self.words, self.cut = plain.rstrip(" .,;:"), places, words, cut
        self.tokens: list[Token] = []
        self.repairs: list[str] = []
        self.other_cut = False
        self.at, self.gap = 0, False

    def read(self) -> None:
        while self.at < len(self.plain):
            match = SHAPES.match(self.plain, self.at)
            if match is None:
                raise Stopped(self.places[self.at], f"“{self.plain[self.at]}” has no meaning in a formula")
            if len(self.tokens) > MOST_TOKENS:
                raise Stopped(self.places[self.at], f"a formula of at most {MOST_TOKENS} pieces was expected")
            self.piece(match)

    def piece(self, match: re.Match[str]) -> None:
        """One token or one run of them."""
        if match["space"]:
            self.gap, self.at = True, match.end()
        elif match["number"]:
            self.number(match)
        elif match["run"]:
            self.run(match["run"])
        else:
            sign = match["sign"]
            if sign == ".":
                self.say("“.” was read as a sign of multiplication")
            if sign == ":" and self.gap == self.plain[match.end() :].startswith(" "):  # `d: t` is no division
                self.say("“:” was read as a sign of division")
                sign = "/"
            self.add("sign", {"**": "^", ".": "*"}.get(sign, sign), match.end())

    def add(self, kind: str, value: str, end: int) -> None:
        """A token from here to `end`."""
        if kind == "sign" and value in ("√", "∛"):
            kind, value = "function", {"√": "sqrt", "∛": "cbrt"}[value]
        self.tokens.append(Token(kind, value, self.places[self.at], self.gap))
        self.gap, self.at = False, end

    def say(self, sentence: str) -> None:
        """A repair, once."""
        if sentence and sentence not in self.repairs:
            self.repairs.append(sentence)

    def number(self, match: re.Match[str]) -> None:
        """A number, with its power of ten unless the letter of it is one of the question's."""
        end, text = match.end(), re.sub(r"[ ']", "", match["number"])
        power = POWER_OF_TEN.match(self.plain, end)
        letter = self.words.exact.get(self.plain[end : end + 1])
        if power and (letter is None or letter.kind == "euler"):
            end, text = power.end(), text + power[0]
        self.add("number", text, end)

    def run(self, run: str) -> None:
        """A wording of several words, or a run of letters cut into words of the question."""
        if phrase := self.words.phrase_at(self.plain, self.at):
            word = self.words.word(phrase)
            if word:
                self.word(word, self.at + len(phrase))
                return
        ways = cuts(run, self.words) or self.misspelt(run)
        if not ways:
            raise self.unknown(run)
        self.other_cut |= len(ways) > 1
        for word in ways[min(self.cut, len(ways) - 1)]:
            self.word(word, self.at + len(word.text))

    def word(self, word: Word, end: int) -> None:
        """The tokens of one word: a sign written as a word can be two."""
        self.say(word.said)
        if word.kind != "sign":
            self.add(word.kind, word.value, end)
            return
        for i, sign in enumerate(word.value):
            self.add("number" if sign.isdigit() else "sign", sign, end if i == len(word.value) - 1 else self.at)
        self.at = end

    def misspelt(self, run: str) -> tuple[tuple[Word, ...], ...]:
        """A long word that can only be a misspelt one of the question's."""
        if len(run) < LONG_WORD or not run.isalpha():
            return ()
        near = nearest(
            run.casefold(), {key: word.value for key, word in self.words.folded.items() if len(key) >= LONG_WORD}
        )
        if near is None:
            return ()
        meant = self.words.folded[near.wording]
        return ((Word(meant.kind, meant.value, run, f"“{run}” was read as {near.wording}"),),)

    def unknown(self, run: str) -> Stopped:
        """Where and why a run of letters could not be cut into words."""
        reached = furthest(run, self.words)
        rest = run[reached : reached + LONGEST_SHOWN]
        place = self.places[self.at + reached]
        if run in self.words.asked or rest in self.words.asked:
            return Stopped(place, f"“{rest}” is what is asked for; write it with the other letters")
        return Stopped(place, f"“{rest}” is not a letter of this question ({self.words.letters})")
