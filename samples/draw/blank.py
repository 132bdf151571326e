"""GC-131, the blank of a support, as sent to the laser: outlines and bend lines, no words at all."""

from page import Page

FOOT_HOLES = [(20.0, 20.0), (200.0, 20.0), (20.0, 120.0), (200.0, 120.0)]
STRAP_HOLES = [(80.0, 100.0), (140.0, 100.0)]
FOOT, STRAP = 5.45, 3.64


def good(path):
    """Holes drawn in four ways: circles, a polyline with bulges, two arcs, circles in a block."""
    page = Page("R2000", "mm")
    _flat(page)
    page.save(path)


def as_cut(path):
    """The same blank in R12; only its hole list differs."""
    page = Page("R12", "mm")
    _flat(page)
    page.save(path)


def hole_list(edge_finish):
    """Nothing but the list says what the circles are: by position, and by layer."""
    facts = {"part": "GC-131", "revision": "A", "material": "low-carbon-steel", "thickness": 3.0, "process": "laser"}
    return "mm", facts, [
        {
            "count": 4, "screw": {"thread": "M6"}, "diameter": FOOT, "plus": 0.03, "minus": 0.03,
            "edge_finish": edge_finish, "at": FOOT_HOLES,
        },
        {
            "count": 2, "screw": {"thread": "M4"}, "diameter": STRAP, "plus": 0.02, "minus": 0.02,
            "edge_finish": edge_finish, "layer": "FORM-M4",
        },
    ]



def _flat(page):
    page.layer("CUT", 1)
    page.layer("BEND", 5, "CENTER")
    page.layer("FORM-M4", 6)
    page.poly(
        [
            (0, 0), (220, 0), (220, 38), (214, 38), (214, 42), (220, 42), (220, 132), (212, 140), (8, 140), (0, 132),
            (0, 42), (6, 42), (6, 38), (0, 38),
        ],
        "CUT",
    )
    page.line((6, 40), (214, 40), "BEND")
    for at in FOOT_HOLES[:2]:
        page.circle(at, FOOT, "CUT")
    (x, y), r = FOOT_HOLES[2], FOOT / 2.0
    page.poly([(x - r, y, 1.0), (x + r, y, 1.0)], "CUT")
    page.arc(FOOT_HOLES[3], r, 0.0, 180.0, "CUT")
    page.arc(FOOT_HOLES[3], r, 180.0, 360.0, "CUT")
    block = page.doc.blocks.new("M4")
    block.add_circle((0.0, 0.0), STRAP / 2.0, dxfattribs={"layer": "0"})
    for at in STRAP_HOLES:
        page.space.add_blockref("M4", at, dxfattribs={"layer": "FORM-M4"})
    page.circle((110.0, 75.0), 32.0, "CUT")
    for at in ((60.0, 20.0), (160.0, 20.0)):
        page.circle(at, 9.0, "CUT")
    page.poly(_slot(110.0, 118.0, 40.0, 6.0), "CUT")


def _slot(x, y, length, width):
    h, r = (length - width) / 2.0, width / 2.0
    return [(x - h, y - r), (x + h, y - r, 1.0), (x + h, y + r), (x - h, y + r, 1.0)]
