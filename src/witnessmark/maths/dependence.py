"""Which names have a say in how two formulas differ."""

import numpy as np

from witnessmark.maths.compiled import compiled
from witnessmark.maths.syntax import Tree, names_in

SAME = 1e-9
CHANGE = 1.1


def names_of_ratio(one: Tree, other: Tree) -> frozenset[str]:
    """The names on which the ratio of two formulas depends: `d` and `k` for `k*d**2` and `d`, none for `d/2` and `d`.

    Found by changing each name in turn. Every name is told where the ratio is no number at the place that is tried.
    """
    names = sorted(names_in(one) | names_in(other))
    if not names:
        return frozenset()
    start = np.random.default_rng(1).uniform(0.2, 0.9, len(names))
    tried = np.where(np.eye(len(names) + 1, len(names), -1) > 0, start * CHANGE, start)
    columns = dict(zip(names, tried.T, strict=True))
    with np.errstate(all="ignore"):
        ratio = np.broadcast_to(compiled(one)(columns) / compiled(other)(columns), (len(tried),))
        changed = ~(np.abs(ratio[1:] / ratio[0] - 1) <= SAME)
    return frozenset(name for name, has_say in zip(names, changed.tolist(), strict=True) if has_say)
