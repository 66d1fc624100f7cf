"""What the desk says stands in one catalogue, whole in each language; numbers and dates follow the settings."""

import ast
import importlib.util
import re
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from types import ModuleType

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po

from desk.conftest import KLASS
from desk.open_desk import Visitor, browser, form_to, opened_desk
from jobs.small_class import TASK
from witnessmark.desk import spoken
from witnessmark.desk.rooms.settings import NAMED
from witnessmark.desk.telling import VERDICTS
from witnessmark.desk.words import CATALOGUE, _, counted, speak
from witnessmark.jobs.desk_settings import CHOICES, DeskSettings, keep_settings, read_settings
from witnessmark.marking.outcome import Verdict

AtDesk = Callable[[Path], Visitor]
LANGUAGES = sorted(file.stem for file in CATALOGUE.glob("*.po"))
VIEWS = sorted((CATALOGUE.parent / "views").glob("*.j2"))
SPOKEN_ATTRIBUTES = "aria-label|title|alt|placeholder|content"
PLACEHOLDER = re.compile(r"\{\w*\}")


@pytest.fixture(scope="module")
def script() -> ModuleType:
    """The script that gathers the catalogue."""
    file = Path(__file__).parents[2] / "scripts" / "write_catalogue.py"
    spec = importlib.util.spec_from_file_location("catalogue_script", file)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def texts(script: ModuleType) -> Catalog:
    """Every text that the desk says."""
    found: Catalog = script.said()
    return found


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    speak(DeskSettings())


def catalogue(language: str) -> Catalog:
    return read_po(BytesIO((CATALOGUE / f"{language}.po").read_bytes()), language)


def said(catalog: Catalog) -> list[Message]:
    return [message for message in catalog if message.id]


def forms(words: object) -> tuple[str, ...]:
    """The forms of a text: one, or that of one and that of many."""
    return tuple(words) if isinstance(words, tuple | list) else (str(words),)


def test_every_template_says_its_words_through_the_catalogue() -> None:
    found = [f"{view.name}: {words}" for view in VIEWS for words in words_outside(view.read_text(encoding="utf-8"))]
    assert found == []


def words_outside(template: str) -> list[str]:
    """Words of a template that stand outside every `{{ }}` and tag, or in an attribute that is read out."""
    plain = re.sub(r"\{#.*?#\}|\{\{.*?\}\}|\{%.*?%\}", "\0", template, flags=re.DOTALL)
    attributes = re.findall(rf'\b(?:{SPOKEN_ATTRIBUTES})="([^"]*)"', plain)
    text = re.sub(r"<!?/?[a-zA-Z][^>]*>|&\w+;", "\0", plain)
    pieces = [*text.split("\0"), *(words for words in attributes if words not in NOT_WORDS)]
    return [piece.strip() for piece in pieces if re.search(r"[A-Za-z]{2}", piece)]


def test_every_problem_of_the_rooms_is_worded_through_the_catalogue() -> None:
    rooms = [file for file in sorted(CATALOGUE.parent.rglob("*.py")) if file.name not in BEFORE_A_ROOM]
    found = [f"{file.name}:{line}" for file in rooms for line in bare_words(ast.parse(file.read_text("utf-8")))]
    assert found == []
    assert list(bare_words(ast.parse("Problem('code', where, 'a day', _('none'))"))) == [1]


BEFORE_A_ROOM = ("serving.py",)
"""What it says is said to the command line."""


def bare_words(tree: ast.AST) -> Iterator[int]:
    """The lines of problems that say a text as it stands."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and "problem" in ast.unparse(node.func).rpartition(".")[2].casefold():
            said = node.args[2:] if ast.unparse(node.func) == "Problem" else node.args
            yield from (a.lineno for a in said if isinstance(a, ast.Constant) and re.search("[a-z]", str(a.value)))


NOT_WORDS = ("width=device-width, initial-scale=1", "light dark")


@pytest.mark.parametrize(
    "wrong", ["<p>Nothing yet</p>", '<p title="Here">{{ _("x") }}</p>', "{% if a %}or{% endif %}", "{{ a }} of {{ b }}"]
)
def test_words_outside_the_catalogue_are_seen(wrong: str) -> None:
    assert len(words_outside(wrong)) == 1


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_text_of_a_language_is_missing_left_over_or_in_doubt(language: str, texts: Catalog) -> None:
    told = {message.id: message for message in said(catalogue(language))}
    assert {forms(one) for one in told} == {forms(message.id) for message in said(texts)}
    assert [one for one, message in told.items() if not all(forms(message.string)) or message.fuzzy] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_form_of_a_translation_has_the_placeholders_of_its_text(language: str) -> None:
    wrong = []
    for message in said(catalogue(language)):
        wanted, given = forms(message.id), forms(message.string)
        same = len(wanted) == len(given) and all(
            sorted(PLACEHOLDER.findall(a)) == sorted(PLACEHOLDER.findall(b)) for a, b in zip(wanted, given, strict=True)
        )
        wrong += [] if same else [message.id]
    assert wrong == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_file_of_a_language_is_as_the_script_writes_it(language: str, script: ModuleType, texts: Catalog) -> None:
    kept = (CATALOGUE / f"{language}.po").read_bytes()
    assert script.renewed(language, kept, texts) == kept


def test_every_language_and_every_verdict_has_a_name() -> None:
    assert {"en", *LANGUAGES} == set(CHOICES["language"])
    assert {one for several in CHOICES.values() for one in several} <= set(NAMED)
    assert set(VERDICTS) == {str(verdict) for verdict in Verdict}


def test_a_text_is_said_in_the_language_that_is_set() -> None:
    assert _("The desk") == "The desk"
    speak(DeskSettings("de"))
    assert _("The desk") == "Das Pult"
    assert counted(1, "{n} entry", "{n} entries") == "1 Eintrag"
    assert counted(2, "{n} entry", "{n} entries") == "2 Einträge"


DAYS = [
    (DeskSettings(), "5 March 2027"), (DeskSettings("de"), "5. März 2027"),
    (DeskSettings(dates="year first"), "2027-03-05"), (DeskSettings("de", dates="day first"), "05.03.2027"),
]  # fmt: skip


@pytest.mark.parametrize(("settings", "told"), DAYS)
def test_a_day_is_written_as_it_is_set(settings: DeskSettings, told: str) -> None:
    speak(settings)
    at = datetime(2027, 3, 5, 12, tzinfo=UTC)
    assert spoken.day(date(2027, 3, 5)) == told
    assert spoken.moment(at) == f"{told}, {at.astimezone():%H:%M}"


def test_decimals_are_written_as_they_are_set_and_labels_stay() -> None:
    assert spoken.number("12.5 mm, 1.a") == "12.5 mm, 1.a"
    speak(DeskSettings(decimals="comma"))
    assert spoken.number("12.5 mm, 1.a") == "12,5 mm, 1.a"
    assert spoken.marks(Decimal("2.25")) == "2,25"
    assert spoken.marks(Decimal("2.5")) == "2½"


def test_settings_are_kept_beside_the_classes_and_every_room_follows(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    page = at.look("/settings")
    assert "Here you choose how the desk speaks to you." in page.text
    page = at.send(form_to(page, "/settings"), language="de", decimals="comma", dates="day first")
    assert page.headings[0] == "Sprache, Zahlen und Datum"
    assert (marked.parent / "desk.yaml").is_file()
    assert read_settings(marked.parent) == (DeskSettings("de", "comma", "day first"), ())
    of_class = at.look(f"/class/{KLASS}").text
    assert "Hier sehen Sie, wo die Klasse steht" in of_class
    assert "22.01.2027" in of_class
    assert ("html", "lang") in at.look("/").tags
    assert '<html lang="de">' in at.get("/").text
    tray = at.look(f"/class/{KLASS}/task/{TASK}/tray").text
    assert "Hier entscheiden Sie" in tray
    assert not re.search(r"\d\.\d+\s(mm|MPa|kN)", tray.partition("Getippt")[0])
    assert re.search(r"\d,\d+\s(mm|MPa|kN)", tray.partition("Getippt")[0])


def test_work_speaks_as_whoever_began_it(issued: Path, at_desk: AtDesk) -> None:
    keep_settings(issued.parent, DeskSettings("de"))
    at = at_desk(issued)
    form = form_to(at.look(f"/class/{KLASS}/task/{TASK}"), "/print")
    assert "4 Blätter in einer Datei" in at.send(form).text


def test_who_is_refused_at_the_door_is_told_in_the_language_that_is_set(tmp_path: Path) -> None:
    keep_settings(tmp_path, DeskSettings("de"))
    desk = opened_desk(tmp_path, most_bytes=100)
    client = browser(desk)
    refused = [client.get("/"), client.get("/", headers={"Host": "witness.example"}), client.put("/")]
    client.get(desk.door.address)
    refused += [
        client.post("/", data={"title": "A"}, headers={"Origin": "http://witness.example"}),
        client.post("/", content=iter([b"title=A"])), client.post("/", data={"title": "A" * 200}),
    ]  # fmt: skip
    told = [(answer.status_code, answer.text.split()[:4]) for answer in refused]
    assert told == [
        (403, ["Öffnen", "Sie", "das", "Pult"]), (421, ["Das", "Pult", "ist", "allein"]),
        (405, ["Auf", "diesem", "Weg", "geschieht"]), (403, ["Das", "kam", "von", "einer"]),
        (411, ["Das", "Pult", "nimmt", "nichts"]), (413, ["Das", "ist", "mehr,", "als"]),
    ]  # fmt: skip


def test_what_is_wrong_in_the_file_of_settings_is_told_and_the_rest_holds(tmp_path: Path, at_desk: AtDesk) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (home / "desk.yaml").write_text("language: de\ndecimals: dash\ncolour: blue\n", encoding="utf-8")
    settings, problems = read_settings(home)
    assert settings == DeskSettings("de")
    wrong, unknown = (str(problem) for problem in problems)
    assert wrong == "desk.yaml:2:11: [wrong-value] expected one of point, comma, found 'dash'"
    known = ", ".join(sorted(CHOICES))
    expected = f"one of {', '.join(CHOICES)}"
    assert unknown == f"desk.yaml:3:1: [unknown-key] expected {expected}, found 'colour'; known here: {known}"
    page = at_desk(home / KLASS).look("/settings")
    assert "'dash'" in page.text
    assert "Sprache, Zahlen und Datum" in page.headings


def test_a_choice_that_there_is_not_changes_nothing(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    at.send(form_to(at.look("/settings"), "/settings"), status=422, language="../de")
    assert not (issued.parent / "desk.yaml").exists()
