"""The order of the steps of a process, by letters, numbers or names."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from witnessmark.reading.result import Certainty
from witnessmark.reading.text.match_wording import match
from witnessmark.reading.text.plain_words import is_blank, plain, squeezed, too_long

LONGEST_ORDER = 2_000
LEAD = re.compile(r"^\s*(?:the\s+)?(?:order|answer|steps?|sequence)\s*(?:is|:|=)\s*")
TURNED = re.compile(r"←|<|\bafter\b")
JOINED = re.compile(
    r"\b(?:and then|then|and|next|followed by|before|to|finally|lastly)\b|[-=–—]*>+|→|⇒|➔|➜|[,;/|&+.:)(\]\[]|[-–—]"
)
ITEM_ENDS = re.compile(r"\n+|\b(?:and then|then|followed by|before|next|finally|lastly)\b|[-=–—]*>+|→|⇒|➔|➜|;")
UNSURE = re.compile(
    r"[(\[]?\b(?:i (?:think|guess|believe|hope)|(?:i'?m )?not (?:so )?sure|(?:my|a) guess|probably|maybe|perhaps)\b"
    r"(?: so)?[.?! ]*[)\]]?|\?+"
)
LETTER_RANK = re.compile(r"([a-z])\s*[=:.)\-]*\s*(\d{1,2})(?:st|nd|rd|th)?\b")
RANK_LETTER = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?\s*[=:.)\-]*\s*([a-z])\b")
NUMBERED = re.compile(
    r"[(\[]?(\d{1,2})(?:st|nd|rd|th)?\s*[.:)\]\-–=]*\s+(\S.*)|(\S.*?)\s*[(:=\-–]*\s*(\d{1,2})\)?\s*", re.DOTALL
)
LETTERED = re.compile(r"\s*[(\[]?([a-z])\s*[.:)\]]+\s*(\S.*)", re.DOTALL)
FIRST = re.compile(r"^\s*(?:first(?:ly)?|second(?:ly)?|third(?:ly)?|last(?:ly)?|finally)\b[\s,:]*")

Order = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class OrderReading:
    """What was understood of an order. `orders` holds every reading, likeliest first, each the indexes of the steps as
    listed on the sheet (from 0) in the order that the student gave; none when it could not be read.
    """

    certainty: Certainty
    orders: tuple[Order, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""

    @property
    def order(self) -> Order | None:
        """The likeliest order."""
        return self.orders[0] if self.orders else None


class _Unclear(ValueError):
    """Why an order could not be read."""


def read_order(text: str, steps: Sequence[str]) -> OrderReading:
    """The order in a text; steps are lettered a, b, c (or numbered 1, 2, 3) as listed. Never raises an error."""
    if reason := too_long(text, LONGEST_ORDER):
        return OrderReading(Certainty.UNREADABLE, reason=reason)
    if is_blank(text):
        return OrderReading(Certainty.BLANK)
    lowered, repairs = _without_doubt(plain(text))
    lowered = LEAD.sub("", lowered).strip()
    try:
        found = _by_labels(lowered, len(steps)) or _by_names(lowered, steps)
        return replace(found, repairs=(*repairs, *found.repairs)) if repairs else found
    except _Unclear as unclear:
        return OrderReading(Certainty.UNREADABLE, reason=str(unclear))


def _without_doubt(text: str) -> tuple[str, tuple[str, ...]]:
    """The text without words that only say how sure its writer is, and what was left out."""
    said = [" ".join(match[0].split()) for match in UNSURE.finditer(text)]
    return UNSURE.sub(" ", text), tuple(f"“{words}” was left out" for words in dict.fromkeys(said))


def _by_labels(text: str, count: int) -> OrderReading | None:
    """An order of nothing but letters or numbers; None when there are words in it."""
    for pairs, letter, rank in ((LETTER_RANK, 1, 2), (RANK_LETTER, 2, 1)):
        found = list(pairs.finditer(text))
        if len(found) > 1 and not re.search(r"\w", JOINED.sub(" ", pairs.sub(" ", text))):
            places = {_letter_index(m[letter], count): int(m[rank]) for m in found}
            return _certain(_ranked(places, count))
    bare = TURNED.sub(" ", JOINED.sub(" ", text)).split()
    if all(re.fullmatch(r"[a-z]|\d{1,2}", word) for word in bare):
        labels = bare
    elif (run := "".join(bare)) and _is_run(run, count):
        labels = list(run)
    else:
        return None
    if all(label.isdigit() for label in labels):
        return _numbers([int(label) for label in labels], count, bool(TURNED.search(text)))
    return _turned(_checked([_letter_index(label, count) for label in labels], count), text)


def _is_run(run: str, count: int) -> bool:
    """True of labels without gaps between them, all of one kind: every step, or two and more of them and none twice."""
    labels = {str(i + 1) if run[0].isdigit() else _letter(i) for i in range(count)}
    return set(run) <= labels and (len(run) == count or 1 < len(run) == len(set(run)))


def _letter_index(label: str, count: int) -> int:
    index = ord(label) - ord("a") if len(label) == 1 else count
    if not 0 <= index < count:
        raise _Unclear(f"there is no step “{label}”")
    return index


def _ranked(places: dict[int, int], count: int) -> Order:
    """Steps by the places that stand beside them."""
    if sorted(places.values()) != list(range(1, len(places) + 1)):
        raise _Unclear("the numbers beside the steps are not one after the other")
    return _checked(sorted(places, key=lambda step: places[step]), count)


def _checked(order: Sequence[int], count: int) -> Order:
    """The order, if every step is in it once."""
    doubled = next((i for i in order if order.count(i) > 1), None)
    if doubled is not None:
        raise _Unclear(f"step {_letter(doubled)} is named twice")
    missing = [_letter(i) for i in range(count) if i not in order]
    if missing:
        raise _Unclear(f"step {' and '.join(missing)} is missing")
    return tuple(order)


def _letter(index: int) -> str:
    return chr(ord("a") + index)


def _numbers(numbers: list[int], count: int, turned: bool) -> OrderReading:
    """Numbers alone: the steps in order, or the place of each step as listed; both where they differ."""
    if any(not 1 <= number <= count for number in numbers):
        raise _Unclear(f"the steps are numbered 1 to {count}")
    steps = _checked([number - 1 for number in numbers], count)
    places = tuple(sorted(range(count), key=lambda i: steps[i]))
    if turned:
        return _several([steps, steps[::-1]], "the sign between them can point either way")
    return _several([steps, places], "the numbers can be the steps in order or the place of each step")


def _turned(order: Order, text: str) -> OrderReading:
    if TURNED.search(text):
        return _several([order, order[::-1]], "the sign between them can point either way")
    return _certain(order)


def _several(orders: list[Order], reason: str) -> OrderReading:
    different = tuple(dict.fromkeys(orders))
    return OrderReading(Certainty.AMBIGUOUS, different, reason=reason) if len(different) > 1 else _certain(different[0])


def _certain(order: Order, repairs: tuple[str, ...] = ()) -> OrderReading:
    return OrderReading(Certainty.REPAIRED if repairs else Certainty.CERTAIN, (order,), repairs)


def _by_names(text: str, steps: Sequence[str]) -> OrderReading:
    """An order of names, one a line or with signs between them; numbers beside them give the places."""
    items = _items(ITEM_ENDS.split(text))
    if len(items) < len(steps):
        items = _items(part for item in items for part in item.split(","))
    if len(items) < len(steps):
        return _certain(_checked(_as_they_stand(text, steps), len(steps)))
    numbers: list[int] = []
    order: list[int] = []
    repairs: list[str] = []
    for item in items:
        number, name = _number_apart(FIRST.sub("", item))
        numbers += [number] if number else []
        order.append(_step(name, steps, repairs))
    checked = _checked(order, len(steps))
    if len(numbers) == len(order):
        checked = _ranked(dict(zip(order, numbers, strict=True)), len(steps))
    return _turned(checked, text) if TURNED.search(text) else _certain(checked, tuple(repairs))


def _items(parts: Iterable[str]) -> list[str]:
    return [" ".join(part.split()) for part in parts if re.search(r"\w", part)]


def _number_apart(item: str) -> tuple[int, str]:
    """The number beside a name (0 for none), and the name."""
    found = NUMBERED.fullmatch(item)
    if not found:
        return 0, item
    return int(found[1] or found[4]), found[2] or found[3]


def _step(item: str, steps: Sequence[str], repairs: list[str]) -> int:
    """The step that an item names."""
    lettered = LETTERED.fullmatch(item)
    name = lettered[2] if lettered else item
    label = re.fullmatch(r"\s*[(\[]?([a-z])[\s.:)\]]*", item)
    if label:
        return _letter_index(label[1], len(steps))
    found = match(name, steps)
    if found.index is None:
        raise _Unclear(f"“{squeezed(name)}” is not clearly one of the steps")
    if lettered and _letter_index(lettered[1], len(steps)) != found.index:
        raise _Unclear(f"the letter of “{squeezed(name)}” is another step's")
    repairs += [r for r in found.repairs if r not in repairs]
    return found.index


def _as_they_stand(text: str, steps: Sequence[str]) -> list[int]:
    """The steps by the place of their full names in a text without signs between them."""
    words = f" {squeezed(text)} "
    places = {i: words.find(f" {squeezed(step)} ") for i, step in enumerate(steps)}
    found = sorted((place, i) for i, place in places.items() if place >= 0)
    if not found:
        raise _Unclear("no step is named")
    return [i for _, i in found]
