"""How `explain` shows one answer: for people as lines, for machines as plain data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from decimal import Decimal
from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from witnessmark.jobs.explaining import AnswerExplained, Asked
    from witnessmark.marking.outcome import Explanation, Outcome
    from witnessmark.questions.working.envelope_steps import EnvelopeExplained

Row = tuple[str, str]
"""What stands in the margin, and the text beside it."""
WIDTH = 110
INDENT = 17
LEAST_SHARE = 0.0001
SHARE_WIDTH = len(">99.99%")


def explained_data(done: AnswerExplained) -> dict[str, object]:
    """One answer explained, as plain data: marks as text, values in SI and the ends of the range in the asked unit."""
    envelope = done.asked.envelope
    data = {k: _plain(v) for k, v in asdict(done).items() if k not in ("history", "notes")}
    history = [{"at": row.at.isoformat(), "event": row.event.value, "before": _text(row.before),
                "after": _text(row.after), "who": row.who, "why": row.why} for row in done.history]  # fmt: skip
    accepted = [float(end.quantity.magnitude) for end in (envelope.low, envelope.high)] if envelope else None
    unit = envelope.unit if envelope else ""
    return {
        **data,
        "accepted": accepted,
        "unit": unit,
        "fits": _plain([asdict(f) for f in done.fits]),
        "none_of_these": done.rest,
        "history": history,
        "notes": [note.words for note in done.notes],
    }


def _plain(value: object) -> object:
    """The same with tuples as lists and enumerations as text; dates and decimals are left to the writer of JSON."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    return [_plain(v) for v in value] if isinstance(value, list | tuple) else value


def _text(value: Decimal | None) -> str | None:
    return None if value is None else str(value)


def explained_lines(done: AnswerExplained) -> list[str]:
    """One answer explained, as lines for a teacher."""
    who = f"{done.student}, {done.name}" if done.name else done.student
    rows = [*_asked(done.asked), *_typed(done), *_marked(done), *_later(done)]
    head = f"{done.sheet} {done.label} ({who}), task {done.task}: {done.asked.title}"
    return [head, *(line for name, text in rows for line in _wrapped(name, text))]


def _wrapped(name: str, text: str) -> list[str]:
    blank = " " * INDENT
    return wrap(text, WIDTH, initial_indent=f"  {name}".ljust(INDENT), subsequent_indent=blank, break_on_hyphens=False)


def _asked(asked: Asked) -> Iterator[Row]:
    yield "asked", asked.text
    yield "given", "; ".join(f"{what} {value}" for what, value in asked.givens) or "nothing but the text"
    yield "right", asked.right or "not known: a given is absent"
    if asked.relation:
        yield "", f"from {asked.relation}"
    if asked.envelope is not None:
        yield from _range(asked.envelope)


def _range(envelope: EnvelopeExplained) -> Iterator[Row]:
    for name, end in (("accepted from", envelope.low), ("accepted to", envelope.high)):
        yield name, end.text
        yield from (("", sentence) for sentence in end.sentences)


def _typed(done: AnswerExplained) -> Iterator[Row]:
    if done.entry is None:
        yield "typed", "nothing yet: this sheet has not come back"
        return
    where = " ".join(part for part in (done.file, done.entry.place) if part)
    yield "typed", f"'{done.entry.raw}' in {where}" if done.entry.raw else f"nothing in {where}"
    if done.entry.note:
        yield "", done.entry.note
    if done.outcome is not None and done.outcome.read_as:
        yield "read as", done.outcome.read_as
        yield from (("", repair) for repair in done.outcome.repairs)
    yield from (("wrote to you", " ".join(note.words.split())) for note in done.notes)
    if done.earlier:
        yield "own earlier", "; ".join(f"{label}: {value}" for label, value in done.earlier)


def _marked(done: AnswerExplained) -> Iterator[Row]:
    machine = done.machine
    if machine is None:
        yield "mark", "none yet: the task has not been marked since"
        return
    for n, fit in enumerate(done.fits):
        yield "" if n else "what fits", f"{_share(fit.sure)} {_name(fit)}: {fit.sentence}"
    if done.fits:
        yield "", f"{_share(done.rest)} none of these, or what is weaker still"
    sure = f", {_share(machine.sure).strip()} sure" if done.asked.envelope is not None and machine.read_as else ""
    yield "mark", f"{machine.marks} of {machine.out_of}: {_name(machine)}{sure}"
    yield "", machine.because
    yield from (("to the teacher", note) for note in machine.notes)


def _name(found: Explanation | Outcome) -> str:
    return f"{found.verdict}, {' + '.join(found.misconceptions)}" if found.misconceptions else str(found.verdict)


def _share(share: float) -> str:
    """A share of belief, which is never wholly certain and never nothing."""
    if LEAST_SHARE <= share <= 1 - LEAST_SHARE:
        return f"{share:.2%}".rjust(SHARE_WIDTH)
    return (f"<{LEAST_SHARE:.2%}" if share < LEAST_SHARE else f">{1 - LEAST_SHARE:.2%}").rjust(SHARE_WIDTH)


def _later(done: AnswerExplained) -> Iterator[Row]:
    waits: Sequence[str] = done.outcome.in_tray if done.outcome is not None else ()
    yield from (("waits", reason) for reason in waits)
    if (m := done.moderation) is not None:
        yield "moderated", f"{m.marks} {'mark' if m.marks == 1 else 'marks'} by {m.who} on {m.at:%Y-%m-%d}: {m.why}"
    for n, row in enumerate(done.history):
        before = "" if row.before is None else f"{row.before} to "
        after = "none" if row.after is None else row.after
        yield "" if n else "history", f"{row.at:%Y-%m-%d} {row.event.value} {before}{after} by {row.who}: {row.why}"
