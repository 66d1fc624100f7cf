"""The shares that weighing starts from: how people round, and how often each kind of method is met. One place for all.

Shares of habits are our assumption (common practice, no source); `trial` shows what follows when they are off by half.
"""

from witnessmark.marking.outcome import Verdict

# How people carry a line on: in full on the calculator, or written down to so many figures.
LINE_HABITS: tuple[tuple[int | None, float], ...] = ((None, 0.60), (3, 0.20), (4, 0.12), (2, 0.04), (5, 0.04))

# Of those whose earlier result is wrong, how many work on from what stands on the calculator, not from the digits they
# wrote down: as many as carry lines on in full.
CARRIED_IN_FULL = 0.60
# Of these, who come from the very number that the method named for it gives, and not by another way of rounding.
BY_ITS_METHOD = 0.5

# Powers of ten that unit prefixes and their squares and cubes make, each with how often it is met beside the others:
# prefixes lead, then centimetres and noughts; the rest come of several in one term (common practice, no source).
SHARE_OF_POWER: dict[int, float] = {
    n: share
    for share, powers in ((3.0, (3, 6)), (2.0, (1, 2, 9)), (1.5, (4, 5)), (0.25, (7, 8, 10, 11, 12)))
    for size in powers
    for n in (-size, size)
}
POWERS = tuple(sorted(SHARE_OF_POWER))
# Of a slip: those that are met beside another mistake.
SLIP_POWERS = tuple(n for n in POWERS if SHARE_OF_POWER[n] >= 1.0)

# How often each kind of method is met among answers, before the digits are looked at; each is shared evenly by the
# methods of its kind. Right answers lead; one slip is commoner than two; noise is what no method explains.
PRIOR_OF_KIND: dict[str, float] = {
    "right": 0.50,
    "carried": 0.50,
    "each rounded": 0.04,
    "rounded early": 0.03,
    "coarse constant": 0.015,
    "carried early": 0.03,
    "cut off": 0.04,
    "other g": 0.03,
    "power of ten": 0.06,
    "conversion": 0.015,
    "slip": 0.18,
    "slip carried": 0.18,
    "slip and power of ten": 0.04,
    "two slips": 0.03,
    "sign": 0.02,
    "slip and sign": 0.01,
    "not converted": 0.03,
    "digits": 0.01,
    "two slips, other dimension": 0.02,
    "edit": 0.02,
    "rarer edit": 0.01,
    "two edits": 0.003,
}
PRIOR_OF_NONE = 0.01

# Who takes pi as 3, beside one who takes g as 10 (common practice, no source).
PI_AS_THREE = 0.3

# Whose own earlier result is wrong works on from it; a method that starts from the right one instead is so much less
# likely, for each such result.
NOT_FROM_OWN = 0.05

# None of these: numbers spread evenly over their logarithm, a factor of ten each way of the right answer; a tenth of
# that density beyond, and where the sign is another.
NONE_DECADES = 2.0
NONE_BEYOND = 0.1

# Who goes on from the digits that they wrote down of a right earlier result, where these differ from what stands on
# the calculator.
GOES_ON_AS_TYPED = 0.4
# Who goes on from something that rounds to these digits and is no listed habit: only what came before was rounded.
ROUNDED_BEFORE = 0.15

# Who leaves further digits out where the last one should be rounded.
CUT_OFF = 0.05

# To how many figures people round; of a whole number that ends in noughts nobody sees it: `4000` may stand for 3986.
FIGURES_MEANT: dict[int, float] = {1: 0.01, 2: 0.08, 3: 0.42, 4: 0.30, 5: 0.13, 6: 0.06}

# To how many figures every operation is rounded by those who write each down.
EACH_ROUNDED: dict[int, float] = {3: 0.6, 4: 0.4}

# An entry is weighed against a method only when it lies this near (natural logarithm) to the method's value.
WINDOW = 0.06

# Explanations at least this share as likely as the leading one count as a tie with it.
TIE_SHARE = 0.5

# No name is surer than this: so often something that nobody lists gives the same digits as what is listed, such as two
# digits turned within the rounding, or a given of 1 left out; and as what no question lists, of which there is so much
# more (measured with the strangers of `trial`: 1 in 1,000, and 6).
MOST_SURE = 0.999
MOST_SURE_OF_EDIT = 0.994

# What a class's own counts weigh against the assumed priors of its wrong methods: as much as so many answers; and from
# how many wrong answers at a place on, surely named, they are listened to at all.
CLASS_STRENGTH = 20.0
LEAST_COUNTED = 3
SURELY_NAMED = 0.9

ORDER = tuple(Verdict)
