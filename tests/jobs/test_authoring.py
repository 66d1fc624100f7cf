"""An author's evening: a new question file, checked alone, looked at, and every message on the way."""

import shutil
from pathlib import Path

import pytest

from bank_cases import SMALL_BANK
from bank_fixture import BANK
from jobs.small_class import BANK_FOLDER
from witnessmark.documents.page.html import html_of
from witnessmark.documents.preview import preview_document
from witnessmark.files.bank.folder import bank_around, load_bank, load_question_file
from witnessmark.jobs.authoring import new_question
from witnessmark.jobs.checking import check
from witnessmark.jobs.previewing import drawn, preview
from witnessmark.questions.checking.remarks import remarks_on
from witnessmark.questions.drawing.draw import count_allowed
from witnessmark.questions.model.kinds import slips_of
from witnessmark.questions.model.parts import Kind
from witnessmark.words.errors import ProblemsFound


def copied(folder: Path, source: Path = SMALL_BANK) -> Path:
    """A copy of a bank, to be changed."""
    shutil.copytree(source, folder / "bank")
    return folder / "bank"


def said(error: pytest.ExceptionInfo[ProblemsFound], folder: Path) -> list[str]:
    """The problems, without the path of the folder."""
    return [str(problem).replace(f"{folder}/", "") for problem in error.value.problems]


def test_a_new_question_loads_cleanly_with_slips_of_the_bank_and_nothing_to_remark(tmp_path: Path) -> None:
    bank = copied(tmp_path, BANK_FOLDER)
    begun = new_question(bank, "axial/deck-bolt")
    assert begun.file == bank / "axial" / "deck-bolt.yaml"
    assert begun.file.read_text(encoding="utf-8").count("#") > 15
    question = load_question_file(begun.file)["deck-bolt"]
    assert (question.title, question.topic) == ("Deck bolt", "axial")
    assert [len(part.slips) for part in question.parts if part.kind is Kind.QUANTITY] == [4, 3]
    assert remarks_on(question) == ()
    assert len(drawn(question, 30)) == 30
    assert load_bank(bank)["deck-bolt"] == question


def test_a_new_question_loads_in_a_bank_without_misconceptions_too(tmp_path: Path) -> None:
    begun = new_question(tmp_path, "first/one")
    question = load_question_file(begun.file)["one"]
    assert [slips_of(part) for part in question.parts] == [(), (), ()]
    assert load_bank(tmp_path)["one"].topic == "first"


@pytest.mark.parametrize("place", ["deck-bolt", "Shear/Bolt", "../out", "shear/deck/bolt", "shear/"])
def test_a_place_that_cannot_be_is_said_and_nothing_is_written(place: str, tmp_path: Path) -> None:
    bank = copied(tmp_path)
    before = sorted(bank.rglob("*"))
    with pytest.raises(ProblemsFound) as error:
        new_question(bank, place)
    form = "expected TOPIC/KEY of small letters, digits and single hyphens"
    assert said(error, tmp_path) == [f"bank: [key-form] {form}, found '{place}'; such as shear/deck-bolt"]
    assert sorted(bank.rglob("*")) == before


def test_a_key_that_a_question_has_is_not_given_twice(tmp_path: Path) -> None:
    bank = copied(tmp_path)
    with pytest.raises(ProblemsFound) as error:
        new_question(bank, "words/drain-hole")
    found = "bank/shear/drain-hole.yaml; choose another key"
    assert said(error, tmp_path) == [
        f"bank/words/drain-hole.yaml: [question-twice] expected a key that no question has, found {found}"
    ]


def test_a_bank_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(ProblemsFound) as error:
        new_question(tmp_path / "nowhere", "shear/bolt")
    assert said(error, tmp_path) == [
        "nowhere: [no-bank] expected the folder of a bank, found nothing; make the folder first"
    ]
    assert not (tmp_path / "nowhere").exists()


def test_one_file_is_checked_with_what_lies_around_it_and_no_other_question(tmp_path: Path) -> None:
    bank = copied(tmp_path)
    (bank / "words" / "cut-edge.yaml").write_text("question: [\n", encoding="utf-8")
    done = check(bank / "shear" / "drain-hole.yaml")
    assert [(q.key, q.steps, q.remarks) for q in done.questions] == [("drain-hole", 2, ())]
    with pytest.raises(ProblemsFound):
        check(bank)


def test_the_problems_of_one_file_are_those_that_the_whole_bank_has_with_it(tmp_path: Path) -> None:
    bank = copied(tmp_path)
    file = bank / "shear" / "drain-hole.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text.replace("tau*A_s", "tau*A_t").replace("radius-for-diameter", "no-such-thing"), encoding="utf-8"
    )
    with pytest.raises(ProblemsFound) as alone:
        check(file)
    with pytest.raises(ProblemsFound) as whole:
        check(bank)
    of_the_file = [line for line in said(whole, tmp_path) if line.startswith("bank/shear/drain-hole.yaml")]
    assert said(alone, tmp_path) == of_the_file
    assert len(of_the_file) == 2


def test_a_key_that_another_file_has_is_a_problem_of_one_file_too(tmp_path: Path) -> None:
    bank = copied(tmp_path)
    shutil.copyfile(bank / "shear" / "drain-hole.yaml", bank / "words" / "hole.yaml")
    with pytest.raises(ProblemsFound) as error:
        check(bank / "words" / "hole.yaml")
    found = "'drain-hole' again (also in bank/shear/drain-hole.yaml); rename one"
    assert said(error, tmp_path) == [
        f"bank/words/hole.yaml: [question-twice] expected each key once in a bank, found {found}"
    ]


@pytest.mark.parametrize("what", ["nowhere.yaml", "bank"])
def test_what_is_no_question_file_is_said(what: str, tmp_path: Path) -> None:
    copied(tmp_path)
    found = "a folder" if what == "bank" else "nothing"
    with pytest.raises(ProblemsFound) as error:
        load_question_file(tmp_path / what)
    assert said(error, tmp_path) == [
        f"{what}: [no-question-file] expected a question file, found {found}; type the path of the file"
    ]


def test_the_bank_of_a_file_is_the_nearest_folder_with_what_banks_hold(tmp_path: Path) -> None:
    bank = copied(tmp_path)
    assert bank_around(bank / "shear" / "drain-hole.yaml") == bank
    (bank / "shear" / "deeper").mkdir()
    assert bank_around(bank / "shear" / "deeper" / "q.yaml") == bank
    (tmp_path / "alone").mkdir()
    assert bank_around(tmp_path / "alone" / "q.yaml") == tmp_path / "alone"


def test_remarks_and_notes_are_in_the_report_with_their_file(tmp_path: Path) -> None:
    bank = copied(tmp_path)
    file = bank / "shear" / "drain-hole.yaml"
    text = file.read_text(encoding="utf-8").replace("caution: A press", "# A press").replace("level: 2", "level: 3")
    file.write_text(text, encoding="utf-8")
    (bank / "tables" / "spare.yaml").write_text(
        "source: invented\ncolumns: {a: mm}\nrows: [{name: x, a: 1}]\n", "utf-8"
    )
    done = check(bank)
    hole = next(q for q in done.questions if q.key == "drain-hole")
    assert {(r.code, r.place.file) for r in hole.remarks} == {("no-caution", str(file)), ("level", str(file))}
    assert "unused-table" in {note.code for note in done.notes}


@pytest.mark.parametrize("as_pdf", [False, True])
def test_a_preview_shows_three_variants_and_what_each_slip_would_earn(as_pdf: bool, tmp_path: Path) -> None:
    out = tmp_path / "preview"
    done = preview(BANK_FOLDER, "drain-hole", as_pdf, out)
    assert (done.file, done.variants) == (out, 3)
    assert out.read_bytes().startswith(b"%PDF" if as_pdf else b"<!doctype html")


def test_a_preview_of_a_file_and_of_its_key_in_the_bank_are_the_same_bytes(tmp_path: Path) -> None:
    preview(BANK_FOLDER, "clevis-pin", False, tmp_path / "one.html")
    preview(BANK_FOLDER / "shear" / "clevis-pin.yaml", "", False, tmp_path / "two.html")
    assert (tmp_path / "one.html").read_bytes() == (tmp_path / "two.html").read_bytes()


def test_a_preview_of_one_question_does_not_stumble_over_another_that_is_half_written(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(SMALL_BANK, bank)
    (bank / "half.yaml").write_text("question: half\ntitle: [", encoding="utf-8")
    assert preview(bank, "cut-edge", False, tmp_path / "p.html").variants > 1
    with pytest.raises(ProblemsFound):
        preview(bank, "half", False, tmp_path / "p.html")


@pytest.mark.parametrize(
    ("key", "expected"), [("", "the key of a question behind the bank"), ("x", "a question of the bank")]
)
def test_a_preview_of_a_bank_needs_one_of_its_questions(key: str, expected: str) -> None:
    with pytest.raises(ProblemsFound) as error:
        preview(SMALL_BANK, key)
    assert f"[no-question] expected {expected}, found {key or 'none'}; one of drain-hole, cut-edge" in str(
        error.value.problems[0]
    )


def test_where_there_are_fewer_variants_a_preview_shows_those() -> None:
    question = load_bank(SMALL_BANK)["cut-edge"]  # three thicknesses, one metal
    assert 0 < count_allowed(question) < 5
    assert len(drawn(question, 5)) == count_allowed(question)


def test_a_preview_never_holds_a_script() -> None:
    page = html_of(preview_document(BANK["drain-hole"], [], (), ["<script>"], 3))
    assert "<script" not in page
