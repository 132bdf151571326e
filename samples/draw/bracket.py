"""GC-122, the angle bracket: stainless sheet by gauge, in inches, punched for #8-32 screws."""

from page import Page
from sheet import draw_sheet

CORNER = (3.4, 5.2)
WIDTH, FLANGE, LEG = 3.5, 1.25, 1.1
SCREW_HOLES = [(CORNER[0] + 0.75, CORNER[1] + 0.55), (CORNER[0] + 2.75, CORNER[1] + 0.55)]

TITLE = {
    "TITLE": "ANGLE BRACKET", "PART": "GC-122", "MATERIAL": "304 STAINLESS STEEL", "FINISH": "PASSIVATE",
    "SCALE": "1:1", "UNITS": "ALL DIMENSIONS IN INCHES",
}
GENERAL = [".XX   %%p.02", ".XXX  %%p.005", "ANGLES %%p1%%d"]
NOTES = ["NOTES", "1. INSIDE BEND RADIUS .06.", "2. DEBURR."]


def good(path):
    """Says everything itself: the callout names the screw, the title block metal and gauge. No hole list."""
    page = Page("R2004", "in")
    draw_sheet(page, "A", {**TITLE, "REV": "B", "THICKNESS": "14 GA"}, False, general=GENERAL)
    _views(page, 0.0781)
    page.leader(
        SCREW_HOLES[1], 0.151, (6.75, 7.05),
        ["2X %%c.151 %%p.001 PUNCH THRU", "FOR #8-32 THREAD ROLLING SCREW"],
    )
    page.paragraph(NOTES, (1.2, 3.1))
    page.save(path)


def thin(path):
    """The same bracket in a thinner gauge: fewer than two pitches of metal."""
    page = Page("R2010", "in")
    draw_sheet(page, "A", {**TITLE, "REV": "C", "THICKNESS": "18 GA"}, False, general=GENERAL)
    _views(page, 0.05)
    page.leader(SCREW_HOLES[1], 0.151, (6.75, 7.05), ["2X %%c.151 %%p.001 THRU"])
    page.paragraph(NOTES, (1.2, 3.1))
    page.save(path)


def thin_list():
    """The row finds its holes by diameter; metal and thickness as the title block says them."""
    facts = {"part": "GC-122", "revision": "C", "material": "stainless-steel", "thickness": 0.05, "process": "punched"}
    return "in", facts, [{"count": 2, "screw": {"thread": "#8-32"}, "diameter": 0.151}]



def _views(page, thick):
    x, y = CORNER
    page.rectangle(CORNER, WIDTH, FLANGE)
    page.line((x, y + FLANGE - thick), (x + WIDTH, y + FLANGE - thick), "HIDDEN")
    for at in SCREW_HOLES:
        page.circle(at, 0.151)
        page.cross(at, 0.151)
    page.rectangle((x, 3.4), WIDTH, LEG)
    page.line((x, 3.4 + LEG - thick), (x + WIDTH, 3.4 + LEG - thick), "HIDDEN")
    for slot_x in (x + 0.8, x + 2.7):
        page.slot((slot_x, 3.9), 0.6, 0.28)
    side = 8.6
    page.poly(
        [
            (side, 3.4), (side + thick, 3.4), (side + thick, 3.4 + LEG - thick), (side + FLANGE, 3.4 + LEG - thick),
            (side + FLANGE, 3.4 + LEG), (side, 3.4 + LEG),
        ]
    )
    page.horizontal(SCREW_HOLES[0], SCREW_HOLES[1], y - 0.3)
    page.horizontal((x, y + FLANGE), (x + WIDTH, y + FLANGE), y + FLANGE + 0.35)
    page.vertical((x, y), SCREW_HOLES[0], x - 0.45)
    page.vertical((x, y), (x, y + FLANGE), x - 0.95)
    page.vertical((x, 3.4), (x, 3.4 + LEG), x - 0.45)
    page.horizontal((side, 3.4 + LEG), (side + FLANGE, 3.4 + LEG), 3.4 + LEG + 0.35)
    page.leader((x + 2.7 + 0.3, 3.9), 0.0, (7.15, 3.1), ["2X SLOT .60 x .28"])
