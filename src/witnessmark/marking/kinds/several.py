"""Marking several options: each right one earns its share, each wrong one takes such a share off, never below nothing.

Where fewer options are wrong than right, a wrong one takes off so much more that whoever chooses all of them has
nothing. What is left is rounded down to the task's steps of marks. Common practice, no source.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from witnessmark.marking.kinds.choice import NO_LETTERS
from witnessmark.marking.kinds.without_numbers import REPAIRED, TWO_WAYS, blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.parts import SeveralPart
from witnessmark.questions.sheet.listing import letter_of, listed_options, with_letters
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.several import SeveralReading, read_several


def mark_several(part: SeveralPart, text: str, variant: Variant | None, rules: Rules) -> Outcome:
    """The outcome of one set of options, the kindest where it can be read in several ways. Without all of the variant's
    numbers the letters are not known, but words are read."""
    variant = with_letters(variant)
    options = listed_options(variant, part) if variant else part.options
    reading = read_several(text, [option.text for option in options])
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if not reading.sets:
        return unreadable(part, text, reading.reason)
    if variant is None and not _in_words(text, reading, part.options):
        return unreadable(part, text, NO_LETTERS)
    return _chosen(part, text, reading, options, variant, rules)


def marks_of(part: SeveralPart, chosen: Iterable[Option], rules: Rules) -> Decimal:
    """What a set of options earns."""
    told = list(chosen)
    right = sum(option.right for option in part.options)
    fewer = min(right, len(part.options) - right)
    hits = sum(option.right for option in told)
    earned = part.marks * (hits * fewer - (len(told) - hits) * right) / (right * fewer)
    return rounded_down(max(earned, Decimal(0)), rules.half_marks)


def slips_shown(part: SeveralPart, chosen: Sequence[Option], variant: Variant | None) -> tuple[str, ...]:
    """The misconceptions of a set that a slip describes, else those of the wrong options in it."""
    texts = {option.text for option in chosen}
    for slip in part.slips:
        if {filled(text, variant) if variant else text for text in slip.chooses} == texts:
            return (slip.misconception,)
    return tuple(dict.fromkeys(option.misconception for option in chosen if option.misconception))


def _in_words(text: str, reading: SeveralReading, options: Sequence[Option]) -> bool:
    """True where the options are the same in another order of them, as they are when they are named by words."""
    turned = (*options[1:], *options[:1])
    other = read_several(text, [option.text for option in turned])
    named, again = (
        {frozenset(order[i].text for i in chosen) for chosen in found.sets}
        for found, order in ((reading, options), (other, turned))
    )
    return named == again


def _chosen(
    part: SeveralPart, text: str, reading: SeveralReading, options: Sequence[Option], variant: Variant | None,
    rules: Rules,
) -> Outcome:  # fmt: skip
    sets = [[options[i] for i in sorted(chosen)] for chosen in reading.sets]
    earned = [marks_of(part, chosen, rules) for chosen in sets]
    best = earned.index(max(earned))
    chosen, marks = sets[best], earned[best]
    is_right = {o.text for o in chosen} == {o.text for o in options if o.right}
    who = () if is_right else slips_shown(part, chosen, variant)
    verdict = Verdict.RIGHT if is_right else Verdict.SLIP if who else Verdict.WRONG
    tray = [TWO_WAYS] if len(set(earned)) > 1 else []
    tray += [REPAIRED] if reading.certainty is Certainty.REPAIRED and not is_right else []
    letters = ", ".join(letter_of(i) for i in sorted(reading.sets[best])) if variant else ""
    return Outcome(
        marks, part.marks, verdict, _sentence(chosen, options), who, raw=text,
        read_as=letters or ", ".join(option.text for option in chosen) or "none of them", repairs=reading.repairs,
        in_tray=tuple(tray),
    )  # fmt: skip


def _sentence(chosen: Sequence[Option], options: Sequence[Option]) -> str:
    """What is wrong and what is missing; that everything was chosen tells nothing."""
    wrong, missing = [o for o in chosen if not o.right], [o for o in options if o.right and o not in chosen]
    if not wrong and not missing:
        return "Right: these and no others."
    if len(chosen) == len(options):
        return f"You chose all of them, which says nothing; right are {_quoted(o for o in options if o.right)}."
    said = [f"{_quoted(wrong)} {'does' if len(wrong) == 1 else 'do'} not belong here"] if wrong else []
    said += [f"{_quoted(missing)} {'is' if len(missing) == 1 else 'are'} missing"] if missing else []
    return f"{'; '.join(said)}."


def _quoted(options: Iterable[Option]) -> str:
    texts = [f"“{option.text}”" for option in options]
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"
