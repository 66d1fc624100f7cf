"""Which one of a list of wordings a typed text means: an option of a choice, a step of a process."""

from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.reading.text.near_words import nearest
from witnessmark.reading.text.plain_words import clauses, plain, squeezed

NEGATIONS = frozenset(["no", "not", "non", "never", "neither", "nor", "without", "un", "none", "cannot"])
EMPTY_WORDS = frozenset(
    ["the", "a", "an", "it", "is", "it's", "in", "by", "of", "on", "at", "to", "my", "i", "think", "answer", "option",
     "choice", "because", "be", "will", "would", "that", "this", "are", "was", "as", "under", "step"]
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Match:
    """The wordings that a text may mean (exactly one when it is clear), how it was repaired, why it is unclear."""

    candidates: tuple[int, ...]
    repairs: tuple[str, ...] = ()
    reason: str = ""

    @property
    def index(self) -> int | None:
        """The one wording, if there is just one."""
        return self.candidates[0] if len(self.candidates) == 1 else None


def match(text: str, wordings: Sequence[str]) -> Match:
    """The wording that a text means: word for word, named in it, alone in having its words, or spelled nearly so."""
    typed = squeezed(text)
    known = [squeezed(w) for w in wordings]
    same = [i for i, w in enumerate(known) if _bare(w) == _bare(typed)]
    if same:
        return Match(tuple(same), reason="two wordings are the same" if len(same) > 1 else "")
    named = _named(text, known)
    if named:
        repair = f"only “{wordings[named[0]]}” was taken from “{typed}”"
        return Match(tuple(named), (repair,) if len(named) == 1 else (), "more than one is named")
    return _by_words(typed, known) or _by_spelling(typed, known, wordings) or Match((), reason="none of them is named")


def _bare(text: str) -> str:
    return " ".join(w for w in text.split() if w not in EMPTY_WORDS) or text


def _named(text: str, known: Sequence[str]) -> list[int]:
    """The wordings that stand in the text as whole words, without a negation before them or behind them."""
    found: set[int] = set()
    wanted = [_bare(wording).split() for wording in known]
    for clause in clauses(plain(text)):
        words = [word for word in clause if word not in EMPTY_WORDS]
        spans = [(start, start + len(w), i) for i, w in enumerate(wanted) for start in _places(words, w)]
        outer = [s for s in spans if not any(_holds(other, s) for other in spans)]
        inside = {p for start, end, _ in outer for p in range(start, end)}
        denials = [place for place, word in enumerate(words) if word in NEGATIONS and place not in inside]
        starts = {start for start, _, _ in outer}
        if all(place + 1 in starts for place in denials):  # otherwise it may deny what stands before it
            found |= {i for start, _, i in outer if not denials or start < denials[0]}
    return sorted(found)


def _holds(outer: tuple[int, int, int], inner: tuple[int, int, int]) -> bool:
    return outer[0] <= inner[0] and inner[1] <= outer[1] and outer[:2] != inner[:2]


def _places(words: Sequence[str], wanted: Sequence[str]) -> list[int]:
    size = len(wanted)
    return [i for i in range(len(words) - size + 1) if size and list(words[i : i + size]) == list(wanted)]


def _by_words(typed: str, known: Sequence[str]) -> Match | None:
    """The one wording that has all the words of the text, with a negation in both or in neither."""
    words = set(_bare(typed).split()) - EMPTY_WORDS
    if not words:
        return None
    holding = [i for i, w in enumerate(known) if words <= set(w.split()) and _negated(w) == _negated(typed)]
    if not holding:
        return None
    if len(holding) > 1:
        return Match(tuple(holding), reason=f"“{typed}” fits more than one")
    return Match(tuple(holding), (f"“{typed}” was read as “{known[holding[0]]}”",))


def _by_spelling(typed: str, known: Sequence[str], wordings: Sequence[str]) -> Match | None:
    spelled = {_bare(w): str(i) for i, w in enumerate(known)}
    near = nearest(_bare(typed), spelled)
    if near is None or _negated(typed) != _negated(near.wording):
        return None
    index = int(near.owner)
    return Match((index,), (f"“{typed}” was read as “{wordings[index]}”",))


def _negated(text: str) -> bool:
    return any(word in NEGATIONS for word in text.split())
