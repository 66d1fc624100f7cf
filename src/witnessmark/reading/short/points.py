"""Which of the accepted points a short text makes: whole words, small spelling mistakes, never what it denies.

A wording counts only in known company: a word beside it that this module does not know may turn it round ("ruins its
toughness"), and leaves it to the teacher.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from witnessmark.reading.result import Certainty
from witnessmark.reading.short.points_words import DENIALS, EMPTY_WORDS, HARMLESS, JOINING, LESSENINGS, SUPPOSING
from witnessmark.reading.text.near_words import nearest
from witnessmark.reading.text.plain_words import clauses, is_blank, plain, squeezed, too_long

LONGEST_TEXT = 2_000
SHORTEST = 4
NOTHING = "none of the accepted wordings was found in it"

Wordings = Mapping[str, Collection[str]]
"""By the name of a point: wordings that make it, or that speak against it."""


@dataclass(frozen=True, slots=True)
class PointFound:
    """One accepted point that the text makes: its name, the wording that fitted, the words typed for it."""

    name: str
    wording: str
    typed: str

    @property
    def misspelt(self) -> bool:
        """True when the typed words are not the wording itself."""
        return self.wording != self.typed


@dataclass(frozen=True, slots=True)
class PointsReading:
    """What was understood of a short text. `found` holds each point once, in the order of the text.

    `doubtful` are clauses that name a point and seem to deny or lessen it, or to say its contrary as well; `partly`
    those that name one beside words that are not known, and those words; `unmatched` those in which nothing was found:
    all three are for the teacher. `refused` are wordings that say the contrary of a point. `repairs` are sentences.
    """

    certainty: Certainty
    found: tuple[PointFound, ...] = ()
    doubtful: tuple[str, ...] = ()
    partly: tuple[str, ...] = ()
    unmatched: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the points that were found."""
        return tuple(point.name for point in self.found)


def read_points(text: str, points: Wordings, refused: Wordings | None = None) -> PointsReading:
    """The points that a text makes; both mappings take the name of a point to wordings, those that make it and those
    that speak against it. Never raises an error.
    """
    if reason := too_long(text, LONGEST_TEXT):
        return PointsReading(Certainty.UNREADABLE, reason=reason)
    if is_blank(text):
        return PointsReading(Certainty.BLANK)
    owners = {squeezed(w): name for name, wordings in points.items() for w in wordings if squeezed(w)}
    against: dict[str, set[str]] = {}
    for name, wordings in (refused or {}).items():
        for wording in wordings:
            against.setdefault(squeezed(wording), set()).add(name)
    gathered = _Gathered(owners, against, _own_words(points))
    for words in clauses(plain(text).replace("not so ", "not as ")):  # "so" alone begins a clause
        gathered.clause(words)
    return gathered.reading()


def _own_words(points: Wordings) -> dict[str, frozenset[str]]:
    """The words that may stand beside each point, since its own wordings have them; none that turns a sense round."""
    return {
        name: frozenset(word for wording in wordings for word in squeezed(wording).split()) - DENIALS - LESSENINGS
        for name, wordings in points.items()
    }


Span = tuple[int, int, PointFound]
"""Where a wording stands in a clause, and the point that it makes."""
Contrary = tuple[int, int, Collection[str]]
"""Where a refused wording stands in a clause, and the points that it speaks against."""


@dataclass(slots=True)
class _Gathered:
    """What has been found so far."""

    owners: Mapping[str, str]
    against: Mapping[str, Collection[str]]
    own_words: Mapping[str, frozenset[str]]
    found: dict[str, PointFound] = field(default_factory=dict)
    doubtful: dict[str, str] = field(default_factory=dict)
    partly: dict[str, str] = field(default_factory=dict)
    unmatched: list[str] = field(default_factory=list)
    refused: dict[str, str] = field(default_factory=dict)
    turned: str = ""

    def clause(self, words: Sequence[str]) -> None:
        """Adds what one clause says."""
        spans, contraries = _apart(_spans(words, self.owners), _contraries(words, self.against))
        inside = {place for start, end, _ in spans for place in range(start, end)}
        known = inside | {place for start, end, _ in contraries for place in range(start, end)}
        starts = {start for start, _, _ in spans}
        for start, end, point in spans:
            if _denied(words, start, end, inside, starts):
                self.doubtful[point.name] = " ".join(words)
            elif strange := self.strangers(words, start, end, known, point.name):
                self.partly[point.name] = strange
            else:
                self.found.setdefault(point.name, point)
        for start, _, names in contraries:
            denied = any(word in DENIALS for word in words[:start])
            (self.doubtful if denied else self.refused).update(dict.fromkeys(names, " ".join(words)))
        if not spans and not contraries:
            self.without_points(words)

    def strangers(self, words: Sequence[str], start: int, end: int, known: Collection[int], name: str) -> str:
        """The words beside a wording, as far as the next "and" or "not", that may turn it round."""
        ends = JOINING | DENIALS  # a denial ahead of it was looked at before, one behind it speaks of the next point
        joints = [place for place, word in enumerate(words) if word in ends and place not in known]
        first = max((place + 1 for place in joints if place < start), default=0)
        last = min((place for place in joints if place >= end), default=len(words))
        beside = HARMLESS | self.own_words[name]
        strange = [words[p] for p in range(first, last) if p not in known and not _is_known(words[p], beside)]
        return " ".join(strange)

    def without_points(self, words: Sequence[str]) -> None:
        """Notes a clause in which nothing was found; one that denies or supposes may speak of what stands beside it."""
        if any(word not in EMPTY_WORDS and not word.isdigit() for word in words):
            self.unmatched.append(" ".join(words))
        if any(word in DENIALS or word in SUPPOSING for word in words):
            self.turned = self.turned or " ".join(words)

    def reading(self) -> PointsReading:
        """The reading of all clauses; a point both made and denied is doubtful, as all beside a clause that turns."""
        for name in self.found:
            if name in self.refused or self.turned:
                self.doubtful.setdefault(name, self.refused.get(name, self.turned))
        found = tuple(point for name, point in self.found.items() if name not in self.doubtful)
        doubtful = tuple(self.doubtful.values())
        partly = tuple(self.partly[name] for name in self.partly if name not in self.found)
        refused = tuple(dict.fromkeys(self.refused[name] for name in self.refused if name not in self.doubtful))
        repairs = tuple(f"“{p.typed}” was read as {p.wording}" for p in found if p.misspelt)
        certainty, reason = _certainty(found, doubtful, partly, refused, bool(repairs))
        return PointsReading(certainty, found, doubtful, partly, tuple(self.unmatched), refused, repairs, reason)


def _certainty(
    found: Sequence[PointFound], doubtful: Sequence[str], partly: Sequence[str], refused: Sequence[str], repaired: bool
) -> tuple[Certainty, str]:
    """How sure a reading is, and why it is not."""
    if doubtful:
        return Certainty.AMBIGUOUS, f"“{doubtful[0]}” may deny what it names"
    if partly:
        return Certainty.AMBIGUOUS, f"“{partly[0]}” beside a point may turn it round"
    if not found and not refused:
        return Certainty.UNREADABLE, NOTHING
    return Certainty.REPAIRED if repaired else Certainty.CERTAIN, ""


def _contraries(words: Sequence[str], against: Mapping[str, Collection[str]]) -> list[Contrary]:
    """Where wordings that speak against points stand in a clause, by those points."""
    places = [(start, start + len(w.split()), w) for w in against for start in range(len(words))]
    return [(start, end, against[w]) for start, end, w in places if " ".join(words[start:end]) == w]


def _apart(spans: Sequence[Span], contraries: Sequence[Contrary]) -> tuple[list[Span], list[Contrary]]:
    """Both without those that are only a part of one of the other kind."""
    kept = [s for s in spans if not any(c[0] <= s[0] and s[1] <= c[1] for c in contraries)]
    return kept, [c for c in contraries if not any(s[0] <= c[0] and c[1] <= s[1] for s in kept)]


def _is_known(word: str, beside: Collection[str]) -> bool:
    return word in beside or word.isdigit()


def _spans(words: Sequence[str], owners: Mapping[str, str]) -> list[Span]:
    """Where wordings stand in a clause, none over another: exact before misspelt ones, longer before shorter."""
    spans: list[Span] = []
    taken: set[int] = set()
    for misspelt in (False, True):
        for size in sorted({len(w.split()) + extra for w in owners for extra in (0, misspelt)}, reverse=True):
            for start in range(len(words) - size + 1):
                places = range(start, start + size)
                if not taken.isdisjoint(places):
                    continue
                point = _point(" ".join(words[start : start + size]), owners, misspelt)
                if point:
                    spans.append((start, start + size, point))
                    taken |= set(places)
    return sorted(spans, key=lambda span: span[0])


def _point(typed: str, owners: Mapping[str, str], misspelt: bool) -> PointFound | None:
    """The point of these very words, or of a wording that they misspell; a denial in them has to be in the wording."""
    if not misspelt:
        return PointFound(owners[typed], typed, typed) if typed in owners else None
    near = nearest(typed, owners) if len(typed) >= SHORTEST else None
    if near is None or DENIALS & set(typed.split()) - set(near.wording.split()):
        return None
    return PointFound(near.owner, near.wording, typed)


def _denied(words: Sequence[str], start: int, end: int, inside: Collection[int], starts: Collection[int]) -> bool:
    """True when a denial stands before it in the clause, behind it and not before another point, or a lessening word
    just before it."""
    if any(word in DENIALS for place, word in enumerate(words[:start]) if place not in inside):
        return True
    if any(
        word in LESSENINGS for place, word in enumerate(words[:start]) if place >= start - 2 and place not in inside
    ):
        return True
    for place in range(end, len(words)):
        if words[place] in JOINING:
            return False
        if place not in inside and words[place] in DENIALS:
            return place + 1 not in starts
    return False
