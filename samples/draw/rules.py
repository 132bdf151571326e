"""For each rule a drawing that passes and one that fails it: the same strip, as small as a drawing can be.

The strip is 1.5 mm low-carbon steel with two punched holes for M4: band 80 to 98 %, Ø3.5544 to 3.6363.
"""

from page import Page

HOLES = [(20.0, 15.0), (60.0, 15.0)]
ROW = {"screw": {"thread": "M4"}, "at": HOLES}
FACTS = {"material": "low-carbon-steel", "thickness": 1.5, "process": "punched"}


class Strip:
    """What a drawing of the strip says; the defaults are all right."""

    def __init__(self, callout=("2X %%c3.6 +0.03/0 THRU",), drawn=3.6, pointed=True, rows=(ROW,), facts=None):
        self.callout, self.drawn, self.pointed, self.rows = callout, drawn, pointed, list(rows)
        self.facts = FACTS if facts is None else facts

    def draw(self, path):
        page = Page("R2000", "mm")
        page.rectangle((0.0, 0.0), 80.0, 30.0)
        for at in HOLES:
            page.circle(at, self.drawn)
            page.cross(at, self.drawn)
        page.horizontal(HOLES[0], HOLES[1], -8.0)
        page.horizontal((0.0, 0.0), (80.0, 0.0), -16.0)
        page.vertical((0.0, 0.0), (0.0, 30.0), -8.0)
        if self.callout and self.pointed:
            page.leader(HOLES[1], self.drawn, (68.0, 38.0), self.callout)
        elif self.callout:
            page.paragraph(self.callout, (73.5, 39.25))
        page.save(path)

    def hole_list(self):
        return "mm", self.facts, self.rows


RIGHT = Strip()

FAILING = {
    "callout-without-hole": Strip(
        ("2X %%c3.6 +0.03/0 THRU", "FOR M4 THREAD ROLLING SCREW"), drawn=9.0, pointed=False, rows=()
    ),
    "count-differs": Strip(("4X %%c3.6 +0.03/0 THRU",)),
    "cut-thread-size": Strip(("2X %%c3.3 +0.05/0 THRU",), drawn=3.3),
    "drawn-size-differs": Strip(drawn=4.0),
    "engagement-above-band": Strip(("2X %%c3.5 +0.03/0 THRU",), drawn=3.5),
    "engagement-below-band": Strip(("2X %%c3.7 +0.03/0 THRU",), drawn=3.7),
    "engagement-undetermined": Strip(facts={"material": "low-carbon-steel", "process": "punched"}),
    "hole-without-callout": Strip(callout=(), rows=({**ROW, "diameter": 3.6, "plus": 0.03, "minus": 0.0},)),
    "listed-hole-missing": Strip(rows=(ROW, {"tag": "B", "screw": {"thread": "M5"}})),
    "listed-size-differs": Strip(rows=({**ROW, "diameter": 3.58},)),
    "tap-called-out": Strip(("2X %%c3.6 +0.03/0 THRU", "M4x0.7 TAP THRU")),
    "tolerance-leaves-band": Strip(("2X %%c3.6 H11 THRU",)),
}


def samples():
    """File, drawing function and hole list of every one."""
    for rule, failing in FAILING.items():
        for name, strip in (("pass", RIGHT), ("fail", failing)):
            yield f"rules/{rule}/{name}.dxf", strip.draw, strip.hole_list() if strip.rows else None
