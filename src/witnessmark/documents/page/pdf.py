"""The only door to typst: documents as PDF, the same bytes on every machine, with no system font and no network."""

import json
from collections.abc import Callable, Iterable, Iterator
from functools import cache, partial
from pathlib import Path
from threading import Lock
from typing import Any, Literal

import typst

from witnessmark.documents.page.blocks import NAMED_KINDS, PLAIN_KINDS, Document
from witnessmark.documents.page.signs import on_paper, plainest
from witnessmark.maths.printing.pieces import Piece
from witnessmark.maths.printing.typst import typst_equation

ASSETS = Path(__file__).parents[1] / "assets"
TEMPLATE = ASSETS / "document.typ"
ACCESSIBLE: Literal["ua-1"] = "ua-1"  # PDF/UA-1 (ISO 14289-1), checked by typst itself at each compile
_ONE_AT_A_TIME = Lock()


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
    return json.dumps([_data(d, shown, n) for n, d in enumerate(documents)], ensure_ascii=False)


def compiled(data: str) -> bytes:
    """The PDF of documents made `ready`; TypstError where typst refuses them."""
    with _ONE_AT_A_TIME:
        made = _compiler().compile(format="pdf", sys_inputs={"data": data}, timestamp=0, pdf_standards=[ACCESSIBLE])
    assert isinstance(made, bytes)
    return made


def _data(value: Any, shown: Callable[[str], str], number: int) -> Any:
    """A document, block or run as what JSON can carry, every text as it can be shown: a block says what it `is`, a
    formula becomes nodes and words, and anchors are those of one document among several in a file."""
    kind = type(value)
    if kind is str:
        return shown(value)
    if kind in PLAIN_KINDS:
        return value
    if isinstance(value, tuple | list):
        return [_data(v, shown, number) for v in value]
    if isinstance(value, str):
        return shown(value)
    if isinstance(value, Piece):
        return {key: _data(v, shown, number) for key, v in typst_equation(value).items()}
    if isinstance(value, frozenset):
        return sorted(value)
    if not hasattr(value, "__dataclass_fields__"):
        return value
    found = {
        name: shown(held) if type(held := getattr(value, name)) is str else _data(held, shown, number)
        for name in value.__dataclass_fields__
    }
    if kind in NAMED_KINDS:
        found["is"] = kind.__name__
    if found.get("anchor"):
        found["anchor"] = f"{number}-{found['anchor']}"
    return found
