"""The words of short texts: what denies, lessens or supposes, what joins, and what may stand beside a point."""


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


DENIALS = _words(
    "no not non never neither nor without cannot un hardly none lack lacks lacking free absent instead except unlike "
    "rather avoid avoids prevent prevents nothing nobody nowhere barely scarcely wrong false untrue stops stop"
)
LESSENINGS = _words(
    "low lower less little poor poorer reduced reduces bad weak decreases decreased loses lost few too fewer least"
)
SUPPOSING = _words("if unless until otherwise else would might could should before")
JOINING = _words("and or plus also")
EMPTY_WORDS = _words("the a an it is its are and or of very has be to in for")
HARMLESS = EMPTY_WORDS | _words(
    "that this these those they them their there then which you your we our i my one two was were been am being do "
    "does did have had having will can so as at on by from with when while because since "
    "makes make making made gives give giving gave gets get getting become becomes becoming shows show showing keeps "
    "helps really quite much good better excellent great well also always all both each thing things way ways "
    "reason reasons sign signs first second firstly secondly metal material think yes etc eg ie"
)
