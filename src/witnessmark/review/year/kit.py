"""What to carry for several demonstrations, nothing twice, and what to mind when they are shown."""

import re
from collections.abc import Iterable

COUNTS = {"one": 1, "a": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "ten": 10}
SAID_OF_MANY = frozenset({"equal"})
ALWAYS_MANY = ("ss", "scissors", "glasses", "scales", "tongs")

# Common practice, no source: what can hurt in a demonstration at a bench, by the words that tell of it.
CAUTIONS: tuple[tuple[str, str], ...] = (
    (
        r"saw\w*|hacksaw|knife|scissors|cut\w*|chisel|file|punch\w*|drill\w*|lathe",
        "Edges and blades cut: clamp the work, cut away from the hand, and let nobody hold the piece for you.",
    ),
    (
        r"hot|blowlamp|flame|torch|boil\w*|heat\w*|red|pan|candle",
        "Heat: keep it on a tray that does not burn, keep water at hand, and let no one touch what was hot.",
    ),
    (
        r"syringes?|hose|pump|pressure|squeeze\w*|balloons?|bottle",
        "Anything under pressure can let go: wear glasses, and point no open end at anybody.",
    ),
    (
        r"weights?|lift\w*|hang\w*|tackle|hoist\w*|drum|chain|kilogram",
        "What hangs can fall: keep it low, over the floor and not over feet, and stand beside it.",
    ),
    (
        r"batter(?:y|ies)|cells?|ammeters?|cable|wire|resistors?|lamps?",
        "Use no more than 12 V from a small battery with a fuse; a wire across its ends burns at once.",
    ),
    (r"diesel|glue|solvent|salt|acid", "Keep it off the skin, and away from flames."),
    (r"press|vice|jack|hammer\w*|broken|break\w*", "Things that are loaded until they give way fly: wear glasses."),
)


def merged_kit(kits: Iterable[Iterable[str]]) -> tuple[str, ...]:
    """Every thing once, in alphabetical order; of `weight` and `two equal weights` only the larger number."""
    largest: dict[str, tuple[int, int, str]] = {}
    for item in (item for kit in kits for item in kit):
        count, thing = _counted(item)
        entry = (count, len(item), item)
        largest[thing] = max(largest.get(thing, entry), entry)
    return tuple(item for _, _, item in sorted(largest.values(), key=lambda entry: _counted(entry[2])[1]))


def _counted(item: str) -> tuple[int, str]:
    first, _, rest = item.partition(" ")
    count, thing = (COUNTS[first.casefold()], rest) if first.casefold() in COUNTS and rest else (1, item)
    words = [word for word in thing.casefold().split() if word not in SAID_OF_MANY]
    if (
        words
        and len(words[-1]) > 3
        and words[-1].endswith("s")
        and not words[-1].endswith(("ss", "scissors", "glasses"))
    ):
        words[-1] = words[-1][:-1]
    return count, " ".join(words)


def cautions_of(demonstration: str, kit: Iterable[str]) -> tuple[str, ...]:
    """What to mind when this is shown."""
    told = f"{demonstration} {' '.join(kit)}".casefold()
    return tuple(caution for pattern, caution in CAUTIONS if re.search(rf"\b(?:{pattern})\b", told))
