"""Documents as one HTML page that needs nothing else: own style, MathML with its font inside, drawings as data."""

from base64 import b64encode
from dataclasses import dataclass, fields
from functools import cache, lru_cache
from hashlib import sha256
from typing import Any

from witnessmark.documents.page.blocks import (
    BLOCK_KINDS,
    MOST_REPEATED,
    PLAIN_KINDS,
    REPEATED_KINDS,
    Document,
    Figure,
    Formula,
    Maths,
)
from witnessmark.documents.page.signs import on_screen
from witnessmark.documents.page.templates import ASSETS, html_already, macro, rendered
from witnessmark.maths.printing.mathml import mathml
from witnessmark.maths.printing.pieces import Piece

MATHS_FONT = ASSETS / "fonts" / "witnessmark-maths.woff2"


@dataclass(frozen=True, slots=True)
class Script:
    """A script of ours that a page holds, and by its hash the only one that its policy lets run."""

    text: str
    style: str = ""

    @property
    def hash(self) -> str:
        """As a Content-Security-Policy names it (W3C, Content Security Policy Level 3, section 2.3.1)."""
        return _hash_of(self.text)


@lru_cache(maxsize=8)
def _hash_of(script: str) -> str:
    return "sha256-" + b64encode(sha256(script.encode()).digest()).decode("ascii")


def html_of(document: Document, script: Script | None = None) -> str:
    """The document as a page: no script but one of ours, no request to anywhere, every formula and figure with its
    words."""
    body = html_already("".join([f"{_data(block)}\n" for block in document.blocks]))
    head = {f.name: _data(getattr(document, f.name)) for f in fields(document) if f.name != "blocks"}
    ours = {"hash": script.hash, "text": html_already(script.text)} if script else None
    look = html_already(f"{style()}{script.style}") if script else style()
    return rendered("page.html.j2", document=head, style=look, body=body, script=ours)


@cache
def style() -> str:
    """The style sheet with the maths font inside it, for every page of ours."""
    font = b64encode(MATHS_FONT.read_bytes()).decode("ascii")
    source = f'url(data:font/woff2;base64,{font}) format("woff2")'
    face = f'@font-face {{ font-family: "Witness Mark Maths"; src: {source}; }}\n'
    return html_already(face + (ASSETS / "page.css").read_text(encoding="utf-8"))


def _data(value: Any) -> Any:
    """What stands in a block as the templates take it: a run as its fields and its kind as `is`, formulae as MathML,
    drawings as data, and a block within it as HTML."""
    kind = type(value)
    if kind is str:
        return on_screen(value)
    if kind in PLAIN_KINDS:
        return value
    if kind in REPEATED_KINDS:
        return _kept(value)
    if kind in BLOCK_KINDS:
        return _block(value)
    if isinstance(value, tuple):
        return [_data(v) for v in value]
    if isinstance(value, str):
        return on_screen(value)
    if isinstance(value, Maths) and value.tall:
        return {"is": "Maths", "piece": _mathml(value.piece, tall=True)}
    if isinstance(value, Piece):
        return _mathml(value)
    if not hasattr(value, "__dataclass_fields__"):
        return value
    return _fields(value)


def _block(block: Any) -> str:
    """A block as HTML."""
    if isinstance(block, Formula):
        told = {"piece": _mathml(block.piece, block=True), "lead": on_screen(block.lead), "beside": block.beside}
    elif isinstance(block, Figure):
        image = b64encode(on_screen(block.svg).encode()).decode("ascii")
        told = {"image": f"data:image/svg+xml;base64,{image}", "alt": on_screen(block.alt), "width": block.width}
    else:
        told = _fields(block)
    return html_already(macro("blocks.html.j2", "block")(type(block).__name__, told))


_kept = lru_cache(maxsize=MOST_REPEATED)(_block)


def _fields(value: Any) -> dict[str, Any]:
    """The fields of what stands in a block, or of the block, by name, beside what it `is`."""
    found = {
        name: on_screen(held) if type(held := getattr(value, name)) is str else _data(held)
        for name in value.__dataclass_fields__
    }
    return {**found, "is": type(value).__name__}


@lru_cache(maxsize=MOST_REPEATED)
def _mathml(piece: Piece, block: bool = False, tall: bool = False) -> str:
    return html_already(on_screen(mathml(piece, block, tall)))
