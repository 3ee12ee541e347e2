"""What cannot be right about a month: every rule between its rows, and what their types do not hold of each.

`faults(month)` tells all of it at once. Each module holds the rules of the tables it is named after; a rule
is a small generator of faults, and RULES is the list of them all.
"""

from collections.abc import Sequence

from planning.faults import (
    ahead,
    carriers,
    club,
    crew,
    customs,
    cutting,
    designs,
    keys,
    kit,
    limits,
    materials,
    money,
    offers,
    parents,
    past,
    rates,
    recipes,
    references,
    roster,
    rules,
    texts,
)
from planning.faults.book import Book, Unread
from planning.faults.model import TITLES, Fault, Rule, sentence
from planning.month import Month

__all__ = ["OWN_RULES", "RULES", "TITLES", "Fault", "Unread", "faults", "faults_by_row", "sentence"]

RULES: tuple[Rule, ...] = (
    texts.unprintable_texts,
    texts.texts_too_long,
    texts.blank_names,
    texts.unusable_codes,
    texts.names_in_spaces,
    texts.club_code,
    limits.numbers_out_of_bounds,
    keys.rows_twice,
    keys.pieces_told_apart,
    keys.codes_shared,
    references.unknown_codes,
    references.codes_twice,
    references.unknown_roles,
    club.unknown_choices,
    club.days_of_another_age,
    club.dates_out_of_order,
    materials.sizes_missing,
    materials.paper_weights_without_sheet,
    materials.roll_lengths,
    materials.insides,
    materials.what_cartons_say,
    materials.edge_trims,
    offers.offers_without_price,
    offers.breaks_out_of_order,
    offers.orders_overdue,
    offers.nothing_that_can_be_ordered,
    offers.last_days_to_order,
    parents.parents_that_do_not_suit,
    recipes.pieces_too_large,
    recipes.pieces_too_many,
    recipes.recipes_without_paper,
    recipes.roles_without_paper,
    recipes.papers_of_other_size,
    designs.texts_that_do_not_read,
    designs.texts_of_another_recipe,
    designs.rows_beside_a_text,
    designs.designs_that_do_not_come_out,
    designs.papers_that_do_not_suit,
    kit.unknown_items,
    kit.materials_of_other_kind,
    kit.lengths_of_rolls,
    kit.lines_for_a_tier_twice,
    kit.empty_kit,
    kit.empty_tiers,
    rules.rules_that_cannot_be,
    rules.unknown_items,
    rules.strays,
    rules.promotions_that_are_none,
    kit.cartons_counted,
    cutting.nothing_to_cut_from,
    cutting.pre_cuts_too_large,
    cutting.no_guillotine,
    cutting.sheets_too_wide,
    roster.nobody,
    roster.boxes_too_many,
    roster.unknown_countries,
    roster.countries_out_of_reach,
    crew.nobody_packs,
    crew.hours_half_told,
    crew.overtime_for_nothing,
    crew.cut_off_before_work,
    carriers.no_services,
    carriers.never_collected,
    carriers.never_delivered,
    carriers.unknown_zones,
    carriers.half_served,
    carriers.surcharges_of_nothing,
    carriers.sizes_that_nothing_has,
    rates.rates_out_of_order,
    rates.weights_without_rate,
    rates.dates_of_rates,
    rates.spans_of_postcodes,
    rates.postcodes_of_two_zones,
    ahead.forecasts_of_no_later_month,
    ahead.spoilage_that_leaves_nothing,
    ahead.outlooks_half_told,
    ahead.quantiles_out_of_order,
    ahead.substitutes_for_themselves,
    customs.wrong_hs_codes,
    customs.unknown_origins,
    money.rates_of_nothing,
    money.prices_below_nothing,
    money.things_that_did_not_happen,
    money.changes_of_nothing,
    past.past_out_of_order,
    past.past_of_another_age,
    past.past_that_does_not_add_up,
    past.tiers_that_vanish,
    past.who_stayed_at_odds,
    past.joined_at_odds,
    past.known_better_out_of_order,
    past.ranges_that_cannot_be,
)
ROSTER_RULES: tuple[Rule, ...] = (
    texts.unprintable_texts,
    texts.texts_too_long,
    texts.blank_names,
    texts.names_in_spaces,
    limits.numbers_out_of_bounds,
    references.unknown_codes,
    references.codes_twice,
    rules.promotions_that_are_none,
    roster.unknown_countries,
    roster.rows_out_of_reach,
)
"""Those of the rules above that look at a row of the roster by itself."""

OWN_RULES: tuple[Rule, ...] = (
    texts.unprintable_texts,
    texts.texts_too_long,
    texts.blank_names,
    texts.unusable_codes,
    texts.names_in_spaces,
    texts.club_code,
    limits.numbers_out_of_bounds,
    keys.rows_twice,
    keys.pieces_told_apart,
    keys.codes_shared,
    references.unknown_codes,
    references.codes_twice,
    references.unknown_roles,
    club.unknown_choices,
    club.days_of_another_age,
    roster.unknown_countries,
    kit.unknown_items,
)
"""Those whose faults only another value in the row itself can put right, so a row with one is not even kept as a draft."""

ORDER = tuple(TITLES)


def faults(month: Month, unread: Unread | None = None, rules: Sequence[Rule] = RULES) -> tuple[Fault, ...]:
    """Return every fault of a month by table and row; a month without any can be planned.

    unread: rows that are not in the month because they could not be read, as far as they were. Nothing is
    called missing that may stand in one of them. rules: those to ask.
    """
    book = Book(month, unread or {})
    found = (designs.in_its_text(fault, book) for rule in rules for fault in rule(book))
    return tuple(sorted(found, key=place))


def faults_by_row(month: Month) -> dict[int, list[Fault]]:
    """Return what is wrong with single rows of a roster, by their index; the rest of the month is taken to be right.

    Where a country is out of reach this says so of every row, and `faults` once a country.
    """
    book = Book(month, {})
    found: dict[int, list[Fault]] = {}
    for rule in ROSTER_RULES:
        for fault in rule(book):
            if fault.table == "subscribers" and fault.row is not None:
                found.setdefault(fault.row, []).append(fault)
    return found


def place(fault: Fault) -> tuple[int, int]:
    """Return where a fault stands among others: the order of the tables, then of their rows."""
    return ORDER.index(fault.table), -1 if fault.row is None else fault.row
