"""What a desk loads and holds from then on."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def what_stays() -> Iterator[None]:
    """What is loaded inside stays: nothing is gained by looking through it for garbage, neither now nor later, when
    that would hold up an answer."""
    gc.disable()
    try:
        yield
        gc.freeze()
    finally:
        gc.enable()
