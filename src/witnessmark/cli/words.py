"""Words that several commands print."""


def counted(count: int, what: str) -> str:
    """`1 sheet`, `2 sheets`."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
