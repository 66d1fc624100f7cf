"""Yes or no in the words that people use for it; a question such as "Will it survive?" asks for the good end."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from witnessmark.reading.result import Certainty
from witnessmark.reading.short.judgement_words import (
    AUXILIARIES,
    BAD,
    BARE,
    CONDITIONS,
    DOUBTS,
    FILLERS,
    GOOD,
    HEDGES,
    LETTERS,
    MARKS,
    NEGATORS,
    NO,
    NOUNS,
    PHRASES,
    STRONGLY,
    YES,
)
from witnessmark.reading.text.near_words import nearest
from witnessmark.reading.text.plain_words import clauses, is_blank, plain, squeezed, too_long

OTHER_WORDS = (STRONGLY, NEGATORS, FILLERS, HEDGES, DOUBTS, CONDITIONS)
LONG_WORD = 4
SHORTEST_SWAP = 3
LONGEST_JUDGEMENT = 1_000
MOST_SHOWN = 8


@dataclass(frozen=True, slots=True)
class JudgementReading:
    """What was understood of a yes or no: `value` is None when it could not be read; `repairs` are sentences."""

    certainty: Certainty
    value: bool | None = None
    repairs: tuple[str, ...] = ()
    reason: str = ""


def read_judgement(text: str, yes_words: Collection[str] = (), no_words: Collection[str] = ()) -> JudgementReading:
    """The yes or no in a text. `yes_words` and `no_words` add words of this question, or turn ours round: for "Will it
    break?" give breaks and fails as `yes_words`, survives and holds as `no_words`. Never raises an error.
    """
    if reason := too_long(text, LONGEST_JUDGEMENT):
        return JudgementReading(Certainty.UNREADABLE, reason=reason)
    if is_blank(text):
        return JudgementReading(Certainty.BLANK)
    judge = _Judge(_senses(yes_words, no_words))
    return judge.reading(text)


def _senses(yes_words: Collection[str], no_words: Collection[str]) -> dict[str, bool]:
    senses = dict.fromkeys(GOOD, True) | dict.fromkeys(BAD, False)
    senses |= {squeezed(word): True for word in yes_words} | {squeezed(word): False for word in no_words}
    return senses


@dataclass(slots=True)
class _Judge:
    """Gathers what a text says, clause by clause."""

    senses: Mapping[str, bool]
    said: list[bool] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    repairs: list[str] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)

    def reading(self, text: str) -> JudgementReading:
        """The reading of a whole text."""
        for clause in self.prepared(text):
            self.clause([self.known(word) for word in clause])
        if self.doubts:
            return _unreadable(f"“{self.doubts[0]}” leaves it open")
        if len(set(self.said)) != 1:
            return _unreadable("it says both yes and no" if self.said else "neither yes nor no was found in it")
        if self.unused:
            self.repairs.append(f"“{' '.join(self.unused[:MOST_SHOWN])}” was not needed to see yes or no")
        certainty = Certainty.REPAIRED if self.repairs else Certainty.CERTAIN
        return JudgementReading(certainty, self.said[0], tuple(self.repairs))

    def prepared(self, text: str) -> list[list[str]]:
        """The clauses, without an echo of the question and with set phrases as single words."""
        for mark, word in MARKS.items():
            text = text.replace(mark, word)
        lowered = plain(text)
        head, mark, tail = lowered.rpartition("?")
        if tail.strip():
            lowered = tail
        elif mark:
            lowered = head.rpartition("?")[2] or head
            self.doubts += ["?"] if lowered.split()[:1] and lowered.split()[0] in AUXILIARIES else []
            self.repairs.append("a question mark behind it was left out")
        for phrase, word in PHRASES.items():
            lowered = lowered.replace(phrase, word) if phrase in lowered else lowered
        return clauses(lowered.replace("/", " "))

    def known(self, word: str) -> str:
        """The word, or the known one that it must be a misspelling of."""
        if self.is_known(word):
            return word
        short = word.rstrip(word[-1:]) + word[-1:]
        meant = short if self.is_known(short) else self.swapped(word)
        if not meant and len(word) >= LONG_WORD:
            near = nearest(word, {w: str(self.sense(w)) for w in (*self.senses, *YES, *NO)})
            meant = near.wording if near else ""
        if meant:
            self.repairs.append(f"“{word}” was read as {meant}")
        return meant or word

    def swapped(self, word: str) -> str:
        """A short word with two neighbouring letters in the wrong order (`yse`, `ture`)."""
        if not SHORTEST_SWAP <= len(word) <= LONG_WORD + 1:
            return ""
        turned = (word[:i] + word[i + 1] + word[i] + word[i + 2 :] for i in range(len(word) - 1))
        return next((w for w in turned if w in YES or w in NO or w in self.senses), "")

    def is_known(self, word: str) -> bool:
        """True when the word means something here."""
        return any(word in known for known in (self.senses, YES, NO, LETTERS, *OTHER_WORDS))

    def sense(self, word: str) -> bool | None:
        """Yes, no, or neither."""
        return True if word in YES else False if word in NO else self.senses.get(word)

    def clause(self, words: list[str]) -> None:
        """Adds what one clause says."""
        if len(words) == 1 and words[0] in LETTERS:
            self.said.append(LETTERS[words[0]])
            return
        found = _Clause()
        for word, following in zip(words, [*words[1:], ""], strict=True):
            self.word(word, following, found)
        self.said += found.said
        self.doubts += found.doubts
        self.unused += found.unused
        if not found.said:
            self.bare(words, found)
        elif found.negated and not found.used and not all(word in NO for word in found.polar):
            self.doubts.append("not")

    def word(self, word: str, following: str, found: "_Clause") -> None:
        """Adds what one word of a clause says."""
        if word in NEGATORS or (word == "no" and following in NOUNS):
            found.negated, found.used, found.strange = not found.negated or found.used, False, False
        elif word == "no" and following and (following in BAD or not self.is_known(following)):
            found.doubts.append(f"no {following}")
        elif word in CONDITIONS or (word in DOUBTS and not (word == "could" and following == "not")):
            found.doubts.append(word)
        elif (sense := self.sense(word)) is not None:
            found.says(word, sense)
            found.negated = found.negated and following in ("and", "or")
        elif word in STRONGLY:
            found.strongly = True
        elif word in HEDGES or not self.is_known(word):
            found.strange = found.strange or word not in HEDGES
            found.unused.append(word)

    def bare(self, words: list[str], found: "_Clause") -> None:
        """A clause without such a word: "it will", "it does not", "certainly"."""
        helped = found.strongly or any(word in AUXILIARIES for word in words)
        bare = all(word in BARE for word in words)
        if bare and (found.negated or (helped and not self.said)):
            self.said.append(not found.negated)


@dataclass(slots=True)
class _Clause:
    """What one clause says so far: `negated` by a word that is `used` up by what it turned round."""

    said: list[bool] = field(default_factory=list)
    polar: list[str] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)
    negated: bool = False
    used: bool = False
    strange: bool = False
    strongly: bool = False

    def says(self, word: str, sense: bool) -> None:
        """Adds a word that means yes or no, turned round by a negation close before it."""
        if self.negated and self.strange:
            self.doubts.append(f"not … {word}")
        self.said.append(sense is not self.negated)
        self.polar.append(word)
        self.used = self.negated


def _unreadable(reason: str) -> JudgementReading:
    return JudgementReading(Certainty.UNREADABLE, reason=reason)
