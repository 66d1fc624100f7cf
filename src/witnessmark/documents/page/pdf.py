"""The only door to typst: documents as PDF, the same bytes on every machine, with no system font and no network."""

import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache, lru_cache, partial
from pathlib import Path
from threading import Lock
from typing import Any, Literal

import typst

from witnessmark.documents.page.blocks import MOST_REPEATED, NAMED_KINDS, REPEATED_KINDS, Document
from witnessmark.documents.page.signs import on_paper, plainest
from witnessmark.maths.printing.pieces import Piece
from witnessmark.maths.printing.typst import typst_equation

ASSETS = Path(__file__).parents[1] / "assets"
TEMPLATE = ASSETS / "document.typ"
ACCESSIBLE: Literal["ua-1"] = "ua-1"  # PDF/UA-1 (ISO 14289-1), checked by typst itself at each compile
_ONE_AT_A_TIME = Lock()
_written = json.JSONEncoder(ensure_ascii=False).encode


def pdf_of(document: Document) -> bytes:
    """The document as PDF/UA-1: tagged, every figure and formula with its alternative text."""
    return _compiled([document])


def pdf_to_come(document: Document) -> Callable[[], bytes]:
    """What makes the same PDF when it is called; all but typst's part is done now."""
    return partial(_compiled, [document], ready([document]))


def pdfs_of(documents: Iterable[Document]) -> Iterator[bytes]:
    """One PDF a document, made one after the other by the same compiler."""
    return (pdf_of(document) for document in documents)


def joined_pdf(documents: Iterable[Document]) -> bytes:
    """All documents in one PDF, for printing a class at once; page numbers start again with each."""
    return _compiled(list(documents))


@cache
def _compiler() -> typst.Compiler:
    return typst.Compiler(TEMPLATE, root=ASSETS, ignore_system_fonts=True)


def _compiled(documents: list[Document], data: str | None = None) -> bytes:
    """The PDF, of what is `ready` perhaps; from plainer text where signs that are shown one by one cannot be shown as
    they stand together."""
    try:
        return compiled(data or ready(documents))
    except typst.TypstError:
        return compiled(ready(documents, plainest))


def ready(documents: Iterable[Document], shown: Callable[[str], str] = on_paper) -> str:
    """Documents as the JSON text that `compiled` takes: nothing of a document ever becomes typst source.

    Every text passes `shown`, which names the signs that no font has.
    """
    return f"[{','.join([_json(document, shown, n) for n, document in enumerate(documents)])}]"


def compiled(data: str) -> bytes:
    """The PDF of documents made `ready`; TypstError where typst refuses them."""
    with _ONE_AT_A_TIME:
        made = _compiler().compile(format="pdf", sys_inputs={"data": data}, timestamp=0, pdf_standards=[ACCESSIBLE])
    assert isinstance(made, bytes)
    return made


def _json(value: Any, shown: Callable[[str], str], number: int) -> str:
    """A document, or what stands in it, as JSON text, every text as it can be shown."""
    kind = type(value)
    if kind is str:
        return _written(shown(value))
    if kind is bool:
        return "true" if value else "false"
    if kind in REPEATED_KINDS:
        return _kept(value, shown, number)
    if kind is tuple or kind is list:
        return f"[{','.join([_json(one, shown, number) for one in value])}]"
    if isinstance(value, Piece):
        return _equation(value, shown)
    if hasattr(value, "__dataclass_fields__"):
        return _fields(value, shown, number)
    if isinstance(value, str):
        return _written(shown(value))
    return _written(sorted(value) if kind is frozenset else value)


def _fields(value: Any, shown: Callable[[str], str], number: int) -> str:
    """A document, a block or a run by its fields, beside what it `is`; anchors are those of one document among several
    in a file."""
    if getattr(value, "anchor", ""):
        value = replace(value, anchor=f"{number}-{value.anchor}")
    found = [f'"{name}":{_json(getattr(value, name), shown, number)}' for name in value.__dataclass_fields__]
    if type(value) in NAMED_KINDS:
        found.append(f'"is":"{type(value).__name__}"')
    return f"{{{','.join(found)}}}"


_kept = lru_cache(maxsize=MOST_REPEATED)(_fields)


@lru_cache(maxsize=MOST_REPEATED)
def _equation(piece: Piece, shown: Callable[[str], str]) -> str:
    """A formula as nodes and words."""
    made = [f'"{key}":{_json(node, shown, 0)}' for key, node in typst_equation(piece).items()]
    return f"{{{','.join(made)}}}"
