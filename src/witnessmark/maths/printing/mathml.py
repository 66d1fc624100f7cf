"""Formulae as MathML (Core): well-formed XML, no named entities, with the spoken text as `alttext`."""

from html import escape

from witnessmark.maths.printing.pieces import (
    Amount,
    Applied,
    Fenced,
    Fraction,
    Letter,
    Piece,
    Power,
    Root,
    Row,
    Sign,
    Text,
)
from witnessmark.maths.printing.spoken import spoken
from witnessmark.maths.printing.symbols import Symbol
from witnessmark.maths.printing.units import UnitSign, space_before, unit_signs

NAMESPACE = "http://www.w3.org/1998/Math/MathML"
INVISIBLE_TIMES, APPLY = "\u2062", "\u2061"
THIN = '<mspace width="0.17em"/>'


def mathml(piece: Piece, block: bool = False, tall: bool = False) -> str:
    """The formula as one `math` element; `block` sets it in display style, `tall` too, but within a line."""
    display = ' display="block"' if block else ' displaystyle="true"' if tall else ""
    return f'<math xmlns="{NAMESPACE}"{display} alttext="{escape(spoken(piece))}">{_row(piece)}</math>'


def _row(piece: Piece) -> str:
    """One element, whatever the piece."""
    return f"<mrow>{_of(piece)}</mrow>"


def _of(piece: Piece) -> str:
    match piece:
        case Letter(symbol=symbol):
            return _letter(symbol)
        case Amount():
            return _amount(piece)
        case Sign(text=text):
            return _sign(text)
        case Row(items=items):
            return "".join(_of(i) for i in items)
        case Fraction(over=over, under=under):
            return _fraction(_of(over), _of(under))
        case Root(of=of):
            return f"<msqrt>{_of(of)}</msqrt>"
        case Power():
            return _power(piece)
        case Fenced(of=of, left=left, right=right):
            return _fenced(left, _of(of), right)
        case Applied(function=function, argument=argument, raised=raised):
            name = f"<mi>{escape(function)}</mi>"
            name = f"<msup>{name}{_row(raised)}</msup>" if raised else name
            return f"<mrow>{name}<mo>{APPLY}</mo>{_of(argument)}</mrow>"
        case Text(words=words):
            return f"<mtext>{escape(words)}</mtext>"


def _fraction(over: str, under: str) -> str:
    """A fraction; where one stands within it, both sides keep their size, since a small one cannot be read."""
    size = ' displaystyle="true" scriptlevel="0"' if "<mfrac>" in over + under else ""
    return f"<mfrac><mrow{size}>{over}</mrow><mrow{size}>{under}</mrow></mfrac>"


def _sign(text: str) -> str:
    if not text:
        return f"{THIN}<mo>{INVISIBLE_TIMES}</mo>"
    if text == "/":
        return '<mo lspace="0" rspace="0">/</mo>'
    return f"<mo>{escape(text)}</mo>"


def _fenced(left: str, inner: str, right: str) -> str:
    """Brackets that grow with a fraction or root in them, and are plain letters otherwise: grown ones stand wide."""
    grows = "true" if "<mfrac>" in inner or "<msqrt>" in inner else "false"
    fence = f'fence="true" stretchy="{grows}" lspace="0" rspace="0"'
    opening = f'<mo form="prefix" {fence}>{escape(left)}</mo>'
    return f'<mrow>{opening}{inner}<mo form="postfix" {fence}>{escape(right)}</mo></mrow>'


def _power(piece: Power) -> str:
    base = piece.base
    if isinstance(base, Letter) and base.symbol.below and not base.symbol.change:
        symbol = base.symbol
        return f"<msubsup>{_letters(symbol)}{_index(symbol.below)}{_row(piece.exponent)}</msubsup>"
    return f"<msup>{_row(base)}{_row(piece.exponent)}</msup>"


def _letter(symbol: Symbol) -> str:
    letters = _letters(symbol)
    shown = f"<msub>{letters}{_index(symbol.below)}</msub>" if symbol.below else letters
    return f'<mrow><mi mathvariant="normal">Δ</mi>{shown}</mrow>' if symbol.change else shown


def _letters(symbol: Symbol) -> str:
    return f"<mi>{escape(symbol.letters)}</mi>" if symbol.slopes else _upright(symbol.letters)


def _index(below: str) -> str:
    return f"<mn>{below}</mn>" if below.isdigit() else _upright(below)


def _upright(words: str) -> str:
    if " " in words:
        return f"<mtext>{escape(words)}</mtext>"
    return f'<mi mathvariant="normal">{escape(words)}</mi>'


def _amount(piece: Amount) -> str:
    number = f"<mn>{piece.digits.text}</mn>"
    if piece.digits.power is not None:
        exponent = str(piece.digits.power).replace("-", "−")
        number += f"<mo>×</mo><msup><mn>10</mn><mn>{exponent}</mn></msup>"
    signs = unit_signs(piece.unit)
    if not signs:
        return f"<mrow>{number}</mrow>"
    space = '<mspace width="0.25em"/>' if space_before(piece.unit) else ""
    return f"<mrow>{number}{space}{''.join(_unit_sign(s) for s in signs)}</mrow>"


def _unit_sign(sign: UnitSign) -> str:
    if not sign.is_unit:
        return f'<mo form="infix" stretchy="false" lspace="0" rspace="0">{escape(sign.text)}</mo>' if sign.text else ""
    letters = _upright(sign.text)
    if sign.power == 1:
        return letters
    return f"<msup>{letters}<mn>{str(sign.power).replace('-', '−')}</mn></msup>"
