"""Which sheets' questions may be marked and searched together."""

from collections.abc import Iterable

from witnessmark.questions.model.fingerprint import marked_alike
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant

Alike = tuple[str, frozenset[str]]


class Groups:
    """Tells of a variant the group it is marked in: questions that mark alike, and the same givens shown."""

    def __init__(self, sheets: Iterable[Sheet]) -> None:
        questions = {id(v.question): v.question for sheet in sheets for v in sheet.variants}
        self._questions = questions
        self._alike = {key: marked_alike(question) for key, question in questions.items()}

    def of(self, variant: Variant) -> Alike:
        """Equal for variants of one group. KeyError for a variant of other sheets."""
        return self._alike[id(variant.question)], frozenset(variant.shown)
