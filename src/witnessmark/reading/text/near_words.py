"""Spelling mistakes: the only door to rapidfuzz, and one cautious rule for whole words.

Measured: typing mistakes score 86 to 97 by `fuzz.ratio`, the next best word 77 at most; the partial scores of the
library would take `no tension` for `tension` and are not used.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz, process
from rapidfuzz.distance import DamerauLevenshtein

LOWEST_RATIO = 85.0
LEAD = 8.0
MOST_CHANGES = 2
WITHOUT = ("less", "free")


@dataclass(frozen=True, slots=True)
class Near:
    """A known wording taken for a misspelt one: what it stands for, how alike they are (0 to 100), how many changes."""

    wording: str
    owner: str
    ratio: float
    changes: int


def nearest(typed: str, wordings: Mapping[str, str]) -> Near | None:
    """The wording that a misspelt text must mean, None when there is none or another owner's comes close.

    `wordings` maps wordings to their owner (a point, an option); both sides are expected in lower case. Words that
    differ by a syllable of negation (`soluble`, `insoluble`) are never taken for each other.
    """
    scores = process.extract(typed, wordings.keys(), scorer=fuzz.ratio, score_cutoff=LOWEST_RATIO - LEAD, limit=None)
    if not scores or scores[0][1] < LOWEST_RATIO:
        return None
    best, ratio, _ = scores[0]
    rivals = [score for wording, score, _ in scores[1:] if wordings[wording] != wordings[best]]
    changes = DamerauLevenshtein.distance(typed, best)
    if (rivals and ratio - rivals[0] < LEAD) or changes > MOST_CHANGES or not _same_sense(typed, best):
        return None
    return Near(best, wordings[best], ratio, changes)


def _same_sense(typed: str, wording: str) -> bool:
    """False when a word begins otherwise, as with a syllable of negation, or when one of two ends in less or free."""
    words, known = typed.split(), wording.split()
    if len(words) != len(known):
        return typed.replace(" ", "") == wording.replace(" ", "")
    return all(
        _begins_alike(w, k) and w.endswith(WITHOUT) == k.endswith(WITHOUT) for w, k in zip(words, known, strict=True)
    )


def _begins_alike(typed: str, known: str) -> bool:
    """True when both begin with the same letter, or with the same two the other way round."""
    return typed[:1] == known[:1] or sorted(typed[:2]) == sorted(known[:2])
