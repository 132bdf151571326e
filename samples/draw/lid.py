"""GC-104, the folded lid: 1.5 mm low-carbon steel, four M4 screws form their thread in punched holes."""

from page import Page
from sheet import draw_sheet

CORNER = (60.0, 105.0)
WIDTH, HEIGHT, FOLD, THICK = 160.0, 100.0, 12.0, 1.5
SCREW_HOLES = [(70.0, 115.0), (210.0, 115.0), (70.0, 195.0), (210.0, 195.0)]
CLEARANCE_HOLES = [(140.0, 118.0), (140.0, 192.0)]
GLAND = (185.0, 155.0)

TITLE = {
    "TITLE": "LID", "PART": "GC-104", "MATERIAL": "SHEET STEEL DC01", "THICKNESS": "1.5",
    "FINISH": "PLAIN, OILED", "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN mm",
}
GENERAL = ["LINEAR AND ANGULAR", "ISO 2768-m"]
NOTES = [
    "NOTES",
    "1. BREAK SHARP EDGES 0.2 MAX.",
    "2. BURR SIDE OF PUNCHED HOLES TO INSIDE.",
    "3. THREADS OF SCREW HOLES ARE FORMED BY THE SCREW AT ASSEMBLY.",
]


def good(path):
    """Everything right: both limits of the hole lie inside the band."""
    page = Page("R2010", "mm")
    draw_sheet(page, "A3", {**TITLE, "REV": "B"}, True, general=GENERAL)
    _views(page, 3.6)
    page.leader(SCREW_HOLES[3], 3.6, (226.0, 216.0), ["4X %%c3.6 +0.03/0 THRU"], linked=True)
    page.paragraph(NOTES, (30.0, 60.0))
    page.save(path)


def tap_drill(path):
    """The classic: the drill for a cut M4 thread, called out for a screw that displaces metal."""
    page = Page("R2000", "mm")
    draw_sheet(page, "A3", {**TITLE, "REV": "A"}, True, as_block=False, general=GENERAL)
    _views(page, 3.3)
    page.leader(SCREW_HOLES[3], 3.3, (226.0, 216.0), ["4X %%c3.3 +0.05/-0 THRU"])
    page.paragraph(NOTES, (30.0, 60.0), one_each=True)
    page.save(path)


def open_tolerance(path):
    """A right nominal with a tolerance class that is wider than the band. Sheet and notes stand on paper."""
    page = Page("R2018", "mm")
    _views(page, 3.6)
    page.diameter(SCREW_HOLES[3], 3.6, (242.0, 213.0), "4X <> H11")
    for x, y in SCREW_HOLES:
        page.text("A", (x + 3.0, y - 5.0), 2.5, layer="DIM")
    paper = page.doc.layout("Layout1")
    paper.page_setup(size=(420, 297), margins=(0, 0, 0, 0), units="mm")
    page.layer("VIEWPORT", 9).dxf.plot = 0
    paper.add_viewport(
        center=(210, 160), size=(370, 190), view_center_point=(210, 160), view_height=190,
        dxfattribs={"layer": "VIEWPORT"},
    )
    page.into(paper)
    draw_sheet(page, "A3", {**TITLE, "REV": "C"}, True, general=GENERAL)
    page.paragraph(NOTES, (30.0, 60.0))
    page.save(path)


def unit_muddle(path):
    """Drawn and dimensioned in millimetres, in a file whose header says inch."""
    page = Page("R2007", "mm", insunits=1)
    page.doc.header["$MEASUREMENT"] = 0
    draw_sheet(page, "A3", {**TITLE, "REV": "B"}, True, general=GENERAL)
    _views(page, 3.6)
    page.leader(SCREW_HOLES[3], 3.6, (226.0, 216.0), ["4X \N{LATIN CAPITAL LETTER O WITH STROKE}3.6 +0.03/0 THRU"])
    page.paragraph(NOTES, (30.0, 60.0))
    page.save(path)


FACTS = {"part": "GC-104", "material": "low-carbon-steel", "thickness": 1.5, "process": "punched"}


def good_list():
    """Rows find their holes by the diameter."""
    return "mm", {**FACTS, "revision": "B"}, [{"count": 4, "screw": {"thread": "M4"}, "diameter": 3.6}]


def tap_drill_list():
    """Rows find their holes by position."""
    return "mm", {**FACTS, "revision": "A"}, [{"screw": {"thread": "M4"}, "at": SCREW_HOLES}]


def open_tolerance_list():
    """Rows find their holes by the tag beside them."""
    return "mm", {**FACTS, "revision": "C"}, [{"tag": "A", "count": 4, "screw": {"thread": "M4"}}]



def _views(page, screw_hole):
    _plan(page, screw_hole)
    _elevation(page, screw_hole)
    _side(page, screw_hole)


def _plan(page, screw_hole):
    x, y = CORNER
    page.rectangle(CORNER, WIDTH, HEIGHT)
    page.rectangle((x + THICK, y + THICK), WIDTH - 2 * THICK, HEIGHT - 2 * THICK, "HIDDEN")
    for at in SCREW_HOLES:
        page.circle(at, screw_hole)
        page.cross(at, screw_hole)
    for at in CLEARANCE_HOLES:
        page.circle(at, 4.5)
        page.cross(at, 4.5)
    page.circle(GLAND, 20.5)
    page.cross(GLAND, 20.5)
    for i in range(5):
        page.slot((110.0, 135.0 + 10.0 * i), 50.0, 4.0)
    page.line((81.0, 155.0), (139.0, 155.0), "CENTER")
    page.horizontal((70.0, 115.0), (210.0, 115.0), 95.0)
    page.horizontal(CORNER, (x + WIDTH, y), 86.0)
    page.horizontal((70.0, 115.0), CORNER, 95.0)
    page.vertical((70.0, 115.0), (70.0, 195.0), 50.0)
    page.vertical(CORNER, (x, y + HEIGHT), 41.0)
    page.vertical((x, y), (70.0, 115.0), 50.0)
    page.leader(CLEARANCE_HOLES[1], 4.5, (151.0, 214.0), ["2X %%c4.5 THRU"])
    page.diameter(GLAND, 20.5, (240.0, 146.0), "<> +0.2/0")
    page.leader((133.0, 177.0), 0.0, (138.0, 181.5), ["5X SLOT 50 x 4"])


def _elevation(page, screw_hole):
    x, y = CORNER[0], 233.0
    page.rectangle((x, y), WIDTH, FOLD)
    page.line((x + THICK, y), (x + THICK, y + FOLD - THICK), "HIDDEN")
    page.line((x + WIDTH - THICK, y), (x + WIDTH - THICK, y + FOLD - THICK), "HIDDEN")
    page.line((x + THICK, y + FOLD - THICK), (x + WIDTH - THICK, y + FOLD - THICK), "HIDDEN")
    for hole_x in (70.0, 210.0):
        page.line((hole_x, y + FOLD - THICK - 3.0), (hole_x, y + FOLD + 3.0), "CENTER")
        for edge in (-screw_hole / 2.0, screw_hole / 2.0):
            page.line((hole_x + edge, y + FOLD - THICK), (hole_x + edge, y + FOLD), "HIDDEN")
    page.vertical((x + WIDTH, y), (x + WIDTH, y + FOLD), x + WIDTH + 9.0)


def _side(page, screw_hole):
    x, y = 320.0, CORNER[1]
    page.rectangle((x, y), FOLD, HEIGHT)
    page.line((x + THICK, y + THICK), (x + THICK, y + HEIGHT - THICK), "HIDDEN")
    for edge in (y + THICK, y + HEIGHT - THICK):
        page.line((x + THICK, edge), (x + FOLD, edge), "HIDDEN")
    for hole_y in (115.0, 195.0):
        page.line((x - 3.0, hole_y), (x + THICK + 3.0, hole_y), "CENTER")
        for edge in (-screw_hole / 2.0, screw_hole / 2.0):
            page.line((x, hole_y + edge), (x + THICK, hole_y + edge), "HIDDEN")
    page.horizontal((x, y + HEIGHT), (x + THICK, y + HEIGHT), y + HEIGHT + 9.0)
    page.horizontal((x, y), (x + FOLD, y), y - 9.0)
