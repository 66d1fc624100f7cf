"""One request as a room sees it, and what a room answers: plain values, so that a room is tried without a server."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlencode

from witnessmark.desk.keeping import Keeping
from witnessmark.jobs.handing_in import HandedIn
from witnessmark.questions.bank import Bank
from witnessmark.words.problems import Problem


@dataclass(frozen=True, slots=True)
class Visit:
    """A request: the class (its folder), the words of the address, what was asked and typed, the files that came along,
    the teacher's name as it was typed last, and the problems of what was typed, where it is shown again."""

    keeping: Keeping
    now: datetime
    way: Mapping[str, str] = field(default_factory=dict)
    asked: Mapping[str, Sequence[str]] = field(default_factory=dict)
    typed: Mapping[str, Sequence[str]] = field(default_factory=dict)
    files: tuple[HandedIn, ...] = ()
    who: str = ""
    problems: tuple[Problem, ...] = ()

    @property
    def class_path(self) -> Path:
        """The folder of the class that the address names."""
        return self.keeping.home / self.way["klass"]

    @property
    def bank(self) -> Bank:
        """The bank of that class; raises ProblemsFound."""
        return self.keeping.bank(self.class_path)

    def text(self, name: str, otherwise: str = "") -> str:
        """What was typed under a name, or asked for in the address."""
        given = self.typed.get(name) or self.asked.get(name) or [otherwise]
        return given[-1]

    def several(self, name: str) -> tuple[str, ...]:
        """Everything that was typed or asked under a name, each once, in order."""
        return tuple(dict.fromkeys(one for one in (self.typed.get(name) or self.asked.get(name) or ()) if one))

    def with_problems(self, problems: Sequence[Problem]) -> "Visit":
        """The same, to be shown again with what was wrong."""
        return replace(self, problems=tuple(problems))

    def at(self, *words: str, **asks: str | Sequence[str]) -> str:
        """The address of a room of the class that the address names."""
        return address("class", self.way["klass"], *words, **asks)


@dataclass(frozen=True, slots=True)
class Page:
    """A page from a template of `views`; one with `scripts` may run those of the desk's own files, and ask the desk."""

    view: str
    values: Mapping[str, Any]
    status: int = 200
    scripts: bool = False


@dataclass(frozen=True, slots=True)
class Go:
    """Another address, to be shown after something was done."""

    address: str


@dataclass(frozen=True, slots=True)
class Written:
    """A file of the class, to look at or to keep."""

    path: Path


@dataclass(frozen=True, slots=True)
class Told:
    """A whole page of our documents."""

    html: str


@dataclass(frozen=True, slots=True)
class Facts:
    """What a script of ours asked, as JSON."""

    values: Mapping[str, Any]


Reply = Page | Go | Written | Told | Facts


def address(*words: str, **asks: str | Sequence[str]) -> str:
    """The address of a room: its words, each quoted whole, and what is asked."""
    way = "/" + "/".join(quote(word, safe="") for word in words)
    return f"{way}?{urlencode(asks, doseq=True)}" if asks else way
