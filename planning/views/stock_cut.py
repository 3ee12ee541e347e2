"""What became of a cutting ticket's sheets: good pieces, spoiled ones."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from kits.models import Month
from planning import load, ordering
from planning.cutting import CuttingTicket, LengthTicket
from planning.requirements import code_of
from planning.run import Planned
from planning.stock import CutLine, Place, StockError
from planning.stockbook import (
    book_of,
    post_cut,
)
from planning.views import gate, words
from planning.views.forms import Field, Form, Grid, GridRow, Typed, form_key, show_form
from planning.views.orders import around, person
from planning.views.parts import Cell, Line, Table, number, text
from planning.views.stock import shelf
from planning.views.stock_issue import coded, in_the_book

Ticket = CuttingTicket | LengthTicket


def stock_cut(request: HttpRequest, month: int) -> HttpResponse:
    """Enter what became of a cutting ticket's sheets; without a ticket, show those of the plan."""
    row = gate.month_or_404(request, month)
    plan = gate.readable_plan_or_none(request, row)
    tickets: Sequence[Ticket] = load.planned(plan).plan.cutting.all if plan else ()
    if "ticket" not in request.GET:
        shown = around(row, "stock") | {
            "table": ticket_table(row, tickets, load.planned(plan) if plan else None)
        }
        return render(request, "planning/stock_cut.html", shown)
    at = gate.page_number(request, "ticket")
    if at > len(tickets):
        raise Http404
    ticket = tickets[at - 1]
    typed = Typed(request.POST if request.method == "POST" else {})
    version, problem = str(plan.version if plan else ""), ""
    if request.method == "POST" and typed.text("plan") != version:
        problem = "The month was planned again since you opened this page, and its tickets may be others: look again."
    elif request.method == "POST":
        units, lines = typed_cut(ticket, typed)
        note = typed.text("note") or f"Ticket {at}"
        if not typed.errors:
            try:
                posted = post_cut(row, ticket.source, units, lines, person(request), form_key(request), note)
                return in_the_book(request, row, posted.row.serial, is_new=posted.is_new)
            except StockError as error:
                problem = str(error)
    form = cut_form(request, row, at, ticket, typed, problem)
    return show_form(request, around(row, "stock"), replace(form, hidden=(("plan", version),)))


def ticket_table(row: Month, tickets: Sequence[Ticket], planned: Planned | None) -> Table:
    """Return the tickets of the plan, to choose from."""
    names = ordering.names_of_items(row)
    here = reverse("stock_cut", args=[row.pk])
    return Table(
        "Tickets of the plan",
        (text("Ticket"), text("Piece"), text("Cut from"), number("Sheets or rolls"), number("Pieces")),
        [
            Line(
                (
                    Cell(f"Ticket {at}", href=f"{here}?{urlencode({'ticket': at})}"),
                    ", ".join(one.name for one in pieces_of(ticket)),
                    names.get(ticket.source, ticket.source),
                    words.count(ticket.units),
                    words.count(ticket.made),
                )
            )
            for at, ticket in enumerate(tickets, 1)
        ],
        empty="The plan cuts nothing." if planned else "Plan the month first: tickets come from the plan.",
    )


@dataclass(frozen=True, slots=True)
class Cuts:
    """The pieces of one size on a ticket. out: how many one sheet or roll yields; share: of its cost that one bears."""

    item: str
    name: str
    out: int
    share: int


def pieces_of(ticket: Ticket) -> tuple[Cuts, ...]:
    """Return the sizes a ticket cuts; they share the cost of a sheet by area, and a roll has one length only."""
    if isinstance(ticket, LengthTicket):
        return (Cuts(code_of(ticket.job.item), ticket.job.name, ticket.out, 1),)
    return tuple(
        Cuts(code_of(one.job.item), one.job.name, one.out, one.job.width * one.job.height)
        for one in ticket.pieces
    )


def typed_cut(ticket: Ticket, typed: Typed) -> tuple[int, list[CutLine]]:
    """Return the sheets that were cut and what became of the pieces of each size."""
    units = typed.count("units")
    if units == 0:
        typed.errors.setdefault("units", "Write how many were cut.")
    lines = []
    for one in pieces_of(ticket):
        good = typed.count(f"good-{coded(one.item)}")
        spoiled = typed.count(f"spoiled-{coded(one.item)}", 0)
        if not typed.errors and good + spoiled > units * one.out:
            most = f"{units:,} at {one.out:,} each are {units * one.out:,} pieces at most."
            typed.errors[f"good-{coded(one.item)}"] = most
        lines.append(CutLine(item=one.item, good=good, spoiled=spoiled, share=one.share))
    return units, lines


def cut_form(request: HttpRequest, row: Month, at: int, ticket: Ticket, typed: Typed, problem: str) -> Form:
    """Return the form for a ticket's totals."""
    names, book = ordering.names_of_items(row), book_of(row)
    source = names.get(ticket.source, ticket.source)
    ready, there = (shelf(book, place).get(ticket.source, 0) for place in (Place.CUTTING, Place.SHELF))
    what = "Rolls" if isinstance(ticket, LengthTicket) else "Sheets"

    def field(name: str, label: str, hint: str = "", kind: str = "number") -> Field:
        given, error = typed.sent.get(name, ""), typed.errors.get(name, "")
        return Field(name=name, label=label, value=given, kind=kind, hint=hint, error=error)

    def pieces(one: Cuts) -> GridRow:
        return GridRow(
            (
                one.name,
                words.count(one.out),
                words.count(one.out * ticket.units),
                field(f"good-{coded(one.item)}", f"Good pieces, {one.name}"),
                field(f"spoiled-{coded(one.item)}", f"Spoiled pieces, {one.name}"),
            )
        )

    return Form(
        title=f"Cut totals, ticket {at}",
        lede=f"Cut from {source}. Good pieces go to the shelf. What the {what.lower()} cost is shared by all pieces, "
        "good and spoiled, by their area.",
        button="Enter the totals",
        back=(reverse("stock_cut", args=[row.pk]), "Other tickets"),
        failed="Nothing was entered",
        problem=problem,
        key=form_key(request),
        fields=(
            field(
                "units",
                f"{what} cut",
                f"The ticket says {ticket.units:,}. At cutting are {ready:,}, used first; on the shelf {there:,}.",
            ),
            field("note", "Note", f"Left empty, “Ticket {at}”.", "text"),
        ),
        grid=Grid(
            "What became of the pieces; spoiled left empty is none",
            (text("Piece"), number("From each"), number("Ticket makes"), number("Good"), number("Spoiled")),
            tuple(map(pieces, pieces_of(ticket))),
        ),
    )
