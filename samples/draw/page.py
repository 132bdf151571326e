"""One drawing under construction: document, layers, line types, text and dimension styles, and the small pen
strokes that every sample needs. Knows nothing about parts.

Lengths are in the drawing's own unit. `u` is one millimetre on paper in that unit (1 for mm, 1/25.4 for inch), so
text heights, arrows and gaps come out the same on every sheet, drawn at full size.
"""

import logging
import math

import ezdxf
from ezdxf.enums import TextEntityAlignment
from ezdxf.fonts import fonts
from ezdxf.math import Vec2
from ezdxf.render import mleader

MM_PER_INCH = 25.4
TEXT_WIDTH = 0.8

LAYERS = [
    # name, colour, line type, line weight (1/100 mm)
    ("BORDER", 7, "CONTINUOUS", 50),
    ("TITLE", 7, "CONTINUOUS", 25),
    ("OUTLINE", 7, "CONTINUOUS", 50),
    ("HOLES", 7, "CONTINUOUS", 35),
    ("HIDDEN", 8, "HIDDEN", 25),
    ("CENTER", 4, "CENTER", 18),
    ("DIM", 3, "CONTINUOUS", 18),
    ("NOTES", 2, "CONTINUOUS", 25),
    ("HATCH", 8, "CONTINUOUS", 13),
]


class PlainFont(fonts.MonospaceFont):
    """Letters of one width. Text is measured with it, so the files do not depend on the fonts of a machine."""

    def __init__(self, cap_height, width_factor):
        super().__init__(cap_height, width_factor * 0.85)


def fix_output():
    """Makes ezdxf write the same bytes on every run: no clock, no random ids, no fonts of this machine."""
    logging.getLogger("ezdxf").setLevel(logging.ERROR)  # R12 has no units to write; that is intended
    ezdxf.options.write_fixed_meta_data_for_testing = True
    fonts.make_font = lambda _name, cap_height, width_factor=1.0: PlainFont(cap_height, width_factor)


class Page:
    """A drawing in one unit and DXF version."""

    def __init__(self, version, unit, insunits=None, decimals=None):
        self.version = version
        self.unit = unit
        self.u = 1.0 if unit == "mm" else 1.0 / MM_PER_INCH
        self.doc = ezdxf.new(version, setup=False, units=0)
        self.space = self.doc.modelspace()
        if version != "R12":
            self.doc.header["$INSUNITS"] = insunits if insunits is not None else {"mm": 4, "in": 1}[unit]
            self.doc.header["$MEASUREMENT"] = 0 if unit == "in" else 1
        self.doc.header["$LTSCALE"] = self.u
        self._line_types()
        self._layers()
        self._styles(decimals if decimals is not None else (2 if unit == "mm" else 3))

    # -- set-up ------------------------------------------------------------------------------------------------

    def _line_types(self):
        for name, description, pattern in [
            ("CENTER", "Center ____ _ ____ _", [16.0, 10.0, -2.0, 2.0, -2.0]),
            ("HIDDEN", "Hidden __ __ __ __", [4.5, 3.0, -1.5]),
            ("PHANTOM", "Phantom ____ _ _ ____", [20.0, 10.0, -2.0, 2.0, -2.0, 2.0, -2.0]),
        ]:
            self.doc.linetypes.add(name, pattern, description=description)

    def _layers(self):
        for name, colour, line_type, weight in LAYERS:
            self.layer(name, colour, line_type, weight)

    def layer(self, name, colour=7, line_type="CONTINUOUS", weight=25):
        """Adds a layer."""
        layer = self.doc.layers.add(name, color=colour, linetype=line_type)
        if self.version != "R12":
            layer.dxf.lineweight = weight
        return layer

    def _styles(self, decimals):
        u = self.u
        self.doc.styles.get("Standard").dxf.font = "txt"
        self.doc.styles.add("SHEET", font="txt").dxf.width = TEXT_WIDTH
        style = self.doc.dimstyles.new("SHEET")
        style.set_text_format(dec=decimals)
        dxf = style.dxf
        dxf.dimtxt, dxf.dimasz, dxf.dimexo, dxf.dimexe, dxf.dimgap = 2.5 * u, 2.5 * u, 0.8 * u, 1.2 * u, 0.8 * u
        dxf.dimcen = 0.0
        dxf.dimdec = decimals
        # Zeros: trailing ones go in mm, leading ones in inch (8 and 4 of DIMZIN).
        dxf.dimzin = 8 if self.unit == "mm" else 4
        dxf.dimtad = 1 if self.unit == "mm" else 0
        dxf.dimtih = 0 if self.unit == "mm" else 1
        dxf.dimtoh = 0 if self.unit == "mm" else 1
        dxf.dimtmove = 1
        dxf.dimlfac = 1.0
        dxf.dimscale = 1.0
        dxf.dimlunit = 2
        dxf.dimdsep = ord(".")
        dxf.dimtxsty = "SHEET"

    def into(self, space):
        """Draws into another layout or block from now on; returns the one before."""
        before, self.space = self.space, space
        return before

    # -- strokes -----------------------------------------------------------------------------------------------

    def line(self, a, b, layer="OUTLINE", **more):
        return self.space.add_line(a, b, dxfattribs={"layer": layer, **more})

    def circle(self, at, diameter, layer="HOLES", **more):
        return self.space.add_circle(at, diameter / 2.0, dxfattribs={"layer": layer, **more})

    def arc(self, at, radius, start, end, layer="OUTLINE"):
        return self.space.add_arc(at, radius, start, end, dxfattribs={"layer": layer})

    def poly(self, points, layer="OUTLINE", close=True):
        """A polyline of (x, y) or (x, y, bulge) points; an old-style one in R12."""
        points = [(p[0], p[1], p[2] if len(p) > 2 else 0.0) for p in points]
        if self.version == "R12":
            return self.space.add_polyline2d(points, format="xyb", close=close, dxfattribs={"layer": layer})
        return self.space.add_lwpolyline(points, format="xyb", close=close, dxfattribs={"layer": layer})

    def rectangle(self, corner, width, height, layer="OUTLINE", radius=0.0):
        """A rectangle by its lower left corner, with rounded corners if a radius is given."""
        x, y = corner
        r, b = radius, math.tan(math.pi / 8.0)
        if r == 0.0:
            return self.poly([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], layer)
        return self.poly(
            [
                (x + r, y), (x + width - r, y, b), (x + width, y + r), (x + width, y + height - r, b),
                (x + width - r, y + height), (x + r, y + height, b), (x, y + height - r), (x, y + r, b),
            ],
            layer,
        )

    def slot(self, at, length, width, layer="OUTLINE"):
        """A horizontal slot with round ends, `length` over all, by its centre."""
        x, y = at
        h, r = (length - width) / 2.0, width / 2.0
        return self.poly([(x - h, y - r), (x + h, y - r, 1.0), (x + h, y + r), (x - h, y + r, 1.0)], layer)

    def cross(self, at, diameter, over=2.0):
        """Centre lines of a hole, `over` mm on paper beyond its edge."""
        x, y = at
        reach = diameter / 2.0 + over * self.u
        self.line((x - reach, y), (x + reach, y), "CENTER")
        self.line((x, y - reach), (x, y + reach), "CENTER")

    def text(self, content, at, height=2.5, align="LEFT", layer="NOTES", rotation=0.0):
        """A line of text; `height` in mm on paper."""
        entity = self.space.add_text(
            content,
            height=height * self.u,
            dxfattribs={"layer": layer, "style": "SHEET", "rotation": rotation, "width": TEXT_WIDTH},
        )
        entity.set_placement(at, align=TextEntityAlignment[align])
        return entity

    def paragraph(self, lines, at, height=2.5, layer="NOTES", attach=1, one_each=False):
        """Lines of text from their top left corner down: one MTEXT, or single texts in R12 and if `one_each`."""
        if self.version == "R12" or one_each:
            step = 1.6 * height * self.u
            return [
                self.text(line, (at[0], at[1] - height * self.u - i * step), height, layer=layer)
                for i, line in enumerate(lines)
            ]
        return self.space.add_mtext(
            "\\P".join(lines),
            dxfattribs={
                "layer": layer, "style": "SHEET", "char_height": height * self.u, "insert": at,
                "attachment_point": attach,
            },
        )

    # -- dimensions and leaders --------------------------------------------------------------------------------

    def horizontal(self, a, b, y, text="<>", override=None):
        """A horizontal dimension between two points, its line at `y`."""
        self.space.add_linear_dim(
            base=(a[0], y), p1=a, p2=b, text=text, dimstyle="SHEET", override=override or {},
            dxfattribs={"layer": "DIM"},
        ).render()

    def vertical(self, a, b, x, text="<>", override=None, text_at=None):
        """A vertical dimension between two points, its line at `x`, its text elsewhere if `text_at` is given."""
        self.space.add_linear_dim(
            base=(x, a[1]), p1=a, p2=b, angle=90, text=text, location=text_at, dimstyle="SHEET",
            override=override or {},
            dxfattribs={"layer": "DIM"},
        ).render()

    def ordinate_x(self, origin, feature, y):
        """An x ordinate of `feature` from `origin`, its text at `y`."""
        self.space.add_ordinate_x_dim(
            feature_location=feature, offset=(0.0, y - feature[1]),
            origin=origin, dimstyle="SHEET", dxfattribs={"layer": "DIM"},
        ).render()

    def ordinate_y(self, origin, feature, x):
        """A y ordinate of `feature` from `origin`, its text at `x`."""
        self.space.add_ordinate_y_dim(
            feature_location=feature, offset=(x - feature[0], 0.0),
            origin=origin, dimstyle="SHEET", dxfattribs={"layer": "DIM"},
        ).render()

    def diameter(self, at, diameter, text_at, text="<>", override=None):
        """A diameter dimension, its text at `text_at`."""
        self.space.add_diameter_dim(
            center=at, radius=diameter / 2.0, location=text_at, text=text, dimstyle="SHEET",
            override={"dimtoh": 1, "dimtih": 1, **(override or {})}, dxfattribs={"layer": "DIM"},
        ).render()

    def radius(self, at, radius, angle, text="<>"):
        """A radius dimension with its text outside."""
        self.space.add_radius_dim(
            center=at, radius=radius, angle=angle, text=text, dimstyle="SHEET",
            override={"dimtoh": 1}, dxfattribs={"layer": "DIM"},
        ).render()

    def leader(self, at, diameter, elbow, lines, height=2.5, linked=False):
        """A leader from the edge of a circle to an elbow, with its text behind a short landing.

        The text stands right of the elbow if that is right of the circle, else left. `linked` writes the handle of
        the text into the leader, as some programs do and many do not.
        """
        u = self.u
        angle = math.atan2(elbow[1] - at[1], elbow[0] - at[0])
        tip = (at[0] + diameter / 2.0 * math.cos(angle), at[1] + diameter / 2.0 * math.sin(angle))
        side = 1.0 if elbow[0] >= at[0] else -1.0
        tail = (elbow[0] + side * 4.0 * u, elbow[1])
        text_at = (tail[0] + side * 1.5 * u, tail[1])
        leader = self.space.add_leader([tip, elbow, tail], dimstyle="SHEET", dxfattribs={"layer": "DIM"})
        mtext = self.space.add_mtext(
            "\\P".join(lines),
            dxfattribs={
                "layer": "DIM", "style": "SHEET", "char_height": height * u, "insert": text_at,
                "attachment_point": 4 if side > 0 else 6,
            },
        )
        leader.dxf.annotation_type = 3
        if linked:
            leader.dxf.annotation_type = 0
            leader.dxf.annotation_handle = mtext.dxf.handle
        return leader

    def drawn_leader(self, at, diameter, elbow, lines, height=2.5):
        """A leader made of lines, a filled arrow and single texts, as R12 programs leave it."""
        u = self.u
        angle = math.atan2(elbow[1] - at[1], elbow[0] - at[0])
        tip = (at[0] + diameter / 2.0 * math.cos(angle), at[1] + diameter / 2.0 * math.sin(angle))
        side = 1.0 if elbow[0] >= at[0] else -1.0
        tail = (elbow[0] + side * 4.0 * u, elbow[1])
        self.line(tip, elbow, "DIM")
        self.line(elbow, tail, "DIM")
        self.arrow(tip, math.degrees(angle) + 180.0, size=2.5)
        step = 1.6 * height * u
        top = tail[1] + (len(lines) - 1) * step / 2.0 - height * u / 2.0
        for i, line in enumerate(lines):
            self.text(line, (tail[0] + side * u, top - i * step), height, "LEFT" if side > 0 else "RIGHT", "DIM")

    def multileader(self, at, diameter, text_at, lines, height=2.5):
        """A leader that carries its own text, right of the circle."""
        u = self.u
        angle = math.atan2(text_at[1] - at[1], text_at[0] - 4.0 * u - at[0])
        tip = Vec2(at) + Vec2.from_angle(angle, diameter / 2.0)
        builder = self.space.add_multileader_mtext("Standard", dxfattribs={"layer": "DIM"})
        builder.set_content("\\P".join(lines), char_height=height * u, style="SHEET")
        builder.set_connection_properties(landing_gap=1.0 * u, dogleg_length=3.0 * u)
        builder.set_arrow_properties(size=2.5 * u)
        builder.add_leader_line(mleader.ConnectionSide.left, [tip])
        builder.build(insert=Vec2(text_at))

    def hatch(self, points, layer="HATCH"):
        """Section lines at 45 degrees inside a closed outline."""
        hatch = self.space.add_hatch(dxfattribs={"layer": layer})
        hatch.set_pattern_fill("ANSI31", scale=1.0 * self.u, definition=[[45.0, (0.0, 0.0), (-2.0 * self.u, 2.0 * self.u), []]])
        hatch.paths.add_polyline_path(points, is_closed=True)

    def arrow(self, tip, direction, layer="DIM", size=3.5):
        """A filled arrow head with its point at `tip`; `direction` in degrees is where it points."""
        size *= self.u
        c, s = math.cos(math.radians(direction)), math.sin(math.radians(direction))
        base = (tip[0] - size * c, tip[1] - size * s)
        wing = size / 6.0
        a, b = (base[0] - wing * s, base[1] + wing * c), (base[0] + wing * s, base[1] - wing * c)
        self.space.add_solid([tip, a, b, b], dxfattribs={"layer": layer})

    def save(self, path, binary=False):
        """Writes the file, as text or as binary DXF."""
        if self.version != "R12":
            # ezdxf adds these from a set, whose order changes from run to run.
            classes = self.doc.classes
            classes.add_required_classes(self.doc.dxfversion)
            classes.classes = dict(sorted(classes.classes.items()))
        self.doc.saveas(path, fmt="bin" if binary else "asc")
