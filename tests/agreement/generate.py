"""Makes drawings whose circles are known, over all the ways in which a circle is drawn.

    python generate.py SEED COUNT FOLDER

Writes COUNT drawings, text and binary, of all versions that ezdxf writes, and beside each `<stem>.truth.json`: the
list of circles, once per place where they appear, worked out here from the numbers that were drawn and not read back
from the file. The same seed gives the same drawings.
"""

import json
import logging
import math
import random
import sys
from dataclasses import dataclass, field
from pathlib import Path

import ezdxf
from ezdxf.math import bezier_to_bspline, cubic_bezier_from_arc, rational_bspline_from_arc

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
LAYERS = {"SHOWN": "on", "HOLES": "on", "OFF": "off", "FROZEN": "frozen"}
DOWN = (0, 0, -1)


@dataclass(frozen=True)
class Map:
    """(x, y) to (a x + c y + e, b x + d y + f)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def after(self, first):
        """This map applied after another one."""
        return Map(
            self.a * first.a + self.c * first.b, self.b * first.a + self.d * first.b,
            self.a * first.c + self.c * first.d, self.b * first.c + self.d * first.d,
            self.a * first.e + self.c * first.f + self.e, self.b * first.e + self.d * first.f + self.f,
        )

    def point(self, x, y):
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def scale(self):
        """Scale of lengths if circles stay circles, else none."""
        first, second = math.hypot(self.a, self.b), math.hypot(self.c, self.d)
        square = self.a * self.c + self.b * self.d
        if abs(first - second) > 1e-12 * first or abs(square) > 1e-12 * first * second:
            return None
        return first


def shift(x, y):
    return Map(e=x, f=y)


def turn(degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Map(c, s, -s, c)


MIRROR_X = Map(a=-1.0)  # object coordinates of an extrusion straight down, seen from above


@dataclass
class Drawn:
    """A circle as drawn in a block or space."""

    x: float
    y: float
    diameter: float
    layer: str
    invisible: bool
    of_parts: bool = False
    made_of: str = ""


@dataclass
class Placed:
    """A block as inserted: one map for each of its copies."""

    block: "Contents"
    maps: list
    layer: str
    invisible: bool


@dataclass
class Contents:
    """What a block or space holds."""

    circles: list = field(default_factory=list)
    inserts: list = field(default_factory=list)

    def truth(self, space, layer="0", inside=False, outer=Map(), hidden=False):
        """The circles of this and of everything inserted in it."""
        for circle in self.circles:
            scale = outer.scale()
            if scale is None:
                continue
            own = layer if circle.layer == "0" and inside else circle.layer
            visible = not (hidden or circle.invisible or LAYERS.get(own, "on") != "on")
            x, y = outer.point(circle.x, circle.y)
            size = circle.diameter * scale
            yield {"space": space, "x": x, "y": y, "diameter": size, "visible": visible, "of_parts": circle.of_parts,
                   "made_of": circle.made_of}
        for placed in self.inserts:
            own = layer if placed.layer == "0" and inside else placed.layer
            gone = hidden or placed.invisible or LAYERS.get(own, "on") == "frozen"
            for each in placed.maps:
                yield from placed.block.truth(space, own, True, outer.after(each), gone)


def once_each(truth):
    """Parts that arrays lay exactly over each other close one circle, however often each is there."""
    seen = set()
    for circle in truth:
        place = (circle["space"], circle["visible"], *(round(circle[key], 7) for key in ("x", "y", "diameter")))
        if not (circle["of_parts"] and place in seen):
            yield circle
        if circle["of_parts"]:
            seen.add(place)


class Maker:
    """Draws one drawing."""

    def __init__(self, seed):
        self.random = random.Random(seed)
        self.version = self.random.choice(VERSIONS)
        self.doc = ezdxf.new(self.version, setup=["linetypes"], units=0)
        for name, state in LAYERS.items():
            layer = self.doc.layers.add(name)
            if state == "off":
                layer.off()
            elif state == "frozen":
                layer.freeze()
        self.modern = self.version != "R12"
        self.blocks = []

    def make(self):
        """Draws and returns the truth."""
        for depth in range(self.random.randint(0, 4)):
            self.block(f"B{depth}")
        model = Contents()
        self.fill(self.doc.modelspace(), model, self.random.randint(1, 12))
        truth = list(model.truth("model"))
        if self.random.random() < 0.4:
            paper = Contents()
            layout = self.doc.layout("Layout1")
            if self.modern:
                # Views show model space; what they show is there once, in model space.
                for scale in self.random.sample([0.1, 0.2, 0.5, 1.0, 2.0], 2):
                    layout.add_viewport((100 * scale, 80), (120, 90), (self.number(100), 0.0), 90.0 / scale)
            self.fill(layout, paper, self.random.randint(1, 4))
            truth += paper.truth(layout.name)
        return once_each(truth)

    # -- contents ----------------------------------------------------------------------------------------------

    def block(self, name):
        base = (self.number(5), self.number(5))
        layout = self.doc.blocks.new(name, base_point=base)
        contents = Contents()
        self.fill(layout, contents, self.random.randint(1, 4))
        self.blocks.append((name, base, contents))

    def fill(self, space, contents, count):
        for _ in range(count):
            choice = self.random.random()
            if choice < 0.35 and self.blocks:
                self.insert(space, contents)
            elif choice < 0.5:
                self.decoy(space)
            else:
                self.circle(space, contents)

    def number(self, reach):
        return round(self.random.uniform(-reach, reach), self.random.choice([0, 2, 6, 12]))

    def attributes(self):
        attributes = {"layer": self.random.choice(["0", "0", "SHOWN", "HOLES", "OFF", "FROZEN", "NOT LISTED"])}
        if self.modern and self.random.random() < 0.1:
            attributes["invisible"] = 1
        return attributes

    def circle(self, space, contents):
        x, y = self.number(300), self.number(300)
        radius = self.random.choice([0.5, 1.65, 1.8, 0.112, 0.0735, 2.8, 25.0, self.random.uniform(0.01, 40.0)])
        attributes = self.attributes()
        drawn = Drawn(x, y, 2.0 * radius, attributes["layer"], bool(attributes.get("invisible")))
        ways = [self.as_circle, self.as_circle, self.as_arcs, self.as_arcs_of_blocks, self.as_polyline,
                self.as_lines, self.as_vertices]
        if self.modern:
            ways += [self.as_ellipse, self.as_spline]
        flat = self.random.choice(ways)
        in_world = {self.as_ellipse, self.as_spline, self.as_lines, self.as_arcs_of_blocks}
        if flat not in in_world and self.random.random() < 0.25:
            attributes["extrusion"] = DOWN
            drawn.x = -x
        mean = flat(space, x, y, radius, attributes)
        if mean is not None:
            drawn.diameter = 2.0 * mean
        drawn.of_parts = flat in {self.as_arcs, self.as_arcs_of_blocks, self.as_lines}
        drawn.made_of = {self.as_spline: "spline", self.as_lines: "polygon", self.as_vertices: "polygon"}.get(flat, "")
        contents.circles.append(drawn)

    def as_circle(self, space, x, y, radius, attributes):
        space.add_circle((x, y, self.random.choice([0.0, 0.0, 7.5])), radius, dxfattribs=attributes)

    def as_arcs(self, space, x, y, radius, attributes):
        """One full arc, arcs end to end or overlapping, in any order, with angles of one turn or outside it."""
        pieces = self.random.choice([1, 2, 2, 3, 4])
        first = self.random.choice([0.0, 90.0, self.random.uniform(0.0, 360.0)]) if pieces > 1 else 0.0
        over = self.random.choice([0.0, 0.0, 20.0]) if pieces > 1 else 0.0
        angles = [first + 360.0 * i / pieces for i in range(pieces + 1)]
        arcs = list(zip(angles, angles[1:]))
        self.random.shuffle(arcs)
        one_turn = pieces > 1 and self.random.random() < 0.7
        for start, end in arcs:
            end += over
            if one_turn:
                start, end = start % 360.0, end % 360.0
            space.add_arc((x, y), radius, start, end, dxfattribs=attributes)

    def as_arcs_of_blocks(self, space, x, y, radius, attributes):
        """Half a circle in a block of its own, inserted twice, the second time turned or mirrored."""
        name = f"HALF{len(self.doc.blocks)}"
        half = self.doc.blocks.new(name, base_point=(0, 0))
        half.add_arc((0, 0), radius, 0.0, 180.0, dxfattribs={"layer": "0"})
        other = self.random.choice([{"rotation": 180.0}, {"yscale": -1.0}])
        space.add_blockref(name, (x, y), dxfattribs=attributes)
        space.add_blockref(name, (x, y), dxfattribs={**attributes, **other})

    def corners(self, x, y, radius):
        """The corners of a regular polygon, and the mean radius of the circles through them and along its sides."""
        sides = self.random.choice([16, 18, 24, 36, 72, 180])
        first = self.random.choice([0.0, self.random.uniform(0.0, math.tau)])
        angles = [first + math.tau * i / sides for i in range(sides)]
        corners = [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles]
        return corners, radius * (1.0 + math.cos(math.pi / sides)) / 2.0

    def as_lines(self, space, x, y, radius, attributes):
        """The sides as LINEs, in order or in any order, each drawn either way."""
        corners, mean = self.corners(x, y, radius)
        sides = list(zip(corners, corners[1:] + corners[:1]))
        if self.random.random() < 0.5:
            self.random.shuffle(sides)
        for start, end in sides:
            if self.random.random() < 0.3:
                start, end = end, start
            space.add_line(start, end, dxfattribs=attributes)
        return mean

    def as_vertices(self, space, x, y, radius, attributes):
        corners, mean = self.corners(x, y, radius)
        if self.random.random() < 0.5:
            corners.reverse()
        if self.modern and self.random.random() < 0.6:
            space.add_lwpolyline(corners, close=True, dxfattribs=attributes)
        elif self.random.random() < 0.5:
            space.add_polyline2d(corners, close=True, dxfattribs=attributes)
        else:
            space.add_polyline2d(corners + corners[:1], dxfattribs=attributes)
        return mean

    def as_spline(self, space, x, y, radius, attributes):
        """A rational one, which is exact; four cubic arcs; or points that it goes through."""
        way = self.random.choice(["rational", "cubic", "fit"])
        if way == "rational":
            curve = rational_bspline_from_arc((x, y), radius, 0.0, 360.0)
        elif way == "cubic":
            curve = bezier_to_bspline(cubic_bezier_from_arc((x, y), radius, 0.0, 360.0))
        if way != "fit":
            spline = space.add_spline(dxfattribs=attributes)
            spline.apply_construction_tool(curve)
            spline.closed = self.random.random() < 0.5
            return
        # Fewer points leave the circle where an interpolation begins and ends.
        count = self.random.choice([48, 72])
        angles = [math.tau * i / count for i in range(count)] + [0.0]
        space.add_spline([(x + radius * math.cos(a), y + radius * math.sin(a)) for a in angles], dxfattribs=attributes)

    def as_polyline(self, space, x, y, radius, attributes):
        """Arcs of one circle, two or more, even or not."""
        count = self.random.choice([2, 2, 2, 3, 4, 9, 12])
        way = self.random.choice([1.0, -1.0])
        first = self.random.choice([0.0, math.pi / 2.0, self.random.uniform(0.0, math.pi)])
        cuts = [i / count for i in range(count)]
        if count == 3:
            cuts = [0.0, 0.3, 0.55]
        points = []
        for cut, following in zip(cuts, cuts[1:] + [1.0]):
            angle = first + way * math.tau * cut
            bulge = way * math.tan(math.tau * (following - cut) / 4.0)
            points.append((x + radius * math.cos(angle), y + radius * math.sin(angle), bulge))
        if self.modern and self.random.random() < 0.6:
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)
        else:
            space.add_polyline2d(points, format="xyb", close=True, dxfattribs=attributes)

    def as_ellipse(self, space, x, y, radius, attributes):
        angle = self.random.uniform(0.0, math.pi)
        if self.random.random() < 0.3:
            attributes = {**attributes, "extrusion": DOWN}  # an ellipse has its centre in world coordinates anyway
        space.add_ellipse(
            (x, y), (radius * math.cos(angle), radius * math.sin(angle)), ratio=1.0, dxfattribs=attributes
        )

    def insert(self, space, contents):
        name, base, inner = self.random.choice(self.blocks)
        at = (self.number(200), self.number(200))
        rotation = self.random.choice([0.0, 0.0, 90.0, 180.0, 37.5, self.random.uniform(0.0, 360.0)])
        scale = self.random.choice([1.0, 1.0, 2.0, 0.5, 25.4, 1.0 / 25.4])
        x_scale, y_scale = scale * self.random.choice([1.0, -1.0]), scale * self.random.choice([1.0, -1.0])
        if self.random.random() < 0.15:
            y_scale *= self.random.choice([2.0, 0.5])  # circles become ellipses, unless another block undoes it
        attributes = self.attributes()
        attributes.update(xscale=x_scale, yscale=y_scale, zscale=self.random.choice([1.0, scale]), rotation=rotation)
        columns, rows = (self.random.randint(1, 4), self.random.randint(1, 3)) if self.random.random() < 0.3 else (1, 1)
        across, up = self.number(60) or 10.0, self.number(60) or 10.0
        if columns * rows > 1:
            attributes.update(column_count=columns, row_count=rows, column_spacing=across, row_spacing=up)
        down = self.random.random() < 0.2
        if down:
            attributes["extrusion"] = DOWN
        space.add_blockref(name, at, dxfattribs=attributes)
        shape = Map(a=x_scale, d=y_scale).after(shift(-base[0], -base[1]))
        maps = []
        for i in range(columns):
            for j in range(rows):
                each = shift(*at).after(turn(rotation)).after(shift(i * across, j * up)).after(shape)
                maps.append(MIRROR_X.after(each) if down else each)
        contents.inserts.append(Placed(inner, maps, attributes["layer"], bool(attributes.get("invisible"))))

    # -- things that are no circles of the drawing ---------------------------------------------------------------

    def decoy(self, space):
        x, y, radius = self.number(300), self.number(300), self.random.uniform(0.5, 20.0)
        decoys = [self.open_arcs, self.tilted, self.slot, self.dimension, self.few_sides, self.uneven_sides]
        if self.modern:
            decoys += [self.oval, self.hatch, self.leader, self.open_spline, self.oval_spline]
        self.random.choice(decoys)(space, x, y, radius)

    def open_arcs(self, space, x, y, radius):
        space.add_arc((x, y), radius, 0.0, 180.0)
        space.add_arc((x, y), radius, 180.0, 350.0)

    def tilted(self, space, x, y, radius):
        space.add_circle((x, y), radius, dxfattribs={"extrusion": (0.0, 0.6, 0.8)})

    def slot(self, space, x, y, radius):
        points = [(x, y, 0.0), (x + 30, y, 1.0), (x + 30, y + 2 * radius, 0.0), (x, y + 2 * radius, 1.0)]
        if self.modern:
            space.add_lwpolyline(points, format="xyb", close=True)
        else:
            space.add_polyline2d(points, format="xyb", close=True)

    def dimension(self, space, x, y, radius):
        """A dimension with dots for arrows: its own block holds round shapes that are no holes."""
        space.add_linear_dim(
            base=(x, y + 10.0), p1=(x, y), p2=(x + radius, y), override={"dimblk": "DOT", "dimasz": 2.5}
        ).render()

    def few_sides(self, space, x, y, radius):
        """Nuts and knobs: polygons that are meant as such."""
        sides = self.random.choice([4, 6, 12, 15])
        corners = [(x + radius * math.cos(math.tau * i / sides), y + radius * math.sin(math.tau * i / sides))
                   for i in range(sides)]
        for start, end in zip(corners, corners[1:] + corners[:1]):
            space.add_line(start, end)

    def uneven_sides(self, space, x, y, radius):
        """A flattened ring and a ring with a gap."""
        ring = [math.tau * i / 24 for i in range(24)]
        flat = [(x + radius * math.cos(a), y + 0.9 * radius * math.sin(a)) for a in ring]
        for start, end in zip(flat, flat[1:] + flat[:1]):
            space.add_line(start, end)
        x += 3.0 * radius
        whole = [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in ring]
        for start, end in zip(whole, whole[1:]):
            space.add_line(start, end)

    def open_spline(self, space, x, y, radius):
        space.add_spline(dxfattribs={}).apply_construction_tool(rational_bspline_from_arc((x, y), radius, 0.0, 300.0))

    def oval_spline(self, space, x, y, radius):
        angles = [math.tau * i / 24 for i in range(24)] + [0.0]
        space.add_spline([(x + radius * math.cos(a), y + 0.9 * radius * math.sin(a)) for a in angles])

    def oval(self, space, x, y, radius):
        space.add_ellipse((x, y), (radius, 0.0), ratio=self.random.choice([0.45, 0.99]))

    def hatch(self, space, x, y, radius):
        hatch = space.add_hatch()
        edge = hatch.paths.add_edge_path()
        edge.add_arc((x, y), radius, 0.0, 360.0)

    def leader(self, space, x, y, radius):
        space.add_leader([(x, y), (x + radius, y + radius), (x + 2 * radius, y + radius)], override={"dimldrblk": "DOT"})


def main():
    if len(sys.argv) != 4:
        sys.exit(__doc__)
    seed, count, folder = sys.argv[1], int(sys.argv[2]), Path(sys.argv[3])
    folder.mkdir(parents=True, exist_ok=True)
    ezdxf.options.write_fixed_meta_data_for_testing = True
    logging.getLogger("ezdxf").setLevel(logging.ERROR)  # R12 has no units to write; that is intended
    for number in range(count):
        maker = Maker(f"{seed}-{number}")
        truth = list(maker.make())
        binary = maker.random.random() < 0.25
        path = folder / f"{number:04d}-{maker.version}-{'binary' if binary else 'text'}.dxf"
        maker.doc.saveas(path, fmt="bin" if binary else "asc")
        path.with_suffix(".truth.json").write_text(json.dumps(truth, indent=0) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
