"""The words and signs around a quantity: what says nothing, what may be left out, what makes an entry unsure."""

import re

BLANKS = frozenset({
    "", "-", "--", "---", ".", "..", "...", "_", "__", "___", "n/a", "na", "n.a.", "n.a", "none", "nil", "blank", "empty",
    "no answer", "not answered", "not attempted", "left blank", "/", "x", "#",
})  # fmt: skip
SPREADSHEET_ERROR = re.compile(
    r"#(?:DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!|SPILL!|CALC!|#+)|Err:\d{3}", re.IGNORECASE
)
NOT_FINITE = re.compile(r"[-+]?(?:nan|inf(?:inity)?|∞|not a number)\b|[-+]?∞", re.IGNORECASE)
MONTHS = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sept?|oct|nov|dec)[a-z]*"
DATE = re.compile(
    rf"\d{{1,4}}([/.-])\d{{1,2}}\1\d{{1,4}}(?: \d.*)?|\d{{1,2}}[ -]{MONTHS}(?:[ -]\d{{2,4}})?|{MONTHS}[ -]\d{{1,4}}"
    rf"|\d{{4}}-\d\d-\d\dT.*|(?:0\d|1[0-2]|[1-9])-(?:0[1-9]|[12]\d|3[01])-?",
    re.IGNORECASE,
)
CLOCK = re.compile(r"\d{1,3}:\d{2}(?::\d{2})?(?: ?[ap]\.?m\.?)?", re.IGNORECASE)

ABOUT = re.compile(
    r"^(?:~|≈|about|approx(?:imately|\.)?|around|roughly|circa|ca\.?|c\.|nearly|say|some)(?![^\W\d_]) ?", re.IGNORECASE
)
MINUS_WORD = re.compile(r"^(?:minus|negative|neg\.?) ?(?=[\d.,½])", re.IGNORECASE)
# Words that turn, widen or double what stands beside them: an entry that has one is never guessed at.
UNSURE = re.compile(
    r"\b(?:or|to|till|until|and|not|no|nor|never|between|from|than|less|more|least|most|under|over|above|below|minus|plus"
    r"|times|if|unless|either|half|twice|double|dozen|max(?:imum)?|min(?:imum)?|up|wrong|ignore|change[ds]?|instead"
    r"|don'?t|cannot|can'?t|unknown|unsure|maybe|perhaps|guess(?:ed)?|dunno|idk)\b|[<>≤≥±?!√∛²³^=+*×÷;]|\.\.|\+/-",
    re.IGNORECASE,
)
REMARK = re.compile(
    r"^[ ,.]*[(\[{]? ?(?:approx(?:imately|\.)?|about|roughly|rounded|(?:to )?\d ?(?:s\.? ?f\.?|sig\.? ?figs?\.?|d\.? ?p\.?)"
    r"|(?:to )?\d (?:significant figures|decimal places)|ans(?:wer)?\.?|final answer|checked|ok|c|t|comp(?:\.|ression|ressive)?"
    r"|tens(?:\.|ion|ile)?|shear|gauge|gage|g|abs(?:\.|olute)?|a|each|nr|nos?\.?|off) ?[)\]}]?[ .]*$",
    re.IGNORECASE,
)
BARE_REMARK_NEEDS_BRACKETS = frozenset({"c", "t", "g", "a", "no", "nos"})
WORDS_ONLY = re.compile(
    r"^[ ,.:;()\[\]{}'\"-]*(?:per )?[^\W\d_]{2,}\.?(?:[ ,.'()\[\]{}-]+[^\W\d_]{1,}\.?){0,7}[ ,.:)\]}]*$"
)
LABEL = re.compile(r"^[^\d=<>≤≥±+*/×÷√][^=<>≤≥±+*×÷√]{0,60}$")
