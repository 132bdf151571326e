"""For each rule a drawing that passes and one that fails it: the same strip, as small as a drawing can be.

The strip is 1.5 mm low-carbon steel with two punched holes for M4: band 80 to 98 %, Ø3.5544 to 3.6363. Where a rule
speaks of thicker metal, strip and passing drawing are of aluminium: wrought 65 to 95 % (Ø3.5681 to 3.7045), die-cast
60 to 85 % (Ø3.6135 to 3.7272).
"""

from page import Page

HOLES = [(20.0, 15.0), (60.0, 15.0)]
ROW = {"screw": {"thread": "M4"}, "at": HOLES}
FACTS = {"material": "low-carbon-steel", "thickness": 1.5, "process": "punched"}


class Strip:
    """What a drawing of the strip says; the defaults are all right."""

    def __init__(
        self, callout=("2X %%c3.6 +0.03/0 THRU",), drawn=3.6, pointed=True, rows=(ROW,), facts=None, note=None,
        insunits=4, holes=HOLES, boss=None, window=None, also=(),
    ):
        self.callout, self.drawn, self.pointed, self.rows = callout, drawn, pointed, list(rows)
        self.facts = FACTS if facts is None else facts
        self.note, self.insunits = note, insunits
        self.holes, self.boss, self.window, self.also = holes, boss, window, also

    def draw(self, path):
        page = Page("R2000", "mm", insunits=self.insunits)
        page.rectangle((0.0, 0.0), 80.0, 30.0)
        if self.window:
            page.rectangle((self.window, 11.0), 8.0, 8.0)
        for at in self.holes:
            page.circle(at, self.drawn)
            if self.boss:
                page.circle(at, self.boss)
            page.cross(at, self.drawn)
        page.horizontal(self.holes[0], self.holes[1], -8.0)
        page.horizontal((0.0, 0.0), (80.0, 0.0), -16.0)
        page.vertical((0.0, 0.0), (0.0, 30.0), -8.0)
        if self.callout and self.pointed:
            page.leader(self.holes[1], self.drawn, (68.0, 38.0), self.callout)
        elif self.callout:
            page.paragraph(self.callout, (73.5, 39.25))
        if self.also:
            page.leader(self.holes[1], self.drawn, (28.0, 38.0), self.also)
        if self.note:
            page.text(self.note, (0.0, -26.0))
        page.save(path)

    def hole_list(self):
        return "mm", self.facts, self.rows


RIGHT = Strip()


def steel(thickness=1.5, callout=RIGHT.callout, note=None, process="punched", **row):
    """A strip of low-carbon steel; further words go into the row of the list."""
    facts = {"material": "low-carbon-steel", "thickness": thickness, "process": process}
    return Strip(callout, rows=({**ROW, **row},), facts=facts, note=note)


def aluminium(material, thickness, process, callout, drawn, **row):
    """A thicker strip of aluminium."""
    facts = {"material": material, "thickness": thickness, "process": process}
    return Strip((callout,), drawn, rows=({**ROW, **row},), facts=facts)


def placed(holes):
    """The strip with its holes at other places."""
    return Strip(rows=({**ROW, "at": holes},), holes=holes)


def bossed(diameter):
    """A cast strip with a boss of that diameter round each hole."""
    strip = cored()
    strip.boss = diameter
    return strip


def drilled(thickness, end, **row):
    return aluminium("aluminium-wrought", thickness, "drilled", f"2X %%c3.64 +0.02/0 {end}", 3.64, **row)


def cored(**row):
    return aluminium("aluminium-die-cast", 6.0, "cored", "2X %%c3.7 %%p0.02 THRU", 3.7, **row)


def screw(**words):
    return {"screw": {"thread": "M4", **words}}


# rule: the passing strip, the failing one
STRIPS = {
    "blind-hole-shallow": (
        drilled(10.0, "x 8 DEEP", grip=1.7, **screw(length=9)),
        drilled(10.0, "x 8 DEEP", grip=1.7, **screw(length=11)),
    ),
    "boss-wall-thin": (bossed(8.0), bossed(7.0)),
    "callout-without-hole": (
        RIGHT,
        Strip(("2X %%c3.6 +0.03/0 THRU", "FOR M4 THREAD ROLLING SCREW"), drawn=9.0, pointed=False, rows=()),
    ),
    "callouts-differ": (Strip(also=("2X %%c3.6 +0.03/0 THRU",)), Strip(also=("%%c3.5 THRU",))),
    "coating-closes-hole": (
        steel(coating={"thickness": 0.005, "stated": "before"}),
        steel(coating={"thickness": 0.03, "stated": "before"}),
    ),
    "coating-conflict": tuple(
        steel(callout=(f"2X %%c3.6 +0.03/0 {stage} PLATING",), coating={"thickness": 0.008, "stated": "before"})
        for stage in ("BEFORE", "AFTER")
    ),
    "collar-too-tall": (
        steel(process="extruded", collar={"height": 0.9}), steel(process="extruded", collar={"height": 1.3}),
    ),
    "cored-hole-leaves-band": (cored(draft_deg=0.25), cored(draft_deg=1.0)),
    "count-differs": (RIGHT, Strip(("4X %%c3.6 +0.03/0 THRU",))),
    "cut-edge-hardened": (steel(process="laser", edge_finish="reamed"), steel(process="laser", edge_finish="as-cut")),
    "cut-thread-size": (RIGHT, Strip(("2X %%c3.3 +0.05/0 THRU",), drawn=3.3)),
    "drawn-size-differs": (RIGHT, Strip(drawn=4.0)),
    "edge-too-close": (placed([(20.0, 6.0), (60.0, 6.0)]), placed([(20.0, 5.0), (60.0, 5.0)])),
    "engagement-above-band": (RIGHT, Strip(("2X %%c3.5 +0.03/0 THRU",), drawn=3.5)),
    "engagement-below-band": (RIGHT, Strip(("2X %%c3.7 +0.03/0 THRU",), drawn=3.7)),
    "engagement-too-long": (drilled(6.0, "THRU"), drilled(10.0, "THRU")),
    "engagement-undetermined": (RIGHT, Strip(facts={"material": "low-carbon-steel", "process": "punched"})),
    "guide-hole-accepted": (RIGHT, Strip(("2X %%c3.6 H11 THRU",))),
    "hole-without-callout": (RIGHT, Strip(callout=(), rows=({**ROW, "diameter": 3.6, "plus": 0.03, "minus": 0.0},))),
    "holes-too-close": (placed([(30.0, 15.0), (42.0, 15.0)]), placed([(30.0, 15.0), (40.0, 15.0)])),
    "listed-hole-missing": (RIGHT, Strip(rows=(ROW, {"tag": "B", "screw": {"thread": "M5"}}))),
    "listed-size-differs": (RIGHT, Strip(rows=({**ROW, "diameter": 3.58},))),
    "material-conflict": (steel(note="MATERIAL: DC01"), steel(note="MATERIAL: 5052-H32")),
    "material-unsuited": (RIGHT, Strip(facts={**FACTS, "material": "grey-iron", "process": "drilled"})),
    "process-conflict": (
        steel(callout=("2X %%c3.6 +0.03/0 PUNCHED",)), steel(callout=("2X %%c3.6 +0.03/0 LASER CUT",)),
    ),
    "screw-too-short": (steel(grip=1.0, **screw(length=6)), steel(grip=1.0, **screw(length=4))),
    "screw-unsuited": (steel(**screw(form="rolling")), steel(**screw(form="spaced"))),
    "sheet-too-thin": (RIGHT, steel(thickness=1.2)),
    "tap-called-out": (RIGHT, Strip(("2X %%c3.6 +0.03/0 THRU", "M4x0.7 TAP THRU"))),
    "thickness-conflict": (steel(note="DC01, THK 1.5"), steel(note="DC01, THK 2")),
    "thickness-unknown": (RIGHT, Strip(facts={"material": "low-carbon-steel", "process": "punched"})),
    # The policy beside them judges guide holes by the band.
    "tolerance-leaves-band": (RIGHT, Strip(("2X %%c3.6 H11 THRU",))),
    "tolerance-unknown": (RIGHT, Strip(("2X %%c3.6 THRU",))),
    "torque-ratio-low": (
        steel(trial="../../trials/lid-m4.trial.json"), steel(trial="../../trials/lid-m4-dry.trial.json"),
    ),
    # The policy beside them asks for a test of every screw hole.
    "trial-missing": (steel(trial="../../trials/lid-m4.trial.json"), RIGHT),
    "unit-doubtful": (
        Strip(note="ALL DIMENSIONS IN mm"), Strip(note="ALL DIMENSIONS IN mm", insunits=1),
    ),
}


def collared(holes, thickness, height):
    """The strip with its holes at other places, each in a collar."""
    strip = steel(thickness, process="extruded", collar={"height": height}, at=holes)
    strip.holes = holes
    return strip


# What the rules on neighbours ask of collars: the passing strip, the failing one
COLLARS = {
    "edge-too-close": (
        collared([(20.0, 6.5), (60.0, 6.5)], 1.5, 0.9), collared([(20.0, 6.0), (60.0, 6.0)], 1.5, 0.9),
    ),
    "holes-too-close": (
        collared([(30.0, 15.0), (42.6, 15.0)], 2.1, 0.6), collared([(30.0, 15.0), (42.0, 15.0)], 2.1, 0.6),
    ),
}


# A square window beside a hole, by where it begins: the passing strip, the failing one
WINDOWS = {"edge-too-close": (Strip(window=26.0), Strip(window=25.0))}

# A coating of which no note says whether sizes hold before or after it: the passing strip, the failing one
COATINGS = {
    "engagement-undetermined": (steel(note="ZINC PLATED 8 MICRONS"), steel(note="ZINC PLATED 30 MICRONS")),
}


def samples():
    """File, drawing function and hole list of every one."""
    plain = [(rule, ("pass", "fail"), strips) for rule, strips in STRIPS.items()]
    collars = [(rule, ("collar-pass", "collar-fail"), strips) for rule, strips in COLLARS.items()]
    coatings = [(rule, ("coating-pass", "coating-fail"), strips) for rule, strips in COATINGS.items()]
    windows = [(rule, ("window-pass", "window-fail"), strips) for rule, strips in WINDOWS.items()]
    for rule, names, strips in plain + collars + coatings + windows:
        for name, strip in zip(names, strips):
            yield f"rules/{rule}/{name}.dxf", strip.draw, strip.hole_list() if strip.rows else None
