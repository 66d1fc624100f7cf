"""Which tests are asked about a mutant of a module: first those that concern it, then others of the same layers."""

from collections.abc import Mapping
from pathlib import Path

REPOSITORY = Path(__file__).resolve().parents[1]

# The tests that concern a module: those of the longest beginning that fits. The quickest first, since one that fails
# ends the run.
CONCERNS: dict[str, tuple[str, ...]] = {
    "maths/rounding.py": ("tests/maths/test_rounding.py",),
    "questions/drawing/likeness.py": ("tests/questions/test_likeness.py", "tests/questions/test_separation.py"),
    "questions/drawing/separation.py": (
        "tests/questions/test_rows_that_may_go_out.py",
        "tests/questions/test_separation.py",
        "tests/bank/test_other_subjects.py",
        "tests/questions/test_likeness.py",
        "tests/questions/test_drawing_laws.py",
    ),
    "questions/drawing/space.py": (
        "tests/questions/test_drawn_by_hand.py",
        "tests/questions/test_drawing_laws.py",
        "tests/questions/test_likeness.py",
    ),
    "questions/drawing/": (
        "tests/questions/test_drawn_by_hand.py",
        "tests/questions/test_drawing_laws.py",
        "tests/questions/test_likeness.py",
        "tests/questions/test_separation.py",
    ),
    "marking/answers.py": ("tests/marking/test_table_columns.py", "tests/test_edges.py", "tests/marking/test_cells.py"),
    "marking/class_marking.py": ("tests/marking/test_class_marking.py", "tests/marking/test_class_priors.py"),
    "marking/examples.py": ("tests/marking/test_wrong_answers.py", "tests/documents/test_preview.py"),
    "marking/frames.py": (
        "tests/marking/test_small_tables.py",
        "tests/marking/test_cells.py",
        "tests/marking/test_table_and_single.py",
        "tests/marking/test_table.py",
    ),
    "marking/marker.py": (
        "tests/marking/test_one_answer.py",
        "tests/marking/test_numbers_by_hand.py",
        "tests/marking/test_entries.py",
        "tests/marking/test_carried_forward.py",
        "tests/marking/test_rounded_early.py",
        "tests/marking/test_edits.py",
        "tests/marking/test_comma_habits.py",
        "tests/marking/test_right.py",
        "tests/marking/test_units.py",
        "tests/marking/test_rules.py",
        "tests/marking/test_readings.py",
        "tests/marking/test_class_marking.py",
    ),
    "marking/answered.py": ("tests/marking/test_answered.py", "tests/marking/test_comma_habits.py"),
    "marking/other_sheets.py": ("tests/marking/test_other_sheets.py", "tests/marking/test_class_marking.py"),
    "marking/outcome.py": ("tests/marking/test_outcomes.py", "tests/marking/test_class_marking.py"),
    "marking/reweighing.py": (
        "tests/marking/test_reweighing.py",
        "tests/marking/test_class_marking.py",
        "tests/marking/test_class_priors.py",
        "tests/marking/test_names_that_wait.py",
    ),
    "marking/standing.py": (
        "tests/marking/test_standing.py",
        "tests/jobs/test_year_days.py",
        "tests/jobs/test_year_attempts.py",
        "tests/jobs/test_mark_book.py",
    ),
    "marking/table_columns.py": (
        "tests/marking/test_table_columns.py",
        "tests/marking/test_cells.py",
        "tests/marking/test_table_and_single.py",
        "tests/marking/test_table.py",
    ),
    "marking/hypotheses/": ("tests/marking/test_explanations.py", "tests/marking/test_hypotheses_laws.py"),
    "marking/hypotheses/conversions.py": ("tests/marking/test_hypotheses_laws.py",),
    "marking/hypotheses/first_thoughts.py": (
        "tests/marking/test_explanations.py",
        "tests/marking/test_hypotheses_laws.py",
        "tests/marking/test_first_thoughts.py",
    ),
    "marking/weighing/": (
        "tests/marking/test_weighing_laws.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_carried_forward.py",
    ),
    "marking/weighing/class_priors.py": ("tests/marking/test_weighing_laws.py", "tests/marking/test_class_priors.py"),
    "marking/weighing/digits.py": ("tests/marking/test_digits.py", "tests/marking/test_weighing_laws.py"),
    "marking/weighing/screening.py": ("tests/marking/test_screening.py", "tests/marking/test_weighing_laws.py"),
    "marking/weighing/ladder.py": (
        "tests/marking/test_weighing_laws.py",
        "tests/marking/test_edits.py",
        "tests/marking/test_first_thoughts.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_slips.py",
    ),
    "marking/weighing/likelihood.py": (
        "tests/marking/test_likelihood.py",
        "tests/marking/test_weighing_laws.py",
        "tests/marking/test_before_it_was_rounded.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_carried_forward.py",
    ),
    "marking/hypotheses/wording.py": ("tests/marking/test_sentences.py", "tests/marking/test_hypotheses_laws.py"),
    "marking/hypotheses/plan.py": (
        "tests/marking/test_explanations.py",
        "tests/marking/test_hypotheses_laws.py",
        "tests/marking/test_first_thoughts.py",
        "tests/marking/test_edits.py",
    ),
    "marking/weights.py": (
        "tests/marking/test_weights.py",
        "tests/marking/test_weighing_laws.py",
        "tests/marking/test_hypotheses_laws.py",
        "tests/marking/test_likelihood.py",
        "tests/marking/test_class_priors.py",
        "tests/test_corpus.py",
    ),
    "marking/kinds/commas.py": ("tests/marking/test_comma_habits.py",),
    "marking/kinds/several.py": ("tests/marking/test_options_by_hand.py", "tests/marking/test_several.py"),
    "marking/kinds/match.py": ("tests/marking/test_pairs_by_hand.py", "tests/marking/test_match.py"),
    "marking/kinds/limits.py": ("tests/marking/test_limits.py",),
    "marking/kinds/choice.py": (
        "tests/marking/test_options_by_hand.py",
        "tests/marking/test_kinds.py",
        "tests/marking/test_letters.py",
    ),
    "marking/kinds/dispatch.py": (
        "tests/marking/test_kinds.py",
        "tests/marking/test_letters.py",
        "tests/marking/test_orders_and_points.py",
        "tests/marking/test_orders_and_points_of_the_bank.py",
        "tests/marking/test_expressions.py",
        "tests/marking/test_expressions_of_the_bank.py",
    ),
    "marking/kinds/expression.py": (
        "tests/marking/test_expressions.py",
        "tests/marking/test_expressions_of_the_bank.py",
    ),
    "marking/kinds/hand.py": ("tests/marking/test_outcomes.py", "tests/marking/test_kinds.py"),
    "marking/kinds/judge.py": (
        "tests/marking/test_judged_by_hand.py",
        "tests/marking/test_kinds.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_carried_forward.py",
    ),
    "marking/kinds/order.py": (
        "tests/marking/test_orders_and_points.py",
        "tests/marking/test_orders_and_points_of_the_bank.py",
    ),
    "marking/kinds/points.py": (
        "tests/marking/test_orders_and_points.py",
        "tests/marking/test_orders_and_points_of_the_bank.py",
        "tests/bank/test_points.py",
    ),
    "marking/kinds/quantity.py": (
        "tests/marking/test_one_answer.py",
        "tests/marking/test_numbers_by_hand.py",
        "tests/marking/test_before_it_was_rounded.py",
        "tests/marking/test_rounded_early.py",
        "tests/marking/test_limits.py",
        "tests/marking/test_units.py",
        "tests/marking/test_rules.py",
        "tests/marking/test_carried_forward.py",
        "tests/marking/test_right.py",
    ),
    "marking/kinds/without_numbers.py": ("tests/marking/test_outcomes.py", "tests/marking/test_kinds.py"),
    "marking/kinds/wrong_answers.py": ("tests/marking/test_wrong_sizes.py", "tests/marking/test_wrong_answers.py"),
    "marking/search/": (
        "tests/marking/test_search_at_a_place.py",
        "tests/marking/test_worth_of_formulas.py",
        "tests/marking/test_unknown_methods.py",
    ),
    "marking/search/changed_workings.py": ("tests/marking/test_variations.py",),
    "marking/search/changes.py": ("tests/marking/test_changes.py",),
    "marking/search/habit_fits.py": ("tests/marking/test_habit_fits.py",),
    "marking/search/near_fits.py": ("tests/marking/test_near_fits.py",),
    "marking/search/product_fits.py": ("tests/marking/test_product_fits.py",),
    "marking/search/product_forms.py": ("tests/marking/test_product_forms.py",),
    "marking/search/samples.py": ("tests/marking/test_samples.py",),
    "marking/search/shared_odds.py": ("tests/marking/test_shared_odds.py",),
    "marking/search/tables.py": ("tests/marking/test_search_tables.py",),
    "marking/search/unexplained.py": ("tests/marking/test_unexplained.py",),
    "marking/search/variations.py": ("tests/marking/test_variations.py",),
    "marking/kinds/standard.py": ("tests/marking/test_standard.py",),
    "marking/": (
        "tests/marking/test_class_marking.py",
        "tests/marking/test_right.py",
        "tests/marking/test_units.py",
        "tests/marking/test_entries.py",
        "tests/marking/test_comma_habits.py",
        "tests/marking/test_table.py",
        "tests/marking/test_class_priors.py",
        "tests/marking/test_rules.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_rounded_early.py",
    ),
    "reading/number/": (
        "tests/reading/test_figures.py",
        "tests/reading/test_repairs.py",
        "tests/reading/test_reading_laws.py",
    ),
    "reading/number/comma_habits.py": ("tests/marking/test_comma_habits.py",),
    "record/acceptance.py": ("tests/record/test_acceptance.py",),
    "record/arrangements.py": (
        "tests/record/test_arrangements.py",
        "tests/record/test_visits.py",
        "tests/record/test_steps.py",
    ),
    "record/chain.py": ("tests/record/test_chain.py",),
    "record/codec.py": ("tests/record/test_codec.py",),
    "record/connection.py": ("tests/record/test_opening.py", "tests/record/test_robustness.py"),
    "record/copies.py": ("tests/record/test_copies_kept.py", "tests/record/test_copies.py"),
    "record/corrections.py": ("tests/record/test_corrections_kept.py",),
    "record/counting.py": ("tests/record/test_what_counts.py", "tests/record/test_moderation.py"),
    "record/export.py": ("tests/record/test_export.py",),
    "record/export_student.py": ("tests/record/test_export.py",),
    "record/journal.py": ("tests/record/test_single_values.py",),
    "record/kept_files.py": ("tests/record/test_what_counts.py",),
    "record/mending.py": ("tests/record/test_migrations.py",),
    "record/migrations.py": ("tests/record/test_migrations.py", "tests/record/test_opening.py"),
    "record/moderation.py": ("tests/record/test_moderation.py",),
    "record/outcomes.py": ("tests/record/test_moderation.py", "tests/record/test_record.py"),
    "record/record.py": (
        "tests/record/test_single_values.py",
        "tests/record/test_what_counts.py",
        "tests/record/test_corrections_kept.py",
        "tests/record/test_sheets_kept.py",
        "tests/record/test_removal.py",
        "tests/record/test_steps.py",
        "tests/record/test_visits.py",
        "tests/record/test_export.py",
        "tests/record/test_copies.py",
    ),
    "record/record_file.py": (
        "tests/record/test_opening.py",
        "tests/record/test_record.py",
        "tests/record/test_robustness.py",
    ),
    "record/removal.py": ("tests/record/test_removal.py", "tests/record/test_steps.py"),
    "record/returns.py": ("tests/record/test_what_counts.py", "tests/record/test_record.py"),
    "record/rows.py": ("tests/record/test_single_values.py",),
    "record/schema.py": ("tests/record/test_migrations.py",),
    "record/sheets.py": (
        "tests/record/test_sheets_kept.py",
        "tests/record/test_record.py",
        "tests/record/test_corrections_kept.py",
        "tests/record/test_acceptance.py",
    ),
    "record/steps.py": ("tests/record/test_steps.py", "tests/record/test_corrections_kept.py"),
    "record/storing.py": ("tests/record/test_single_values.py",),
    "record/verifying.py": ("tests/record/test_verifying.py", "tests/record/test_chain.py"),
    "record/visits.py": ("tests/record/test_visits.py",),
    "record/": ("tests/record",),
}  # fmt: skip


# Other tests of the suite that may notice what those let pass: those that take a minute of the processor's time
# together at most, first what looks at the most.
OTHERS: dict[str, tuple[str, ...]] = {
    "maths/": ("tests/maths", "tests/test_corpus.py"),
    "questions/": (
        "tests/questions",
        "tests/bank/test_other_subjects.py",
        "tests/bank/test_fits.py",
        "tests/bank/test_problems.py",
        "tests/bank/test_made_questions.py",
        "tests/test_published.py",
        "tests/test_corpus.py",
    ),
    "marking/hypotheses/": (
        "tests/marking/test_rounded_early.py",
        "tests/marking/test_edits.py",
        "tests/marking/test_first_thoughts.py",
        "tests/test_corpus.py",
    ),
    "marking/search/": (
        "tests/marking/test_near_fits.py",
        "tests/marking/test_variations.py",
        "tests/marking/test_worth_of_formulas.py",
        "tests/marking/test_unknown_methods.py",
        "tests/review/test_shared_methods.py",
        "tests/review/test_planted_methods.py",
        "tests/marking/test_partitions.py",
    ),
    "marking/": (
        "tests/test_corpus.py",
        "tests/marking/test_before_it_was_rounded.py",
        "tests/marking/test_carried_forward.py",
        "tests/marking/test_cells.py",
        "tests/marking/test_class_marking.py",
        "tests/marking/test_class_priors.py",
        "tests/marking/test_edits.py",
        "tests/marking/test_entries.py",
        "tests/marking/test_fair_hand.py",
        "tests/marking/test_first_thoughts.py",
        "tests/marking/test_hypotheses_laws.py",
        "tests/marking/test_names_that_wait.py",
        "tests/marking/test_rounded_early.py",
        "tests/marking/test_rules.py",
        "tests/marking/test_slips.py",
        "tests/marking/test_table_and_single.py",
        "tests/marking/test_teacher_judgements.py",
        "tests/marking/test_units.py",
        "tests/marking/test_wrong_answers.py",
        "tests/test_published.py",
        "tests/review/test_shared_methods.py",
    ),
    "record/": (
        "tests/record",
        "tests/jobs/test_checking.py",
        "tests/jobs/test_remove.py",
        "tests/jobs/test_taking_in.py",
        "tests/jobs/test_moderate.py",
        "tests/jobs/test_return.py",
        "tests/jobs/test_year_days.py",
        "tests/jobs/test_second_mark.py",
        "tests/jobs/test_visiting.py",
    ),
}


def tests_of(module: str) -> tuple[str, ...]:
    """The tests that concern a module; those files that are there."""
    return _named(CONCERNS, module)


def others_of(module: str) -> tuple[str, ...]:
    """Other tests that may notice a mutant of the module which those let pass."""
    first = set(tests_of(module))
    return tuple(test for test in _named(OTHERS, module) if test not in first)


def _named(table: Mapping[str, tuple[str, ...]], module: str) -> tuple[str, ...]:
    fitting = [beginning for beginning in table if module.startswith(beginning)]
    named = table[max(fitting, key=len)] if fitting else ()
    return tuple(test for test in named if (REPOSITORY / test).exists())
