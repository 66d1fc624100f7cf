"""Words for misfits: what was expected, what was found and what to type, for each thing that a shape can refuse."""

from collections.abc import Sequence

from witnessmark.files.shapes.misfits import ShapeError, keys_of_finds, keys_of_givens
from witnessmark.files.shapes.placed import Placed, shown
from witnessmark.files.shapes.shapes import FIND_KEYS, GIVEN_KEYS
from witnessmark.words.nearest import near

_KINDS = {
    "string_type": ("text", "put it in quotes"),
    "string_too_short": ("text", "type it, or leave the key out"),
    "decimal_type": ("a number", "type digits without quotes and without a unit"),
    "is_instance_of": ("a number", "type digits without quotes and without a unit"),
    "whole_number": ("a whole number", ""),
    "bool_type": ("true or false", ""),
    "list_type": ("a list", "type [a, b], or one - for each item"),
    "dict_type": ("keys and values", "type key: value"),
    "model_type": ("keys and values", "type key: value"),
    "model_attributes_type": ("keys and values", "type key: value"),
    "literal_error": ("a list of options, or the word values", "type values to offer the answer and what slips give"),
}
_SAID_IN_WORDS = {
    "read to": ("half a division, or one division", "leave it out for half a division"),
    "choose": ("at least, or at most", "at least takes the smallest size that is at least the value"),
    "takes": ("size below, size above, or unlisted size", "for another value put to the table type value:"),
}
EXPRESSIONS = ("answer", "value", "judge", "expression")
_REMEDIES = {
    "level": "1 recall of one relation, 2 two steps, 3 several",
    "tolerance": "type it like 1 %, or like 0.5 mm",
    "needed": "the number of points that are wanted",
}


def add_misfits(placed: Placed, misfits: Sequence[ShapeError]) -> None:
    """A problem for each misfit; a key left out is not told again where a near key stands in its place."""
    stand_ins = {
        (*m.path[:-1], word.removeprefix("did you mean ").removesuffix("?"))
        for m in misfits
        if m.kind == "extra_forbidden" and (word := near(str(m.path[-1]), m.allowed))
    }
    for misfit in misfits:
        if not (misfit.kind == "missing" and misfit.path in stand_ins):
            _add(placed, misfit)


ELSEWHERE = {
    "decimals": "type figures: 3, or tolerance: 0.01 mm for what may be off",
    "also": "ask for the larger or the smaller one, or for both with limits",
}  # keys that authors look for, and what says it here


def _add(placed: Placed, misfit: ShapeError) -> None:
    path, last = misfit.path, str(misfit.path[-1]) if misfit.path else ""
    if misfit.kind == "missing":
        placed.add_key("missing-key", path[:-1], f"the key '{last}'", "none", f"add {last}:")
    elif misfit.kind == "extra_forbidden":
        expected = f"one of {', '.join(misfit.allowed)}"
        split = (
            "a comma in braces begins a new key; put the text with the comma in quotes" if misfit.found is None else ""
        )
        remedy = near(last, misfit.allowed) or ELSEWHERE.get(last, split)
        placed.add_key("unknown-key", path, expected, f"'{last}'", remedy)
    elif misfit.kind == "union_tag_not_found":
        _add_kindless(placed, misfit)
    elif misfit.kind == "string_type" and last in EXPRESSIONS and isinstance(misfit.found, list):
        remedy = "write the one formula; each number that is asked is a find of its own"
        placed.add("wrong-value", path, "one expression", shown(misfit.found), remedy)
    elif misfit.kind in _KINDS:
        expected, remedy = _SAID_IN_WORDS.get(last, _KINDS[misfit.kind])
        placed.add("wrong-value", path, expected, shown(misfit.found), _REMEDIES.get(last, remedy))
    else:
        placed.add("out-of-range", path, _range(misfit), _amount(misfit), _REMEDIES.get(last, ""))


def _add_kindless(placed: Placed, misfit: ShapeError) -> None:
    is_given = misfit.path[0] == "given"
    if not isinstance(misfit.found, dict):
        placed.add("wrong-value", misfit.path, "keys and values", shown(misfit.found), "type key: value")
        return
    known = keys_of_givens() if is_given else keys_of_finds()
    strange = [key for key in misfit.found if key not in known]
    hints = [hint for key in strange if (hint := near(key, misfit.allowed))]
    keys = GIVEN_KEYS if is_given else FIND_KEYS
    what = "where its values come from" if is_given else "what kind of find it is"
    remedy = hints[0] if hints else f"add the key that says {what}"
    expected, found = f"one of the keys {', '.join(keys)}", ", ".join(misfit.found) or "none"
    placed.add_key("which-given" if is_given else "which-find", misfit.path, expected, found, remedy)


def _range(misfit: ShapeError) -> str:
    limits = misfit.limits
    if "min_length" in limits:
        return f"at least {limits['min_length']} of them"
    if misfit.kind == "string_too_long":
        return f"at most {limits['max_length']} characters"
    if "max_length" in limits:
        return f"at most {limits['max_length']} of them"
    if "ge" in limits:
        return f"a number of at least {limits['ge']}"
    if "le" in limits:
        return f"a number of at most {limits['le']}"
    return misfit.kind.replace("_", " ")


def _amount(misfit: ShapeError) -> str:
    if misfit.kind == "string_too_long":
        return f"{len(misfit.found)}" if isinstance(misfit.found, str) else "more"
    return str(misfit.limits["actual_length"]) if "actual_length" in misfit.limits else shown(misfit.found)
