"""The door to jinja2 for pages: templates of the package, escaping on, every missing name an error."""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

ASSETS = Path(__file__).parents[1] / "assets"


class _Fields(Environment):
    """jinja2 where a name behind a dot is first of all a key: blocks come as dicts, and asking a dict for an attribute
    that it has not is slow."""

    def getattr(self, obj: Any, attribute: str) -> Any:
        """The value under a key of a dict; else as jinja2 finds it."""
        if type(obj) is dict and attribute in obj:
            return obj[attribute]
        return super().getattr(obj, attribute)


@cache
def environment(folder: Path = ASSETS) -> Environment:
    """The templates of a folder of the package."""
    loader, missing = FileSystemLoader(folder), StrictUndefined
    return _Fields(loader=loader, undefined=missing, autoescape=True, trim_blocks=True, lstrip_blocks=True)


def rendered(template: str, folder: Path = ASSETS, **values: Any) -> str:
    """The template with these values; every text is escaped but what `html_already` marked."""
    return environment(folder).get_template(template).render(**values)


@cache
def macro(template: str, name: str) -> Callable[..., str]:
    """One macro of a template, as a function."""
    found: Callable[..., str] = getattr(environment().get_template(template).module, name)
    return found


def html_already(text: str) -> Markup:
    """Text that one of our own printers or templates has made and escaped; nothing that a person typed comes here."""
    return Markup(text)  # noqa: S704
