"""Documents that could not be written, as problems."""

from collections.abc import Sequence

from witnessmark.desk.words import _
from witnessmark.words.faults import Fault
from witnessmark.words.problems import Problem


def of_faults(faults: Sequence[Fault]) -> tuple[Problem, ...]:
    """A problem for each."""
    return tuple(fault.problem(_("a document"), _("the others are written; please report it")) for fault in faults)
