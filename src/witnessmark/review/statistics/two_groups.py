"""Whether two groups differ in a share by more than chance would make: Fisher's exact test, two-sided."""

from math import comb


def fisher_exact(first: int, of_first: int, second: int, of_second: int) -> float:
    """The chance (0 to 1) of a table at least as unlikely as this one, where both groups have the same share; `first`
    of `of_first` and `second` of `of_second` have what is counted. ValueError for counts that cannot be.

    R. A. Fisher (1935), The Design of Experiments, section 11. The weights are whole numbers, so that tables that are
    equally unlikely are counted alike.
    """
    if not (0 <= first <= of_first and 0 <= second <= of_second):
        raise ValueError(f"{first} of {of_first} and {second} of {of_second}")
    have = first + second
    low, high = max(0, have - of_second), min(have, of_first)
    weights = {k: comb(of_first, k) * comb(of_second, have - k) for k in range(low, high + 1)}
    return sum(w for w in weights.values() if w <= weights[first]) / comb(of_first + of_second, have)
