"""Which of the accepted points a short text makes: whole words, small spelling mistakes, never what it denies."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from witnessmark.reading.result import Certainty
from witnessmark.reading.text.near_words import nearest
from witnessmark.reading.text.plain_words import clauses, is_blank, plain, squeezed, too_long

LONGEST_TEXT = 2_000
DENIALS = frozenset(
    ["no", "not", "non", "never", "neither", "nor", "without", "cannot", "un", "hardly", "none", "lack", "lacks",
     "lacking", "free", "absent", "instead", "except", "unlike", "rather", "avoid", "avoids", "prevent", "prevents"]
)  # fmt: skip
LESSENINGS = frozenset(
    ["low", "lower", "less", "little", "poor", "poorer", "reduced", "reduces", "bad", "weak", "decreases", "decreased",
     "loses", "lost", "few", "too"]
)  # fmt: skip
JOINING = frozenset(["and", "or", "plus", "also"])
EMPTY_WORDS = frozenset(
    ["the", "a", "an", "it", "is", "its", "are", "and", "or", "of", "very", "has", "be", "to", "in", "for"]
)
SHORTEST = 4
NOTHING = "none of the accepted wordings was found in it"


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

    `doubtful` are wordings that the text seems to deny or lessen, `unmatched` the clauses in which nothing was found:
    both are for the teacher. `repairs` are sentences.
    """

    certainty: Certainty
    found: tuple[PointFound, ...] = ()
    doubtful: tuple[str, ...] = ()
    unmatched: tuple[str, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the points that were found."""
        return tuple(point.name for point in self.found)


def read_points(text: str, points: Mapping[str, Collection[str]]) -> PointsReading:
    """The points that a text makes; `points` maps the name of a point to its wordings. Never raises an error."""
    if reason := too_long(text, LONGEST_TEXT):
        return PointsReading(Certainty.UNREADABLE, reason=reason)
    if is_blank(text):
        return PointsReading(Certainty.BLANK)
    owners = {squeezed(w): name for name, wordings in points.items() for w in wordings if squeezed(w)}
    gathered = _Gathered()
    for words in clauses(plain(text)):
        gathered.clause(words, owners)
    return gathered.reading()


@dataclass(slots=True)
class _Gathered:
    """What has been found so far."""

    found: dict[str, PointFound] = field(default_factory=dict)
    doubtful: dict[str, str] = field(default_factory=dict)
    unmatched: list[str] = field(default_factory=list)

    def clause(self, words: Sequence[str], owners: Mapping[str, str]) -> None:
        """Adds what one clause says."""
        spans = _spans(words, owners)
        inside = {place for start, end, _ in spans for place in range(start, end)}
        starts = {start for start, _, _ in spans}
        for start, end, point in spans:
            if _denied(words, start, end, inside, starts):
                self.doubtful[point.name] = " ".join(words)
            else:
                self.found.setdefault(point.name, point)
        if not spans and any(word not in EMPTY_WORDS and not word.isdigit() for word in words):
            self.unmatched.append(" ".join(words))

    def reading(self) -> PointsReading:
        """The reading of all clauses; a point both made and denied is doubtful."""
        found = tuple(point for name, point in self.found.items() if name not in self.doubtful)
        doubtful = tuple(self.doubtful.values())
        repairs = tuple(f"“{p.typed}” was read as {p.wording}" for p in found if p.misspelt)
        if doubtful:
            certainty, reason = Certainty.AMBIGUOUS, f"“{doubtful[0]}” may deny what it names"
        elif not found:
            certainty, reason = Certainty.UNREADABLE, NOTHING
        else:
            certainty, reason = Certainty.REPAIRED if repairs else Certainty.CERTAIN, ""
        return PointsReading(certainty, found, doubtful, tuple(self.unmatched), repairs, reason)


Span = tuple[int, int, PointFound]


def _spans(words: Sequence[str], owners: Mapping[str, str]) -> list[Span]:
    """Where wordings stand in a clause, none over another: exact before misspelt ones, longer before shorter."""
    spans: list[Span] = []
    taken: set[int] = set()
    for misspelt in (False, True):
        for size in sorted({len(w.split()) + extra for w in owners for extra in (0, misspelt)}, reverse=True):
            for start in range(len(words) - size + 1):
                places = range(start, start + size)
                point = _point(" ".join(words[start : start + size]), owners, misspelt)
                if point and taken.isdisjoint(places):
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
