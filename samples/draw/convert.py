"""Three parts with tapped holes, some of which a thread-rolling screw could replace, and what tapping costs."""

import json

from page import Page
from sheet import draw_sheet

COSTS = {
    "format": 1,
    "costs": {
        "currency": "EUR",
        "all": {
            "tapping_seconds": 9, "tapping_rate": 60, "tap_price": 20, "holes_per_tap": 2000, "cleaning": 0.01,
            "gauging": 0.012, "scrap": 0.008, "screw_premium": 0.035, "drive_seconds": 1.5, "drive_rate": 42,
            "proving": 1200,
        },
        "threads": [{"thread": "M6", "items": {"tapping_seconds": 14, "screw_premium": 0.06}}],
        "parts": [
            {"drawing": "cover.dxf", "yearly": 20000},
            {"drawing": "base.dxf", "yearly": 400},
            {"part": "GC-143", "yearly": 2500},
        ],
    },
}


def cover(path):
    """GC-141: punched sheet; six holes for M4, and two for a left-hand thread that stays."""
    page = Page("R2010", "mm")
    draw_sheet(
        page, "A3",
        {"TITLE": "COVER", "PART": "GC-141", "MATERIAL": "SHEET STEEL DC01", "THICKNESS": "2", "FINISH": "PLAIN, OILED",
         "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN mm", "REV": "A"},
        True, general=["LINEAR AND ANGULAR", "ISO 2768-m"],
    )
    page.rectangle((80.0, 120.0), 180.0, 100.0)
    fours = [(95.0 + 75.0 * i, 135.0 + 70.0 * j) for j in range(2) for i in range(3)]
    for at in fours:
        _hole(page, at, 3.3)
    for at in [(130.0, 170.0), (210.0, 170.0)]:
        _hole(page, at, 4.2)
    page.leader(fours[5], 3.3, (262.0, 240.0), ["6X M4 - 6H THRU"])
    page.leader((210.0, 170.0), 4.2, (285.0, 170.0), ["2X M5 LH THRU"])
    page.paragraph(["NOTES", "1. BREAK SHARP EDGES 0.2 MAX.", "2. ALL HOLES PUNCHED."], (30.0, 60.0))
    page.save(path)


def base(path):
    """GC-142: thick aluminium; four blind M6 with room for a screw's point, a close class, and a pipe thread."""
    page = Page("R2013", "mm")
    draw_sheet(
        page, "A3",
        {"TITLE": "BASE", "PART": "GC-142", "MATERIAL": "EN AW-6082 T6", "THICKNESS": "25", "FINISH": "PLAIN",
         "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN mm", "REV": "A"},
        True, general=["LINEAR AND ANGULAR", "ISO 2768-m"],
    )
    page.rectangle((80.0, 120.0), 180.0, 100.0)
    corners = [(95.0, 135.0), (245.0, 135.0), (95.0, 205.0), (245.0, 205.0)]
    for at in corners:
        _hole(page, at, 5.0)
    for x in (130.0, 150.0, 170.0):
        _hole(page, (x, 150.0), 4.2)
    for x in (190.0, 220.0):
        _hole(page, (x, 180.0), 11.8)
    page.leader(corners[3], 5.0, (262.0, 240.0), ["4X %%c5 x 20 DEEP", "M6 - 6H x 12 DEEP"])
    page.leader((130.0, 150.0), 4.2, (96.0, 106.0), ["3X M5 - 4H THRU"])
    page.leader((220.0, 180.0), 11.8, (285.0, 178.0), ["2X G1/4 THRU"])
    page.paragraph(["NOTES", "1. BREAK SHARP EDGES 0.2 MAX."], (30.0, 60.0))
    page.save(path)


def rail(path):
    """GC-143: aluminium strip in inches; eight 10-32, and two of a close class."""
    page = Page("R2004", "in")
    draw_sheet(
        page, "B",
        {"TITLE": "RAIL", "PART": "GC-143", "MATERIAL": "5052-H32 ALUMINUM", "THICKNESS": ".125", "FINISH": "PLAIN",
         "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN INCHES", "REV": "A"},
        False, general=[".XX   %%p.02", ".XXX  %%p.005"],
    )
    page.rectangle((2.5, 6.0), 11.0, 1.5)
    row = [(3.0 + 1.25 * i, 6.4) for i in range(8)]
    for at in row:
        _hole(page, at, 0.159)
    for at in [(4.0, 7.1), (11.0, 7.1)]:
        _hole(page, at, 0.213)
    page.leader(row[7], 0.159, (13.0, 5.2), ["8X 10-32 UNF-2B THRU"])
    page.leader((11.0, 7.1), 0.213, (12.2, 8.3), ["2X 1/4-28 UNF-3B THRU"])
    page.save(path)


def rail_list():
    """States what the title block does not: the part number for the costs, and that holes are drilled."""
    return "in", {"part": "GC-143", "revision": "A", "process": "drilled"}, []


def write_costs(path):
    """The costs, invented like the parts."""
    path.write_text(json.dumps(COSTS, indent=2, ensure_ascii=False) + "\n", encoding="utf-8", newline="\n")


def _hole(page, at, diameter):
    page.circle(at, diameter)
    page.cross(at, diameter)
