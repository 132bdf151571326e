"""The sheet that everything is drawn on: document, layers, free places, and the plain entities of a drawing."""

import math

import ezdxf
from ezdxf.enums import TextEntityAlignment
from ezdxf.math import BSpline, ConstructionArc

from forms import render, sign_for

LAYERS = {"OUTLINE": ("CONTINUOUS", 7), "HIDDEN": ("HIDDEN", 8), "CENTER": ("CENTER", 1), "DIM": ("CONTINUOUS", 3),
          "TEXT": ("CONTINUOUS", 2), "FRAME": ("CONTINUOUS", 7), "THIN": ("CONTINUOUS", 8), "CONSTRUCTION": ("CONTINUOUS", 8),
          "OLD": ("CONTINUOUS", 8)}


class Page:
    """One drawing in the making. `height` is the usual letter height in drawing units."""

    def __init__(self, rng, version, unit, units_header):
        self.rng, self.version, self.unit = rng, version, unit
        self.old = version == "R12"
        self.doc = ezdxf.new(version, setup=["linetypes", "styles"] if version != "R12" else ["linetypes"], units=0)
        self.msp = self.doc.modelspace()
        if not self.old:
            self.doc.header["$INSUNITS"] = units_header[0]
        self.doc.header["$MEASUREMENT"] = units_header[1] if not self.old else 0
        for name, (linetype, color) in LAYERS.items():
            self.doc.layers.add(name, linetype=linetype, color=color)
        self.doc.layers.get("CONSTRUCTION").off()
        self.doc.layers.get("OLD").freeze()
        self.height = (self.rng.choice([2.5, 2.5, 3.5, 3.0, 1.8]) if unit == "mm" else self.rng.choice([.1, .125, .125, .156, .09]))
        self.boxes = []
        self.views = []  # all views, so that callouts keep out of those that are not theirs
        self.spliced = []  # raw entities that the DXF writer cannot make
        self.hard = False  # whether the drafter is careless
        self.comma = False  # whether dimensions show a decimal comma
        self.spread = rng.choice([0.0, 0.0, 0.15])  # how uneven letter heights are
        self.sign_text = sign_for(rng, self.old, False)
        self.sign_mtext = sign_for(rng, self.old, True)

    # -- paper -----------------------------------------------------------------------------------------------------

    def paper(self):
        return self.doc.layout("Layout1")

    def viewport(self, at, size, middle, tall):
        self.paper().add_viewport(center=at, size=size, view_center_point=middle, view_height=tall, status=2)

    def enter_paper(self, scale):
        """What follows is drawn on the sheet of paper, in its letter height."""
        self.kept = self.msp, self.boxes, self.height
        self.msp, self.boxes = self.paper(), []
        return True

    def leave_paper(self):
        self.msp, self.boxes, self.height = self.kept

    # -- places ----------------------------------------------------------------------------------------------------

    def take(self, x0, y0, x1, y1):
        self.boxes.append((min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))

    def free(self, x0, y0, x1, y1, gap=0.0):
        return all(x1 + gap < a or x0 - gap > c or y1 + gap < b or y0 - gap > d for a, b, c, d in self.boxes)

    def find_place(self, x, y, width, height, nearest, farthest, angles=None, gap=None, of=None):
        """Lower left corner of a free box whose middle is at some angle and distance from a point, or none; outside
        of every view but `of`, as drafters keep callouts out of other views."""
        gap = 0.4 * self.height if gap is None else gap
        for attempt in range(120):
            angle = self.rng.choice(angles) + self.rng.uniform(-15, 15) if angles else self.rng.uniform(0, 360)
            reach = nearest + (farthest - nearest) * self.rng.random() * min(1.0, 0.3 + attempt / 80)
            dx, dy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            cx = x + dx * (reach + 0.5 * width)
            cy = y + dy * (reach + 0.5 * height)
            x0, y0 = cx - width / 2, cy - height / 2
            others = [v for v in self.views if of is not None and v is not of]
            clear = all(x0 + width < v.x0 - 4 * gap or x0 > v.x1 + 4 * gap or y0 + height < v.y0 - 4 * gap or y0 > v.y1 + 4 * gap for v in others)
            if clear and self.free(x0, y0, x0 + width, y0 + height, gap):
                return x0, y0
        return None

    # -- words -----------------------------------------------------------------------------------------------------

    def letter(self):
        return self.height * (1.0 + self.rng.choice([-1, 0, 1]) * self.spread)

    def width_of(self, line, height):
        units = sum(1.7 if ord(c) > 0x2e80 else 0.95 for c in plain(line))
        return units * height * 0.95

    def size_of(self, lines, height):
        return max(self.width_of(line, height) for line in lines), height * (1 + 1.67 * (len(lines) - 1))

    def text(self, line, x, y, height, layer="TEXT", rotation=0.0, align=None):
        entity = self.msp.add_text(render(line, self.sign_text, False, self.rng), height=height,
                                   dxfattribs={"layer": layer, "rotation": rotation})
        entity.set_placement((x, y), align=align or TextEntityAlignment.LEFT)
        return entity

    def texts(self, lines, x, y, height, layer="TEXT", right=False):
        """Lines as single texts; `y` is the base of the lowest, `x` their left or right end."""
        step = self.rng.uniform(1.5, 1.8) * height
        align = TextEntityAlignment.RIGHT if right else None
        return [self.text(line, x, y + step * (len(lines) - 1 - i), height, layer, align=align) for i, line in enumerate(lines)]

    def mtext(self, lines, x, y, height, attachment=7, layer="TEXT", rotation=0.0, width=None):
        content = "\\P".join(render(line, self.sign_mtext, True, self.rng) for line in lines)
        if self.rng.random() < 0.1:
            content = "{\\fArial|b0|i0|c0|p34;" + content + "}"
        entity = self.msp.add_mtext(content, dxfattribs={"layer": layer, "char_height": height, "rotation": rotation,
                                                         "attachment_point": attachment, "insert": (x, y)})
        if width:
            entity.dxf.width = width
        return entity

    def words(self, lines, x, y, height, layer="TEXT"):
        """As one MTEXT or as single texts, lower left at x, y."""
        if self.old or self.rng.random() < 0.5:
            return self.texts(lines, x, y, height, layer)
        return [self.mtext(lines, x, y, height, 7, layer)]

    # -- lines -----------------------------------------------------------------------------------------------------

    def line(self, a, b, layer="OUTLINE"):
        return self.msp.add_line(a, b, dxfattribs={"layer": layer})

    def polygon(self, points, layer="OUTLINE"):
        """A closed outline: polyline or single lines."""
        choice = self.rng.random()
        if choice < 0.4 and not self.old:
            self.msp.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})
        elif choice < 0.6:
            self.msp.add_polyline2d(points, close=True, dxfattribs={"layer": layer})
        else:
            for a, b in zip(points, points[1:] + points[:1]):
                self.line(a, b, layer)

    def rectangle(self, x0, y0, x1, y1, layer="OUTLINE"):
        self.polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], layer)

    def arrow(self, tip, tail, size, layer="DIM"):
        """A filled arrow head as exploded drawings have it: a SOLID or two lines."""
        angle = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
        ends = [(tip[0] + size * math.cos(angle + a), tip[1] + size * math.sin(angle + a)) for a in (0.16, -0.16)]
        if self.rng.random() < 0.5:
            self.msp.add_solid([tip, ends[0], ends[1], ends[1]], dxfattribs={"layer": layer})
        else:
            for end in ends:
                self.line(tip, end, layer)

    # -- round things ----------------------------------------------------------------------------------------------

    def hole(self, x, y, d, layer, way):
        """A closed circle drawn in one of the ways that CAD programs draw it."""
        r = d / 2.0
        attributes = {"layer": layer}
        if way == "arcs":
            first = self.rng.choice([0.0, 90.0, 37.0])
            for start in (first, first + 180.0):
                self.msp.add_arc((x, y), r, start % 360, (start + 180.0) % 360, dxfattribs=attributes)
        elif way == "bulges":
            points = [(x + r, y, 1.0), (x - r, y, 1.0)]
            if self.old or self.rng.random() < 0.3:
                self.msp.add_polyline2d(points, format="xyb", close=True, dxfattribs=attributes)
            else:
                self.msp.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)
        elif way == "block":
            name = f"BORE-{d:.4f}".replace(".", "_")
            if name not in self.doc.blocks:
                block = self.doc.blocks.new(name)
                block.add_circle((0, 0), r)
                for a, b in (((-1.3 * r, 0), (1.3 * r, 0)), ((0, -1.3 * r), (0, 1.3 * r))):
                    block.add_line(a, b, dxfattribs={"layer": "CENTER"})
            self.msp.add_blockref(name, (x, y), dxfattribs=attributes)
        elif way == "unit-block":
            if "UNITHOLE" not in self.doc.blocks:
                self.doc.blocks.new("UNITHOLE").add_circle((0, 0), 0.5)
            self.msp.add_blockref("UNITHOLE", (x, y), dxfattribs={**attributes, "xscale": d, "yscale": d})
        elif way == "nested":
            # A block in a block, each turned, the inner one enlarged: what is left of an assembly or a library part.
            if "NESTEDHOLE" not in self.doc.blocks:
                self.doc.blocks.new("NESTEDCORE").add_circle((0.25, 0.0), 0.125)
                outer = self.doc.blocks.new("NESTEDHOLE")
                outer.add_blockref("NESTEDCORE", (0.0, -1.0), dxfattribs={"xscale": 4.0, "yscale": 4.0, "rotation": 90.0})
            turn = self.rng.choice([0.0, 30.0, 180.0, 247.0])
            self.msp.add_blockref("NESTEDHOLE", (x, y), dxfattribs={**attributes, "xscale": d, "yscale": d, "rotation": turn})
        elif way == "spline" and not self.old:
            rim = BSpline.from_arc(ConstructionArc((x, y), r, 0, 360))
            self.msp.add_rational_spline(rim.control_points, rim.weights(), rim.degree, rim.knots(), dxfattribs=attributes)
        elif way == "ellipse" and not self.old:
            self.msp.add_ellipse((x, y), (r, 0), ratio=1.0, dxfattribs=attributes)
        elif way == "mirrored":
            self.msp.add_circle((-x, y), r, dxfattribs={**attributes, "extrusion": (0, 0, -1)})
        else:
            self.msp.add_circle((x, y), r, dxfattribs=attributes)

    def centre_mark(self, x, y, r):
        for dx, dy in ((1, 0), (0, 1)):
            self.line((x - 1.4 * r * dx, y - 1.4 * r * dy), (x + 1.4 * r * dx, y + 1.4 * r * dy), "CENTER")

    def save(self, path, binary):
        if self.spliced:
            self.doc.saveas(path)
            encoding = self.doc.output_encoding
            text = path.read_bytes().decode(encoding, errors="surrogateescape")
            head, found, tail = text.partition("ENTITIES\n")
            body, end, rest = tail.partition("  0\nENDSEC\n")
            path.write_bytes((head + found + body + "".join(self.spliced) + end + rest).encode(encoding, errors="surrogateescape"))
        else:
            self.doc.saveas(path, fmt="bin" if binary else "asc")


def plain(line):
    return line.replace("[S|", "").replace("§", "Ø")
