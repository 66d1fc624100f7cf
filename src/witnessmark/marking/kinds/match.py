"""Marking pairs: each right one earns its share, and a letter that stands at two numbers earns nothing at either.

So whoever gives every number the same letter has nothing. What is earned is rounded down to the task's steps of marks.
Common practice, no source.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from witnessmark.marking.kinds.choice import NO_LETTERS
from witnessmark.marking.kinds.without_numbers import REPAIRED, blank, unreadable
from witnessmark.marking.kinds.wrong_answers import Wrong
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.parts import MatchPart
from witnessmark.questions.sheet.listing import letter_of, lettered_options, numbered_things, with_letters
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.pairs import PairsReading, read_pairs

Given = Mapping[str, str]
"""The option that was given to each thing, both as the question's file has them; nothing for a thing left open."""


def mark_match(part: MatchPart, text: str, variant: Variant | None, rules: Rules) -> Outcome:
    """The outcome of one set of pairs. Without all of the variant's numbers neither numbers nor letters are known, but
    words are read."""
    variant = with_letters(variant)
    things, options = numbered_things(part, variant), lettered_options(part, variant)
    reading = _read(part, text, things, options, variant)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if reading.options is None:
        return unreadable(part, text, reading.reason)
    given = _given(things, options, reading)
    if variant is None:
        turned = (*things[1:], *things[:1]), (*options[1:], *options[:1])
        again = _read(part, text, *turned, variant)
        if again.options is None or _given(*turned, again) != given:
            return unreadable(part, text, NO_LETTERS)
    return _paired(part, text, reading, given, variant, rules)


def marks_of(part: MatchPart, given: Given, rules: Rules) -> Decimal:
    """What a set of pairs earns."""
    told = list(given.values())
    hits = sum(given.get(thing) == option and told.count(option) == 1 for thing, option in part.pairs)
    return rounded_down(part.marks * hits / len(part.pairs), rules.half_marks)


def slips_shown(part: MatchPart, given: Given) -> tuple[str, ...]:
    """The misconceptions of the wrong pairs; none where every thing has the same option, which says nothing."""
    if _says_nothing(given):
        return ()
    return tuple(dict.fromkeys(s.misconception for s in part.slips if given.get(s.thing) == s.option))


def wrong_pairs(variant: Variant, part: MatchPart) -> Iterator[Wrong]:
    """For every slip the right pairs but for its own; whose option that is has the other's instead."""
    things, options = numbered_things(part, variant), lettered_options(part, variant)
    told = set()
    for slip in part.slips:
        given = dict(part.pairs)
        other = next((thing for thing, option in part.pairs if option == slip.option), None)
        given[slip.thing], own = slip.option, given[slip.thing]
        if other is not None:
            given[other] = own
        typed = ", ".join(f"{n}{letter_of(options.index(given[thing]))}" for n, thing in enumerate(things, 1))
        if typed not in told:
            told.add(typed)
            yield slips_shown(part, given), typed


def _read(
    part: MatchPart, text: str, things: tuple[str, ...], options: tuple[str, ...], variant: Variant | None
) -> PairsReading:
    """What a text pairs; the names of balloons are printed nowhere, so nobody types them."""
    named = [""] * len(things) if part.in_figure else [_shown(thing, variant) for thing in things]
    return read_pairs(text, named, [_shown(option, variant) for option in options])


def _shown(text: str, variant: Variant | None) -> str:
    return filled(text, variant) if variant else text


def _given(things: tuple[str, ...], options: tuple[str, ...], reading: PairsReading) -> Given:
    found = zip(things, reading.options or (), strict=True)
    return {thing: options[index] for thing, index in found if index is not None}


def _says_nothing(given: Given) -> bool:
    return len(given) > 1 and len(set(given.values())) == 1


def _paired(
    part: MatchPart, text: str, reading: PairsReading, given: Given, variant: Variant | None, rules: Rules
) -> Outcome:
    is_right = given == dict(part.pairs)
    who = slips_shown(part, given)
    verdict = Verdict.RIGHT if is_right else Verdict.SLIP if who else Verdict.WRONG
    tray = (REPAIRED,) if reading.certainty is Certainty.REPAIRED and not is_right else ()
    return Outcome(
        marks_of(part, given, rules), part.marks, verdict, _sentence(part, given, variant), who, raw=text,
        read_as=_read_as(part, given, variant), repairs=reading.repairs, in_tray=tray,
    )  # fmt: skip


def _read_as(part: MatchPart, given: Given, variant: Variant | None) -> str:
    if variant is None:
        return "; ".join(f"{thing}: {option}" for thing, option in given.items())
    options = lettered_options(part, variant)
    numbered = enumerate(numbered_things(part, variant), 1)
    return ", ".join(f"{n}{letter_of(options.index(given[thing]))}" for n, thing in numbered if thing in given)


def _sentence(part: MatchPart, given: Given, variant: Variant | None) -> str:
    """What each wrong thing goes with, which letters stand twice, and what stands open."""
    if given == dict(part.pairs):
        return "Right: every pair."
    if _says_nothing(given):
        return "You gave every number the same letter, which says nothing."
    right, told = dict(part.pairs), list(given.values())
    named = {t: str(n) if variant else f"“{t}”" for n, t in enumerate(numbered_things(part, variant), 1)}
    wrong = [
        f"{name} goes with “{_shown(right[thing], variant)}”, not with “{_shown(given[thing], variant)}”"
        for thing, name in named.items() if thing in given and given[thing] != right[thing]
    ]  # fmt: skip
    twice = [f"“{_shown(option, variant)}”" for option in dict.fromkeys(told) if told.count(option) > 1]
    said = [f"Not right: {'; '.join(wrong)}."] if wrong else []
    said += [f"Given twice, where it fits one number at most: {', '.join(twice)}."] if twice else []
    left = [name for thing, name in named.items() if thing not in given]
    said += [f"Left open: {', '.join(left)}."] if left else []
    return " ".join(said)
