"""Who decides something, why and when: what every job needs that changes what counts."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Decision:
    """Who decides, why, and when; where it is not to `apply` yet, what would change is only shown."""

    who: str
    why: str
    now: datetime
    apply: bool = True
