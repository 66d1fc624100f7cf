"""What recurs and what faded, in plain words with the numbers they rest on."""

from witnessmark.review.statistics.paired import FINDING
from witnessmark.review.statistics.shares import Share
from witnessmark.review.year.fading import After, Faded
from witnessmark.review.year.recurrence import Standing, YearRecurrence

BETWEEN = {
    After.FEEDBACK: "between their first task with a chance and their last",
    After.FOLLOW_UP: "from before the follow-up to its last question",
    After.VISIT: "from before the visit to the first chance after it",
}
LEAST_TOLD = 0.01
CHOSEN = (
    "They were chosen because they showed it, and some of them would not have shown it again in any case: "
    "this tells what became of them, not what helped."
)


def counted(count: int, what: str) -> str:
    """`1 student`, `5 students`."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def percent(share: float) -> str:
    """`42 %`, with a space that does not break."""
    return f"{100 * share:.0f}\u00a0%"


def share_words(share: Share) -> str:
    """`6 of 17 who had the chance: 35 %, and 17 % to 59 % as far as so few can tell`."""
    if not share.of:
        return "nobody had the chance"
    interval = share.interval()
    told = f"{share.count} of the {share.of} who had the chance"
    if share.is_of_few:
        return f"{told}: too few to say how common it is"
    between = f"{percent(interval.low)} to {percent(interval.high)}"
    return f"{told}: {percent(share.count / share.of)}, and {between} as far as so many can tell"


def standing_words(recurrence: YearRecurrence) -> str:
    """What may be said of one misconception."""
    match recurrence.standing:
        case Standing.NO_CHANCE:
            return "Not seen, and no question that was answered could have shown it: nothing is known of it."
        case Standing.NOT_SEEN:
            return f"Not seen in {counted(len(recurrence.could), 'student')} who had the chance."
        case Standing.ONCE:
            only = recurrence.seen[0]
            return f"Seen once, in {only.student} at {only.label} of {only.task_key}: one sighting, no more than that."
        case Standing.RECURS:
            return f"Shown by {share_words(recurrence.share)}."


def faded_words(one: Faded) -> str:
    """What became of it in those who had a chance before and after, and what that is worth."""
    c = one.counts
    told = (
        f"{counted(c.people, 'student')} had a chance before and after, {BETWEEN[one.after]}: "
        f"{c.before_only} stopped showing it, {c.after_only} began to, {c.both} showed it both times."
    )
    if one.after is not After.FEEDBACK:
        return f"{told} {CHOSEN}"
    return f"{told} {_worth(one)}"


def _worth(one: Faded) -> str:
    c = one.counts
    often = percent(c.chance) if c.chance >= LEAST_TOLD else f"less than {percent(LEAST_TOLD)}"
    odds = f"chance alone does as much in {often} of cases (exact test of the {c.changed} who changed)"
    if one.is_finding and c.before_only > c.after_only:
        return f"It has faded: {odds}."
    if one.is_finding:
        return f"It has spread: {odds}."
    if c.least_chance > FINDING:
        return f"So few changed that nothing can be concluded: {odds}."
    return f"That is no clear change: {odds}."
