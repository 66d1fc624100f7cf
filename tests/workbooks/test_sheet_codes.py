"""Sheet codes: the same for years, and no slip of the pen makes one out of another."""

import hashlib
from itertools import combinations, product
from math import comb

from hypothesis import given
from hypothesis import strategies as st

from witnessmark.questions.sheet.sheet_codes import ALPHABET, codes_in, is_sheet_code, repaired_code, sheet_code

CODES = st.builds(sheet_code, st.text(max_size=12), st.text(max_size=12), st.integers(1, 9))


def test_a_code_is_the_sha_256_of_task_student_and_attempt_written_in_base_23() -> None:
    number = int(hashlib.sha256(b'["witnessmark sheet 1", "shear-1", "S07", 1]').hexdigest(), 16)
    payload = "".join(ALPHABET[number // 23**n % 23] for n in range(7))
    code = sheet_code("shear-1", "S07", 1)
    assert code.replace("-", "")[:7] == payload
    assert code == "WFT5-DYNX"


def test_the_alphabet_has_no_vowels_and_no_look_alikes() -> None:
    assert len(ALPHABET) == len(set(ALPHABET)) == 23
    assert not set(ALPHABET) & set("AEIOU01LQBGSZ")


def test_every_single_wrong_character_is_caught() -> None:
    for n in range(200):
        code = sheet_code("shear-1", f"S{n}", 1)
        for place, letter in product([0, 1, 2, 3, 5, 6, 7, 8], ALPHABET):
            wrong = code[:place] + letter + code[place + 1 :]
            assert is_sheet_code(wrong) is (wrong == code)


def test_every_two_characters_that_changed_places_are_caught() -> None:
    for n in range(200):
        code = sheet_code("shear-1", f"S{n}", 1)
        for i, j in combinations([0, 1, 2, 3, 5, 6, 7, 8], 2):
            letters = list(code)
            letters[i], letters[j] = letters[j], letters[i]
            swapped = "".join(letters)
            assert is_sheet_code(swapped) is (swapped == code)


def test_one_text_in_23_passes_for_a_code() -> None:
    assert sum(is_sheet_code(f"{a}{b}KT-{c}RMX") for a, b, c in product(ALPHABET, repeat=3)) == 23**2


@given(CODES)
def test_small_letters_blanks_and_missing_or_other_hyphens_are_put_right(code: str) -> None:
    for typed in (code, code.lower(), code.replace("-", ""), code.replace("-", " – "), f" {' '.join(code)} "):
        assert repaired_code(typed) == code


@given(CODES)
def test_look_alikes_are_put_right(code: str) -> None:
    for meant, typed in (
        ("8", "B"),
        ("6", "g"),
        ("5", "S"),
        ("2", "z"),
        ("D", "O"),
        ("D", "0"),
        ("D", "q"),
        ("V", "u"),
    ):
        assert repaired_code(code.replace(meant, typed)) == code


def test_wide_characters_are_put_right() -> None:
    assert repaired_code("ＷＦＴ５－ＤＹＮＸ") == "WFT5-DYNX"


def test_what_is_no_code_is_refused() -> None:
    for text in ("", "WFT5-DYN", "WFT5-DYNXX", "WFT5-DYNI", "shear-1", "WFT5-DYNY", "WFT5DYN€"):
        assert repaired_code(text) is None
    assert not is_sheet_code("wft5-dynx")


def test_codes_are_found_in_the_names_of_files() -> None:
    for name in (
        "WFT5-DYNX",
        "HB01_WFT5-DYNX (2)",
        "my answers wft5dynx",
        "WFT5 DYNX copy",
        "task-1-WFT5-DYNX-WFT5-DYNX",
    ):
        assert codes_in(name) == ("WFT5-DYNX",)
    for name in ("answers shear-1", "AWFT5-DYNX", "WFT5-DYNXA", "WFT5-DYNY", "copy of book"):
        assert codes_in(name) == ()


def test_5000_sheets_of_one_task_share_about_as_few_codes_as_chance_says() -> None:
    codes = [sheet_code("winter-1", f"student {n}", 1) for n in range(5000)]
    assert comb(5000, 2) / 23**7 < 0.004
    assert len(set(codes)) == 5000


@given(st.text(), st.text(), st.integers(1, 99))
def test_every_code_that_is_given_out_is_one(task: str, student: str, attempt: int) -> None:
    assert is_sheet_code(sheet_code(task, student, attempt))
