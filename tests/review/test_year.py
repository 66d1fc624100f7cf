"""Recurrence over a year: chances, what may be said of what was not seen, and whether something faded."""

from datetime import date, timedelta

import numpy as np
import pytest

from bank_fixture import BANK
from review.year_class import FACE, START, TASKS, Planted, holders, students, year
from witnessmark.questions.model.kinds import shown_by
from witnessmark.review.statistics.shares import Share
from witnessmark.review.year import sentences
from witnessmark.review.year.chances import chances_of
from witnessmark.review.year.fading import After, faded, over_the_year
from witnessmark.review.year.history import Visit, Year
from witnessmark.review.year.needs import needs_of, same_needs
from witnessmark.review.year.recurrence import Standing, YearRecurrence, by_family, recurrences_of

FOUR = students(4)
NOBODY = Planted({})


def found(one: Year, known: tuple[str, ...] = ()) -> dict[str, YearRecurrence]:
    """The recurrences of a year, by key."""
    return {r.key: r for r in recurrences_of(chances_of(one), BANK.families, known)}


def test_whoever_answered_a_part_that_knows_the_wrong_method_had_a_chance_and_nobody_else() -> None:
    absent, blank = frozenset({("S00", 0), ("S00", 1)}), frozenset({("S01", 0), ("S01", 1)})
    r = found(year(FOUR, Planted({FACE: lambda s, _: s == "S02"}, absent, blank), (TASKS[0], TASKS[2])))[FACE]
    assert r.could == ("S02", "S03")
    assert r.share == Share(1, 2)
    assert [(c.task_key, c.label, c.shown) for c in r.seen] == [("task-1", "1a", True), ("task-2", "1a", True)]


def test_what_no_question_could_show_is_never_said_to_be_absent() -> None:
    known = tuple(BANK.misconceptions)
    asked = {key for task in TASKS for q in task for part in BANK[q].parts for key in shown_by(part)}
    for key, r in found(year(FOUR, NOBODY), known).items():
        assert r.standing is (Standing.NOT_SEEN if key in asked else Standing.NO_CHANCE)
        if key not in asked:
            assert "nothing is known" in sentences.standing_words(r)
            assert "had the chance" not in sentences.standing_words(r)


def test_a_single_sighting_is_said_to_be_one() -> None:
    r = found(year(FOUR, Planted({FACE: lambda s, t: (s, t) == ("S02", 0)})))[FACE]
    assert r.standing is Standing.ONCE
    assert sentences.standing_words(r) == "Seen once, in S02 at 1a of task-1: one sighting, no more than that."


def test_of_few_nothing_is_said_of_how_common_it_is() -> None:
    assert sentences.share_words(Share(2, 4)) == "2 of the 4 who had the chance: too few to say how common it is"
    assert "24\u00a0% to 61\u00a0%" in sentences.share_words(Share(10, 24))  # statsmodels: 0.2447 to 0.6117


def test_who_still_shows_it_is_told_by_the_latest_task_with_a_chance() -> None:
    shows = Planted({FACE: lambda s, t: s == "S01" or (s == "S02" and t == 0)})
    r = found(year(FOUR, shows))[FACE]
    assert (r.students, r.still) == (("S01", "S02"), ("S01",))
    needs = needs_of([r])
    assert list(needs) == ["S01"]
    assert needs["S01"][0].last.task_key == r.seen[-1].task_key


def test_students_who_need_the_same_are_a_group() -> None:
    both = Planted({FACE: lambda s, _: s in ("S01", "S03"), "radius-for-diameter": lambda s, _: s == "S00"})
    (group,) = same_needs(tuple(found(year(FOUR, both)).values()))
    assert (group.keys, group.students) == ((FACE,), ("S01", "S03"))


def test_a_student_counts_once_in_a_family_whichever_of_it_showed() -> None:
    both = Planted({FACE: lambda s, _: s in ("S01", "S03"), "sheared-edge-for-face-area": lambda s, _: s == "S01"})
    families = {f.family: f for f in by_family(tuple(found(year(FOUR, both)).values()))}
    family = families["area and way round"]
    assert {FACE, "sheared-edge-for-face-area"} <= {m.key for m in family.members}
    assert family.share == Share(2, 4)


def test_every_misconception_of_the_bank_is_in_one_family() -> None:
    assert BANK.families.keys() == BANK.misconceptions.keys()


def test_fading_is_told_of_the_same_students_before_and_after() -> None:
    who = students(10)
    one = year(who, Planted({FACE: lambda s, t: t == 0 and s < "S07"}))
    (told,) = [f for f in faded(tuple(found(one).values()), one) if f.key == FACE]
    assert (told.counts.before_only, told.counts.after_only, told.counts.people) == (7, 0, 10)
    assert told.is_finding
    assert "It has faded" in sentences.faded_words(told)


def test_so_few_who_changed_conclude_nothing() -> None:
    one = year(FOUR, Planted({FACE: lambda s, t: t == 0}))
    (told,) = faded(tuple(found(one).values()), one)
    assert not told.is_finding
    assert "nothing can be concluded" in sentences.faded_words(told)


def test_a_visit_counts_for_those_with_whom_the_thing_was_taken_up() -> None:
    day = START + timedelta(weeks=6)
    visits = (Visit("S00", day, (FACE,)), Visit("S01", day, (FACE,)), Visit("S02", day, ("radius-for-diameter",)))
    one = year(FOUR, Planted({FACE: lambda s, t: t < 2 or s == "S01"}), TASKS, visits)
    told = {f.after: f for f in faded(tuple(found(one).values()), one) if f.key == FACE}
    assert (told[After.VISIT].counts.before_only, told[After.VISIT].counts.both) == (1, 1)
    assert not told[After.VISIT].is_finding
    assert "chosen because" in sentences.faded_words(told[After.VISIT])
    assert date(2027, 2, 15) == day


def simulated(classes: int, rate: float, fades: bool, seed: int) -> tuple[float, float]:
    """How often the interval held the planted rate, and how often a change was called a finding, of so many classes of
    24 over four tasks; those who hold it show it in 9 of 10 chances."""
    generator, who = np.random.default_rng(seed), students(24)
    held = called = 0
    for _ in range(classes):
        mine = holders(who, rate, generator)
        luck = {(s.code, t): generator.random() < 0.9 for s in who for t in range(4)}

        def shows(s: str, t: int, mine: frozenset[str] = mine, luck: dict[tuple[str, int], bool] = luck) -> bool:
            return s in mine and luck[s, t] and not (fades and t > 1)

        one = year(who, Planted({FACE: shows}))
        r = found(one)[FACE]
        chances = len({c.task for c in r.chances if c.student == "S00" and not (fades and c.task > 1)})
        held += r.share.interval().holds(rate * (1 - 0.1**chances))
        called += any(f.key == FACE and f.is_finding for f in faded((r,), one))
    return held / classes, called / classes


def test_intervals_hold_the_planted_rate_and_nothing_fades_where_nothing_did() -> None:
    held, called = simulated(40, 0.4, fades=False, seed=1)
    assert held >= 0.85
    assert called <= 0.05


def test_planted_fading_is_found() -> None:
    _, called = simulated(20, 0.5, fades=True, seed=2)
    assert called >= 0.8


@pytest.mark.deep
@pytest.mark.parametrize("rate", [0.1, 0.25, 0.4, 0.6])
def test_over_many_classes_intervals_cover_as_often_as_they_say(rate: float) -> None:
    held, called = simulated(1000, rate, fades=False, seed=int(1000 * rate))
    assert held >= 0.93, f"planted {rate}: covered {held:.3f}"
    assert called <= 0.05, f"planted {rate}: called a change where none is {called:.3f}"


def test_the_comparison_over_the_year_takes_one_chance_of_each_side() -> None:
    one = year(FOUR, Planted({FACE: lambda s, t: t == 0}))
    r = found(one)[FACE]
    assert over_the_year(r.chances).people == 4
    assert over_the_year([c for c in r.chances if c.task == 0]).people == 0
