"""The only door to typst: documents as PDF, the same bytes on every machine, with no system font and no network."""

import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Any, Literal

import typst

from witnessmark.documents.page.blocks import Block, Document, Run
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


def pdfs_of(documents: Iterable[Document]) -> Iterator[bytes]:
    """One PDF a document, made one after the other by the same compiler."""
    return (pdf_of(document) for document in documents)


def joined_pdf(documents: Iterable[Document]) -> bytes:
    """All documents in one PDF, for printing a class at once; page numbers start again with each."""
    return _compiled(list(documents))


@cache
def _compiler() -> typst.Compiler:
    return typst.Compiler(TEMPLATE, root=ASSETS, ignore_system_fonts=True)


def _compiled(documents: list[Document]) -> bytes:
    """The PDF; from plainer text where signs that are shown one by one cannot be shown as they stand together."""
    try:
        return compiled(ready(documents))
    except typst.TypstError:
        return compiled(ready(documents, plainest))


def ready(documents: Iterable[Document], shown: Callable[[str], str] = on_paper) -> str:
    """Documents as the JSON text that `compiled` takes: nothing of a document ever becomes typst source.

    Every text passes `shown`, which names the signs that no font has.
    """
    return json.dumps([_apart(_shown(data_of(d), shown), n) for n, d in enumerate(documents)], ensure_ascii=False)


def compiled(data: str) -> bytes:
    """The PDF of documents made `ready`; TypstError where typst refuses them."""
    with _ONE_AT_A_TIME:
        made = _compiler().compile(format="pdf", sys_inputs={"data": data}, timestamp=0, pdf_standards=[ACCESSIBLE])
    assert isinstance(made, bytes)
    return made


def data_of(value: Any) -> Any:
    """A document, block or run as what JSON can carry: a block says what it `is`, a formula becomes nodes and words."""
    if isinstance(value, Piece):
        return typst_equation(value)
    if isinstance(value, tuple):
        return [data_of(v) for v in value]
    if isinstance(value, frozenset):
        return sorted(value)
    if hasattr(value, "__dataclass_fields__"):
        kind = {"is": type(value).__name__} if isinstance(value, Block | Run) else {}
        return kind | {f.name: data_of(getattr(value, f.name)) for f in fields(value)}
    return value


def _shown(data: Any, shown: Callable[[str], str]) -> Any:
    """Plain data with every text as it can be shown."""
    if isinstance(data, str):
        return shown(data)
    if isinstance(data, list):
        return [_shown(d, shown) for d in data]
    return {key: _shown(d, shown) for key, d in data.items()} if isinstance(data, dict) else data


def _apart(data: Any, number: int) -> Any:
    """Plain data whose anchors are those of one document among several in a file."""
    if isinstance(data, list):
        return [_apart(d, number) for d in data]
    if not isinstance(data, dict):
        return data
    return {key: f"{number}-{d}" if key == "anchor" and d else _apart(d, number) for key, d in data.items()}
