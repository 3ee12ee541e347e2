from collections.abc import Callable, Sequence
from dataclasses import replace
from io import BytesIO
from itertools import chain
from random import Random

import pytest
import zxingcpp
from PIL import Image, ImageOps
from pypdf import PdfReader

from planning.demo import demo_month
from planning.documents.listing import Box, list_boxes
from planning.documents.pdf import packing_slips
from planning.documents.pdf.address import address_lines, lacking
from planning.documents.pdf.contents import SETTINGS, content_lines, set_contents
from planning.documents.pdf.slip_sheets import slip_sheet
from planning.flow import MonthPlan, plan_month
from planning.month import SlipFormat
from planning.packing import PackLine
from planning.shipping import Wave
from tests.documents.small_month import MONTH, STAMP, person
from tests.support.effort import thorough

Texts = Callable[[bytes], list[str]]
Printed = Callable[[bytes], list[Image.Image]]


@pytest.fixture
def wave(plan: MonthPlan) -> Wave:
    return plan.waves[0]


@pytest.fixture
def of_wave(boxes: Sequence[Box], wave: Wave) -> list[Box]:
    return [box for box in boxes if box.wave == wave.number]


def addressed(box: Box, name: str, **more: str) -> Box:
    return replace(box, subscriber=person("S99", name, **more))


def test_a_slip_for_each_box_with_its_place_code_and_page(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    pages = texts(packing_slips(MONTH, plan, wave, of_wave, STAMP))
    assert len(pages) == wave.boxes
    for number, (page, box) in enumerate(zip(pages, of_wave, strict=True), 1):
        assert f"Wave {wave.number}, box {box.place} of {wave.boxes}" in page
        assert box.code in page
        assert box.subscriber.address_1 in page
        assert f"page {number} of {len(pages)}" in page
        assert STAMP.text in page
        assert MONTH.club.name in page
        assert f"{wave.service.carrier}, {wave.service.name}" in page


def test_a_slip_lists_what_the_plan_puts_into_the_box(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    for page, box in zip(texts(packing_slips(MONTH, plan, wave, of_wave, STAMP)), of_wave, strict=True):
        spec = plan.packing.of(box.box_class.contents)
        for line in spec.lines:
            assert f"{line.count} {line.item.name}" in page
        assert f"1 {spec.packed_in}" in page


def test_codes_printed_in_black_and_white_at_200_dpi_are_read_back(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], printed: Printed
) -> None:
    for page, box in zip(printed(packing_slips(MONTH, plan, wave, of_wave, STAMP)), of_wave, strict=True):
        assert read(page) == codes_of(box)


def read(page: Image.Image) -> set[tuple[str, str]]:
    return {(one.format.name, one.text) for one in zxingcpp.read_barcodes(page)}


def codes_of(box: Box) -> set[tuple[str, str]]:
    """Bars for the bench's scanner; the square names the version of the plan as well."""
    return {("Code128", box.code), ("QRCode", f"{box.code}/{STAMP.version}")}


@pytest.mark.parametrize("slips", SlipFormat)
def test_every_format_has_each_slip_once_and_its_codes_are_read_back(
    slips: SlipFormat, plan: MonthPlan, wave: Wave, of_wave: list[Box], printed: Printed, texts: Texts
) -> None:
    month = replace(MONTH, club=replace(MONTH.club, slips=slips))
    file = packing_slips(month, plan, wave, of_wave, STAMP)
    sheet = slip_sheet(slips)
    box = PdfReader(BytesIO(file)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(sheet.size, abs=0.01)
    pages = printed(file)
    assert len(pages) == sheet.sheets(wave.boxes)
    assert set().union(*map(read, pages)) == set().union(*map(codes_of, of_wave))
    assert ("Cut here" in texts(file)[0]) == (len(sheet.places) > 1)


@thorough
def test_five_hundred_slips_of_a_large_month_are_read_back(printed: Printed) -> None:
    month = demo_month(700)
    planned = plan_month(month, quick=True)
    boxes = [box for box in list_boxes(month, planned) if box.wave]
    some = Random(7).sample(boxes, 500)  # noqa: S311 - which ones does not matter
    for page, box in zip(
        printed(packing_slips(month, planned, planned.waves[0], some, STAMP)), some, strict=True
    ):
        assert read(page) == codes_of(box)


def test_cut_stacks_laid_on_each_other_are_in_order() -> None:
    """Ten slips, four on a sheet: three sheets; the stack of each place goes on with the next place's."""
    sheet = slip_sheet(SlipFormat.A4_FOUR)
    stacks: dict[tuple[float, float], list[int]] = {}
    for lying in sheet.filled(range(10)):
        for place, slip in lying:
            stacks.setdefault(place, []).append(slip)
    assert list(chain.from_iterable(stacks[place] for place in sheet.places)) == list(range(10))


@pytest.mark.parametrize(
    ("slips", "millimetres"),
    [
        # ISO 216; half of letter is 5 1/2 x 8 1/2 in (ANSI/ASME Y14.1 halves its sizes likewise)
        (SlipFormat.A6, (105, 148)),
        (SlipFormat.HALF_LETTER, (139.7, 215.9)),
        (SlipFormat.A4_TWO, (148.5, 210)),
        (SlipFormat.A4_FOUR, (105, 148.5)),
        (SlipFormat.LETTER_TWO, (139.7, 215.9)),
        (SlipFormat.LETTER_FOUR, (107.95, 139.7)),
    ],
)
def test_slips_have_the_sizes_their_formats_are_named_for(
    slips: SlipFormat, millimetres: tuple[float, float]
) -> None:
    assert slip_sheet(slips).slip == pytest.approx([each * 72 / 25.4 for each in millimetres], abs=0.01)


def test_slips_of_another_version_have_their_mark_elsewhere(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], printed: Printed
) -> None:
    marks = set()
    for version in range(1, 10):
        [page] = printed(packing_slips(MONTH, plan, wave, of_wave[:1], replace(STAMP, version=version)))
        edge = page.crop((page.width - 31, 60, page.width - 17, page.height - 200)).convert("1")
        box = ImageOps.invert(edge.convert("L")).getbbox()
        assert box is not None
        marks.add(box[1])
    assert len(marks) == 8  # the ninth is where the first was


def test_the_longest_code_a_club_can_have_is_read_back(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], printed: Printed
) -> None:
    """Twelve letters, year and month, six digits, check character."""
    longest = replace(of_wave[0], code="QWERTYUIOPAS2704987654Z")
    [page] = printed(packing_slips(MONTH, plan, wave, [longest], STAMP))
    assert read(page) == codes_of(longest)


@pytest.mark.parametrize(
    "name", ["Łukasz Dvořák", "Ελένη Παπαδοπούλου", "Ольга Щербакова", "Þóra Ægisdóttir", "Nguyễn Thị Ánh"]
)
def test_names_of_all_alphabets_it_holds_are_printed(
    name: str, plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    [page] = texts(packing_slips(MONTH, plan, wave, [addressed(of_wave[0], name)], STAMP))
    assert name in page
    assert "stands for a character" not in page


def test_a_name_it_cannot_print_is_marked(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    [page] = texts(packing_slips(MONTH, plan, wave, [addressed(of_wave[0], "水野 Mizuno")], STAMP))
    assert "?? Mizuno" in page
    assert "stands for a character this print lacks" in page


def test_long_lines_are_wrapped_and_never_cut(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    street = (
        "The Old Boat House behind the Third Mill on the Upper Weir, Staircase B, rear entrance by the canal"
    )
    name = "Hohenstein-Langenburg-Waldenburg-Schillingsfürst zu Oberunterlauterbach an der Quelle"
    box = addressed(of_wave[0], name, address_1=street, address_2="Donaudampfschiff" * 8, address_3=street)
    [page] = texts(packing_slips(MONTH, plan, wave, [box], STAMP))
    assert street in page
    assert name.replace(" ", "") in page.replace(" ", "")
    assert "Donaudampfschiff" * 8 in page.replace(" ", "")
    assert "GERMANY" in page


def test_an_address_as_long_as_a_book_says_that_it_goes_on(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    box = addressed(of_wave[0], "Ann " * 8_000, address_1="Long Street " * 2_700)
    [page] = texts(packing_slips(MONTH, plan, wave, [box], STAMP))
    assert page.count("(see the roster)") == 2


def test_contents_that_do_not_fit_go_on_to_a_second_slip_with_the_same_code(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    box = of_wave[0]
    spec = plan.packing.of(box.box_class.contents)
    item = spec.lines[0].item
    lines = tuple(PackLine(item=replace(item, name=f"Paper number {n:02}"), count=n) for n in range(1, 61))
    full = replace(plan, packing=replace(plan.packing, boxes=(replace(spec, lines=lines),)))
    pages = texts(packing_slips(MONTH, full, wave, [box], STAMP))
    assert len(pages) == 2
    for number, page in enumerate(pages, 1):
        assert f"slip {number} of 2" in page
        assert f"page {number} of 2" in page
        assert box.code in page
    assert all(any(f"{line.count} {line.item.name}" in page for page in pages) for line in lines)


def test_a_box_of_two_parcels_says_what_goes_into_each(
    plan: MonthPlan, wave: Wave, of_wave: list[Box], texts: Texts
) -> None:
    spec = plan.packing.of(of_wave[0].box_class.contents)
    [parcel] = spec.parcels
    halves = tuple(replace(parcel, lines=lines) for lines in (parcel.lines[:1], parcel.lines[1:]))
    parted = replace(plan, packing=replace(plan.packing, boxes=(replace(spec, parcels=halves),)))
    page = " ".join(texts(packing_slips(MONTH, parted, wave, of_wave[:1], STAMP)))
    first, second = (page.index(f"Parcel {number} of 2, Flat carton") for number in (1, 2))
    assert first < page.index(halves[0].lines[0].item.name) < second
    assert all(page.index(line.item.name) > second for line in halves[1].lines)


def test_a_box_of_few_things_is_set_large(plan: MonthPlan) -> None:
    [sheet] = set_contents(content_lines(plan.packing.boxes[0])[:3], 260, 170)
    assert sheet.setting == SETTINGS[0]
    assert len(sheet.columns) == 1


def test_the_same_slips_are_the_same_file(plan: MonthPlan, wave: Wave, of_wave: list[Box]) -> None:
    once = packing_slips(MONTH, plan, wave, of_wave, STAMP)
    assert once == packing_slips(MONTH, plan, wave, of_wave, STAMP)
    assert once.count(b"/BaseFont") == once.count(b"/FontFile2")


def test_equal_contents_are_drawn_once(plan: MonthPlan, wave: Wave, of_wave: list[Box]) -> None:
    """One form for the frame and one for each different contents, however many boxes there are."""
    many = packing_slips(MONTH, plan, wave, of_wave * 20, STAMP)
    assert many.count(b"/Subtype /Form") == 1 + len({box.box_class.contents for box in of_wave})


def test_an_address_has_town_and_postcode_in_its_countrys_order() -> None:
    abroad = person("S1", "Ann", "US", city="Springfield", region="IL", postcode="62701")
    assert address_lines(abroad) == ("S1 Reed Lane", "Springfield, IL 62701", "UNITED STATES")
    home = person("S1", "Ann", "PL", city="Gdańsk", region="", postcode="80-001", address_2="  ")
    assert address_lines(home) == ("S1 Reed Lane", "80-001 Gdańsk", "POLAND")


def test_what_an_address_lacks_is_told() -> None:
    assert lacking(person("S1", "Ann", address_3="美咲 2")) == {"美", "咲"}
    assert lacking(person("S1", "Łukasz", city="Αθήνα")) == set()
