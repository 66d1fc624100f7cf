"""The text of a question file to start from, with slips of misconceptions that the bank has."""

import re
from collections.abc import Collection
from pathlib import Path

TEMPLATE = Path(__file__).with_name("new_question.yaml")
SLIPS_A = {
    "diameter-for-radius-in-area": "line: A, answer: pi*d**2, keeps: 2",
    "circumference-for-area": "line: A, answer: pi*d, keeps: 1",
    "square-for-circle": "line: A, answer: d**2, keeps: 2",
    "stress-upside-down": "answer: A/F, keeps: 1.5",
}
SLIPS_B = {
    "factor-of-safety-upside-down": "answer: sigma/R, keeps: 1",
    "margin-for-factor": "answer: R/sigma - 1, keeps: 1",
    "stress-is-force-times-area": "answer: R/(F*pi*d**2/4), keeps: 0.5",
}
NONE = "      []  # none of the usual misconceptions is in this bank yet; see misconceptions in bank/README.md"


def new_question_text(key: str, topic: str, misconceptions: Collection[str]) -> str:
    """A question file that loads without problems beside these misconceptions."""
    filled = {
        "key": key, "topic": topic, "title": title_of(key),
        "slips_a": _slips(SLIPS_A, misconceptions), "slips_b": _slips(SLIPS_B, misconceptions),
    }  # fmt: skip
    return re.sub(r"\{\{(\w+)\}\}", lambda found: filled[found[1]], TEMPLATE.read_text(encoding="utf-8"))


def title_of(key: str) -> str:
    """`deck-bolt` as `Deck bolt`."""
    words = key.replace("-", " ")
    return words[:1].upper() + words[1:]


def _slips(known: dict[str, str], misconceptions: Collection[str]) -> str:
    found = [f"      - {{misconception: {m}, {rest}}}" for m, rest in known.items() if m in misconceptions]
    return "\n".join(found) if found else NONE
