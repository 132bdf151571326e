"""GC-101, the housing: aluminium die casting; M5 screws close it and M3 screws hold the board, in cored holes."""

from page import Page
from sheet import draw_sheet

CORNER = (60.0, 135.0)
WIDTH, HEIGHT, TALL, WALL = 140.0, 90.0, 45.0, 3.0
COVER_HOLES = [(73.0, 148.0), (187.0, 148.0), (73.0, 212.0), (187.0, 212.0)]
BOARD_HOLES = [(100.0, 180.0), (160.0, 180.0)]
DETAIL = (330.0, 196.0)

TITLE = {
    "TITLE": "HOUSING, LOWER HALF", "PART": "GC-101", "MATERIAL": "ALUMINIUM DIE CAST A380", "FINISH": "AS CAST, BLASTED",
    "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN mm", "THICKNESS": "SEE VIEWS",
}
GENERAL = ["LINEAR AND ANGULAR", "ISO 2768-m"]
NOTES = [
    "NOTES",
    "1. WALL 3 UNLESS SHOWN. CASTING RADII R1. DRAFT 1%%d OUTSIDE.",
    "2. CORED HOLES: SIZE AT ENTRANCE. CORE DRAFT 0.15%%d MAX PER SIDE.",
    "3. CORED HOLES ARE NOT TAPPED.",
]


def good(path):
    """Both groups of cored holes keep to the band from the entrance to the bottom."""
    page = Page("R2018", "mm")
    draw_sheet(page, "A3", {**TITLE, "REV": "D"}, True, general=GENERAL)
    _views(page, 4.66, 2.76)
    page.leader(COVER_HOLES[3], 4.66, (206.0, 236.0), ["4X %%c4.66 %%p0.025 x 12 DEEP"])
    page.leader(BOARD_HOLES[0], 2.76, (108.0, 240.0), ["2X %%c2.76 %%p0.03 x 8 DEEP"], linked=True)
    page.paragraph(NOTES, (30.0, 48.0))
    page.save(path)


def mistakes(path):
    """Cover holes too large to hold a thread; board holes still called out for a cut thread."""
    page = Page("R2010", "mm")
    draw_sheet(page, "A3", {**TITLE, "REV": "B"}, True, as_block=False, general=GENERAL)
    _views(page, 4.75, 2.5)
    page.multileader(COVER_HOLES[3], 4.75, (212.0, 238.0), ["4X %%c4.75 %%p0.03 x 12 DEEP"])
    page.multileader(BOARD_HOLES[0], 2.5, (114.0, 243.0), ["2X %%c2.5 x 10 DEEP", "M3 - 6H x 8 DEEP"])
    page.paragraph(NOTES[:3], (30.0, 48.0))
    page.save(path)


def hole_list(with_draft):
    """Rows find their holes by layer. Thickness is the length of engagement that the screws can have."""
    facts = {"part": "GC-101", "revision": "D" if with_draft else "B", "material": "aluminium-die-cast", "process": "cored"}
    draft = {"draft_deg": 0.15} if with_draft else {}
    return "mm", facts, [
        {"count": 4, "screw": {"thread": "M5"}, "thickness": 8.0, "layer": "CORED-A", **draft},
        {"count": 2, "screw": {"thread": "M3"}, "thickness": 5.0, "layer": "CORED-B"},
    ]



def _views(page, cover_hole, board_hole):
    page.layer("CORED-A", 1, weight=35)
    page.layer("CORED-B", 5, weight=35)
    _plan(page, cover_hole, board_hole)
    _section(page, cover_hole)
    _detail(page, board_hole)


def _plan(page, cover_hole, board_hole):
    x, y = CORNER
    page.rectangle(CORNER, WIDTH, HEIGHT, radius=8.0)
    page.rectangle((x + WALL, y + WALL), WIDTH - 2 * WALL, HEIGHT - 2 * WALL, radius=5.0)
    page.rectangle((115.0, 168.0), 30.0, 24.0, radius=2.0)
    for at in COVER_HOLES:
        page.circle(at, 13.0, "OUTLINE")
        page.circle(at, cover_hole, "CORED-A")
        page.cross(at, 13.0)
    for at in BOARD_HOLES:
        page.circle(at, 8.0, "OUTLINE")
        page.circle(at, board_hole, "CORED-B")
        page.cross(at, 8.0)
    page.space.add_circle(BOARD_HOLES[1], 12.0, dxfattribs={"layer": "DIM", "linetype": "PHANTOM"})
    page.text("B", (BOARD_HOLES[1][0] + 10.5, BOARD_HOLES[1][1] + 9.0), 5.0)
    for end, back in ((x - 9.0, -1.0), (x + WIDTH + 9.0, 1.0)):
        page.line((end, 148.0), (end - back * 7.0, 148.0), "CENTER")
        page.line((end, 148.0), (end, 155.0), "DIM")
        page.arrow((end, 148.0 + 10.0), 90.0)
        page.text("A", (end + back * 4.0, 152.0), 5.0, "MIDDLE_CENTER")
    page.vertical((73.0, 148.0), (73.0, 212.0), 40.0)
    page.vertical((x, y), (x, y + HEIGHT), 31.0)
    page.horizontal((73.0, 212.0), (187.0, 212.0), 248.0)
    page.horizontal((x, y + HEIGHT), (x + WIDTH, y + HEIGHT), 257.0)
    page.vertical((160.0, 180.0), (187.0, 212.0), 220.0)
    page.horizontal((100.0, 180.0), (160.0, 180.0), 161.0)


def _section(page, cover_hole):
    x, y, top, floor, r = CORNER[0], 68.0, 68.0 + TALL, 68.0 + WALL, cover_hole / 2.0
    left = [
        (x + WALL, top), (x + WALL, floor), (66.5, floor), (66.5, top), (73.0 - r, top), (73.0 - r, top - 12.0),
        (73.0 + r, top - 12.0), (73.0 + r, top), (79.5, top), (79.5, floor),
    ]
    right = [(2 * x + WIDTH - px, py) for px, py in reversed(left)]
    outline = [(x, y), (x, top), *left, *right, (x + WIDTH, top), (x + WIDTH, y)]
    page.poly(outline)
    page.hatch(outline)
    for hole_x in (73.0, 187.0):
        page.line((hole_x, y - 3.0), (hole_x, top + 3.0), "CENTER")
    page.line((x + WALL, top), (66.5, top))
    page.line((79.5, top), (180.5, top))
    page.line((193.5, top), (x + WIDTH - WALL, top))
    page.text("SECTION A-A", (x + WIDTH / 2.0, y - 9.0), 3.5, "MIDDLE_CENTER")
    page.vertical((x, y), (x, top), 45.0)
    page.vertical((x + WIDTH, y), (x + WIDTH, floor), 209.0)
    page.vertical((187.0 + r, top - 12.0), (187.0 + r, top), 216.0)


def _detail(page, board_hole):
    """The board boss at twice its size, dimensioned with the true one."""
    true_size = {"dimlfac": 0.5}
    page.space.add_circle(DETAIL, 24.0, dxfattribs={"layer": "DIM", "linetype": "PHANTOM"})
    page.circle(DETAIL, 16.0, "OUTLINE")
    page.circle(DETAIL, 2.0 * board_hole, "OUTLINE")
    page.cross(DETAIL, 16.0)
    page.diameter(DETAIL, 16.0, (372.0, 216.0), "2X <>", true_size)
    page.text("DETAIL B", (DETAIL[0], DETAIL[1] - 32.0), 3.5, "MIDDLE_CENTER")
    page.text("SCALE 2:1", (DETAIL[0], DETAIL[1] - 37.5), 2.5, "MIDDLE_CENTER")
