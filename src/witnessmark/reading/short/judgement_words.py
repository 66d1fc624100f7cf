"""The words of yes and no: what means which, what turns it round, what leaves it open, what does not matter."""


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


YES = _words("yes yeah yep yup yea yh yeh ye aye true correct affirmative")
NO = _words("no nope nah naw nay false negative never")
STRONGLY = _words("definitely certainly absolutely surely totally obviously clearly")
LETTERS = {"y": True, "t": True, "n": False, "f": False}
MARKS = {
    "✓": " yes, ", "✔": " yes, ", "☑": " yes, ", "✅": " yes, ", "👍": " yes, ", "🗸": " yes, ",
    "✗": " no, ", "✘": " no, ", "☒": " no, ", "❌": " no, ", "✖": " no, ", "👎": " no, ", "🗴": " no, ",
}  # fmt: skip
GOOD = _words(
    "survive survives survived surviving hold holds held holding safe safely ok okay fine pass passes "
    "passed withstand withstands adequate sufficient enough acceptable copes cope works work secure lasts "
    "suitable succeeds intact right allowed permissible good"
)
BAD = _words(
    "fail fails failed failing failure break breaks broke broken breaking breakage snap snaps snapped "
    "crack cracks cracked crush crushes crushed yield yields yielded yielding buckle buckles buckled "
    "buckling collapse collapses collapsed bend bends bent unsafe overloaded overstressed insufficient "
    "inadequate unacceptable unsuitable unfit dangerous burst bursts rupture ruptures fracture fractures "
    "deform deforms smash smashes damage damaged split splits weak wrong incorrect bad dies die problem "
    "problems issue issues danger risk"
)
NOUNS = _words("failure breakage damage problem problems issue issues danger risk")
NEGATORS = _words("not never without unable unlikely")
AUXILIARIES = _words("will would does do is are was can shall should did has be been am")
FILLERS = AUXILIARIES | _words(
    "and or it its it's this that they the a an punch tool part i we you think believe say would to way "
    "of any at all really very strong perfectly quite still just only up then there indeed most answer "
    "longer well please thanks thank here going get be too for under load"
)
HEDGES = _words("probably likely think believe should guess suppose presumably")
BARE = (
    AUXILIARIES
    | NEGATORS
    | STRONGLY
    | HEDGES
    | _words("it this that they the a punch tool part i we say strong most really indeed still all at could")
)
DOUBTS = _words(
    "maybe perhaps possibly might may could depends depending unsure idk dunno either unknown borderline "
    "both hardly barely know sure certain tell idea clue hmm neither nor"
)
CONDITIONS = _words("if unless provided until when whether except")
PHRASES = {
    "of course": "certainly", "for sure": "certainly", "no doubt": "certainly", "think so": "yes",
    "hope so": "maybe", "thumbs up": "yes", "thumbs down": "no", "no way": "no", "no chance": "no",
    "no good": "bad", "not at all": "no", "fails to": "not", "failed to": "not", "fail to": "not",
    "far from": "not", "gives way": "fails", "give way": "fails", "all right": "okay", "alright": "okay",
    "no longer": "not", "anything but": "not", "by no means": "not",
}  # fmt: skip
