"""The words of `planning.views.words` as filters, for what a template shows of a row itself."""

from decimal import Decimal
from urllib.parse import urlencode

from django import template

from kits.measures import Currency, format_amount
from planning.calendar import YearMonth
from planning.views import words

register = template.Library()
register.filter("day", words.day)
register.filter("weekday", words.weekday)
register.filter("moment", words.moment)
register.filter("count", words.count)
register.filter("counted", words.counted)
register.filter("file_size", words.file_size)
register.filter("step_title", words.step_title)


@register.filter
def amount(money: Decimal, currency: str) -> str:
    """Return an amount with the decimals of its currency."""
    return format_amount(money, Currency(currency).exponent)


@register.filter
def code_query(code: str) -> str:
    """Return how a URL asks for the recipe of a code."""
    return urlencode({"code": code})


@register.filter
def month_title(month: str) -> str:
    """Return a month written 2027-04 as a heading: April 2027."""
    return YearMonth.parse(month).title
