"""The demo month, put together from its tables."""

from planning.demo import ahead, carriers, club, kit, money, past, recipes, rules, suppliers
from planning.demo.customs import CUSTOMS, shelved
from planning.demo.goods import EXTRAS, packaging
from planning.demo.papers import PAPERS
from planning.demo.people import roster
from planning.month import Month


def demo_month(boxes: int = 1_200) -> Month:
    """Return May 2027 of an invented club, with exactly `boxes` boxes and a crew, shelf and yearly use to match.

    The same month every time. Raises ValueError below one box.
    """
    if boxes < 1:
        raise ValueError(f"a demo month has at least 1 box, not {boxes}")
    subscribers, orders = roster(boxes)
    return Month(
        club=club.CLUB,
        materials=shelved((*PAPERS, *EXTRAS, *packaging(boxes))),
        suppliers=suppliers.SUPPLIERS,
        offers=suppliers.OFFERS,
        price_breaks=suppliers.PRICE_BREAKS,
        stock=suppliers.stock(boxes),
        open_orders=suppliers.open_orders(boxes),
        recipes=recipes.RECIPES,
        kit_papers=kit.KIT_PAPERS,
        pre_cuts=kit.PRE_CUTS,
        kit_lines=kit.KIT_LINES,
        tiers=kit.TIERS,
        rules=rules.RULES,
        subscribers=subscribers,
        orders=orders,
        week=club.week(boxes),
        days_off=club.DAYS_OFF,
        crew_days=club.crew_days(boxes),
        services=carriers.SERVICES,
        zones=carriers.ZONES,
        transits=carriers.TRANSITS,
        rates=carriers.RATES,
        surcharges=carriers.SURCHARGES,
        guillotines=club.GUILLOTINES,
        forecasts=ahead.forecasts(boxes),
        spoilages=ahead.SPOILAGES,
        outlooks=ahead.outlooks(boxes),
        quantiles=ahead.quantiles(boxes),
        substitutes=ahead.SUBSTITUTES,
        customs=CUSTOMS,
        charges=money.charges(boxes),
        aims=money.aims(boxes),
        budget=money.budget(boxes),
        price_points=money.PRICE_POINTS,
        promotions=money.PROMOTIONS,
        past=past.past(boxes),
        stayed=past.who_stayed(boxes),
        promoted=past.PROMOTED_MONTHS,
        announced=past.announced(boxes),
        by_hand=past.by_hand(boxes),
        uncertain=past.UNCERTAIN,
    )
