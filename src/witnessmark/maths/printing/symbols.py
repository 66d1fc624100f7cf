"""Symbols: how a name of an expression looks on the page (`tau` as τ, `A_s` with an index, `d1` as d with index 1)."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

GREEK = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "zeta": "ζ", "eta": "η", "theta": "θ",
    "iota": "ι", "kappa": "κ", "lambda": "λ", "lamda": "λ", "mu": "μ", "nu": "ν", "xi": "ξ", "pi": "π", "rho": "ρ",
    "sigma": "σ", "tau": "τ", "upsilon": "υ", "phi": "φ", "chi": "χ", "psi": "ψ", "omega": "ω",
    "Gamma": "Γ", "Delta": "Δ", "Theta": "Θ", "Lambda": "Λ", "Xi": "Ξ", "Pi": "Π", "Sigma": "Σ", "Phi": "Φ", "Psi": "Ψ",
    "Omega": "Ω",
}  # fmt: skip
GREEK_NAMES = {letter: name.lower() for name, letter in GREEK.items() if name != "lamda"} | {"µ": "mu", "ϕ": "phi"}
CAPITAL_GREEK = {letter: f"capital {name.lower()}" for name, letter in GREEK.items() if name[0].isupper()}
LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉ₐₑₒₓₕₖₗₘₙₚₛₜ", "0123456789aeoxhklmnpst")
MOST_KEPT = 4096
TRAILING_DIGITS = re.compile(r"^(.*\D)(\d+)$")
TRAILING_LOWERED = re.compile(r"^(.+?)([₀-₉ₐ-ₜ]+)$")


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol ready for print: Δ in front when `change`, one sloping letter or upright ones, the index `below`."""

    letters: str
    below: str = ""
    change: bool = False
    is_cell: bool = False  # a cell of a drawn row, in words

    @property
    def slopes(self) -> bool:
        """True of a single letter, which is set in italics (ISO 80000-1: quantities slope), except π and numerals."""
        return len(self.letters) == 1 and self.letters.isalpha() and self.letters != "π"

    def __str__(self) -> str:
        if self.is_cell:
            return f"{self.letters} of the {self.below}"
        return ("Δ" if self.change else "") + self.letters + (f"_{self.below}" if self.below else "")


@lru_cache(maxsize=MOST_KEPT)
def symbol_of(text: str) -> Symbol:
    """The symbol of a name or a symbol text: `tau`, `τ`, `A_s`, `sigma_1`, `d2`, `Delta_T`, `plate.thickness`."""
    text = text.strip()
    if "." in text:
        owner, _, cell = text.partition(".")
        return Symbol(cell.replace("_", " "), owner.replace("_", " "), is_cell=True)
    head, *rest = [_greek(piece) for piece in text.split("_") if piece] or ["?"]
    if lowered := TRAILING_LOWERED.match(head):
        head, rest = lowered[1], [lowered[2].translate(LOWERED), *rest]
    if head == "Δ" and rest:
        inner = symbol_of("_".join(rest))
        return Symbol(inner.letters, inner.below, change=True)
    if head.startswith("Δ") and len(head) > 1:
        inner = symbol_of("_".join([head[1:], *rest]))
        return Symbol(inner.letters, inner.below, change=True)
    if digits := TRAILING_DIGITS.match(head):
        head, rest = _greek(digits[1]), [digits[2], *rest]
    return Symbol(head, ", ".join(rest))


def _greek(piece: str) -> str:
    return GREEK.get(piece, piece)


def symbol_for(name: str, symbols: Mapping[str, str]) -> Symbol:
    """The symbol of a name: the one that `symbols` states, otherwise the one that the name itself suggests."""
    return symbol_of(symbols.get(name) or name)


def symbol_words(symbol: Symbol) -> str:
    """A symbol as spoken: `tau`, `A sub s`, `change of T`."""
    if symbol.is_cell:
        return str(symbol)
    letters = " ".join(_spoken(c) for c in symbol.letters) if len(symbol.letters) == 1 else symbol.letters
    below = f" sub {_spoken(symbol.below)}" if symbol.below else ""
    return ("change of " if symbol.change else "") + letters + below


def _spoken(letter: str) -> str:
    return CAPITAL_GREEK.get(letter) or GREEK_NAMES.get(letter, letter)
