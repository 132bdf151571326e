"""GC-117, the mounting plate: machined aluminium in inches, drilled for 1/4-20 and #8-32 screws."""

from page import Page
from sheet import draw_sheet

CORNER = (2.6, 4.7)
WIDTH, HEIGHT, THICK = 8.0, 5.0, 0.25


def _on_plate(points):
    return [(CORNER[0] + x, CORNER[1] + y) for x, y in points]


FRAME_HOLES = _on_plate([(0.75, 0.75), (7.25, 0.75), (0.75, 4.25), (7.25, 4.25)])
RAIL_HOLES = _on_plate([(x, y) for y in (1.75, 3.25) for x in (2.5, 4.0, 5.5)])
DOWEL_HOLES = _on_plate([(1.5, 2.5), (6.5, 2.5)])
STRAY_HOLES = _on_plate([(4.0, 0.75), (4.0, 4.25)])

TITLE = {
    "TITLE": "MOUNTING PLATE", "PART": "GC-117", "MATERIAL": "ALUMINUM 6061-T6", "THICKNESS": ".250",
    "FINISH": "NONE", "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN INCHES",
}
GENERAL = [".XX   %%p.01", ".XXX  %%p.005", "ANGLES %%p1%%d"]
NOTES = ["NOTES", "1. REMOVE BURRS, .010 MAX CHAMFER.", "2. HOLE LOCATIONS FROM LOWER LEFT CORNER."]
TABLE = [
    ("HOLE", "QTY", "DIA", "DEPTH", "REMARKS"),
    ("A", "4", "%%c.224 %%p.003", "THRU", "1/4-20 THREAD ROLLING SCREW"),
    ("B", "6", "%%c.148 %%p.002", "THRU", "8-32 THREAD ROLLING SCREW"),
    ("C", "2", "%%c.250 +.001/-.000", "THRU", "REAM FOR DOWEL"),
]


def good(path):
    """A hole table of loose lines and texts, with the tags beside the circles. Binary DXF."""
    page = Page("R2013", "in")
    draw_sheet(page, "B", {**TITLE, "REV": "C"}, False, general=GENERAL)
    _plan(page, FRAME_HOLES, 0.224, RAIL_HOLES, 0.148)
    for tag, diameter, holes in (("A", 0.224, FRAME_HOLES), ("B", 0.148, RAIL_HOLES), ("C", 0.25, DOWEL_HOLES)):
        for x, y in holes:
            page.text(tag, (x + diameter / 2.0 + 0.07, y + 0.09), 3.0, layer="DIM")
    _table(page, (11.2, 8.6))
    page.paragraph(NOTES, (11.2, 3.4))
    page.save(path, binary=True)


def mistakes(path):
    """`4X` with three circles, and a screw of the list that has no hole. R12: no leaders, no multi-line texts."""
    page = Page("R12", "in")
    draw_sheet(page, "B", {**TITLE, "REV": "A"}, False, as_block=False, general=GENERAL)
    _plan(page, FRAME_HOLES[:3], 0.224, RAIL_HOLES, 0.147)
    page.diameter(FRAME_HOLES[2], 0.224, (4.3, 10.05), "4X <> %%p.003 THRU")
    page.drawn_leader(RAIL_HOLES[5], 0.147, (9.0, 10.0), ["6X #26 DRILL THRU"])
    page.drawn_leader(DOWEL_HOLES[1], 0.25, (11.1, 8.0), ["2X %%c.250 +.001/-.000 REAM"])
    page.paragraph(NOTES, (11.2, 3.4))
    page.save(path)


FACTS = {"part": "GC-117", "material": "6061-T6", "thickness": 0.25, "process": "drilled"}


def good_list():
    """Rows find their holes by the tags of the hole table."""
    return "in", {**FACTS, "revision": "C"}, [
        {"tag": "A", "count": 4, "screw": {"thread": "1/4-20"}},
        {"tag": "B", "count": 6, "screw": {"thread": "#8-32"}},
    ]


def mistakes_list():
    """Rows find their holes by diameter; nothing on the drawing answers the last one."""
    return "in", {**FACTS, "revision": "A"}, [
        {"screw": {"thread": "1/4-20"}, "diameter": 0.224},
        {"count": 6, "screw": {"thread": "#8-32"}, "diameter": 0.147, "plus": 0.002, "minus": 0.002},
        {"count": 2, "screw": {"thread": "10-24"}, "diameter": 0.169, "note": "terminal strip"},
    ]



def _plan(page, frame_holes, frame, rail_holes, rail):
    x, y = CORNER
    page.rectangle(CORNER, WIDTH, HEIGHT, radius=0.25)
    for holes, diameter in ((frame_holes, frame), (rail_holes, rail), (DOWEL_HOLES, 0.25)):
        for at in holes:
            page.circle(at, diameter)
            page.cross(at, diameter)
    page.rectangle((x, y - 1.1), WIDTH, THICK)
    for holes, diameter in ((frame_holes[:2], frame), (rail_holes[:3], rail), (DOWEL_HOLES, 0.25)):
        for at in holes:
            page.line((at[0], y - 1.18), (at[0], y - 1.1 + THICK + 0.08), "CENTER")
            for edge in (-diameter / 2.0, diameter / 2.0):
                page.line((at[0] + edge, y - 1.1), (at[0] + edge, y - 1.1 + THICK), "HIDDEN")
    page.vertical(
        (x + WIDTH, y - 1.1), (x + WIDTH, y - 1.1 + THICK), x + WIDTH + 0.3,
        text_at=(x + WIDTH + 0.3, y - 1.4),
    )
    _ordinates(page)


def _ordinates(page):
    x, y = CORNER
    for at_x in (0.0, 0.75, 1.5, 2.5, 4.0, 5.5, 6.5, 7.25, 8.0):
        feature = {0.75: 0.75, 1.5: 2.5, 2.5: 1.75, 4.0: 1.75, 5.5: 1.75, 6.5: 2.5, 7.25: 0.75}.get(at_x, 0.0)
        page.ordinate_x(CORNER, (x + at_x, y + feature), y - 0.3)
    for at_y in (0.0, 0.75, 1.75, 2.5, 3.25, 4.25, 5.0):
        feature = {0.75: 0.75, 1.75: 2.5, 2.5: 1.5, 3.25: 2.5, 4.25: 0.75}.get(at_y, 0.0)
        page.ordinate_y(CORNER, (x + feature, y + at_y), x - 0.3)


def _table(page, corner):
    """The hole table, its upper left corner given."""
    x0, y0 = corner
    edges = [0.0, 0.5, 0.95, 2.4, 2.95, 5.35]
    row = 0.3
    for i in range(len(TABLE) + 1):
        page.line((x0, y0 - i * row), (x0 + edges[-1], y0 - i * row), "NOTES")
    for edge in edges:
        page.line((x0 + edge, y0), (x0 + edge, y0 - len(TABLE) * row), "NOTES")
    for i, cells in enumerate(TABLE):
        for edge, cell in zip(edges, cells):
            page.text(cell, (x0 + edge + 0.06, y0 - (i + 1) * row + 0.1), 2.5 if i else 2.0)
    page.text("HOLE TABLE", (x0, y0 + 0.1), 3.0)
