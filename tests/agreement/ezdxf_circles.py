"""Finds every closed circular shape of a drawing with ezdxf alone, once per place where it appears.

This is the second opinion that the program's reader is compared with, so it shares nothing with it. A shape is kept
as a centre and two conjugate radii, carried through the block transformations as plain vectors, and is a circle if
the radii, seen along z, are of one length and square to each other.

Splines are sampled, and LINEs joined at their ends, in world coordinates; a circle is then fitted to the points. Regular
polygons of 16 or more sides count as the circle half-way between their corners and their sides.

Not counted: what dimensions, leaders and tables draw for themselves, and hatch edges.
"""

import math
from collections import defaultdict
from dataclasses import dataclass

import ezdxf
import numpy as np
from ezdxf import recover
from ezdxf.lldxf.const import DXFError
from ezdxf.math import OCS, Matrix44, Vec3, bulge_to_arc

ROUND = 1e-7  # relative: how far the conjugate radii may differ in length and from a right angle
TURN = 2.0 * math.pi
ARC_GAP = 1e-6  # radians left open between arcs that still count as closed
ROUND_KINDS = {"INSERT", "CIRCLE", "ARC", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE", "LINE"}
SPLINE_ROUND = 2e-3  # relative: how far a spline may leave its circle
FEWEST_SIDES = 16
EVEN = 0.1  # relative: how far the sides of a polygon may differ from their mean
JOIN = 1e-7  # absolute: ends of LINEs that are one corner
MAX_DEPTH = 64
MAX_COPIES = 100_000
BINARY_SENTINEL = b"AutoCAD Binary DXF"


@dataclass(frozen=True)
class Found:
    """A circle in the coordinates of its space."""

    space: str  # "model" or the name of the layout
    x: float
    y: float
    diameter: float
    visible: bool
    made_of: str


class Unreadable(Exception):
    """ezdxf gives the file up."""


def load(path):
    """The document; recover mode for text, the plain loader for binary files, which recover mode does not take."""
    try:
        with open(path, "rb") as stream:
            binary = stream.read(len(BINARY_SENTINEL)) == BINARY_SENTINEL
        if binary:
            return ezdxf.readfile(path)
        document, _ = recover.readfile(path)
        return document
    except (DXFError, OSError, UnicodeError, ValueError, KeyError, IndexError, TypeError, AttributeError) as error:
        raise Unreadable(f"{type(error).__name__}: {error}") from error


def find(document):
    """All circles of model space and of every layout."""
    walk = Walk(document)
    found = []
    for layout in document.layouts:
        space = "model" if layout.name == "Model" else layout.name
        found.extend(walk.space(space, layout))
    return found


@dataclass
class Shape:
    """c + u cos t + v sin t for t from `start` over `sweep`, in world coordinates."""

    centre: Vec3
    u: Vec3
    v: Vec3
    start: float
    sweep: float
    made_of: str

    def moved(self, matrix):
        direction = matrix.transform_direction
        return Shape(
            matrix.transform(self.centre), direction(self.u), direction(self.v), self.start, self.sweep, self.made_of
        )

    def round_radius(self):
        """The radius seen along z, or none if that is no circle."""
        u, v = self.u.vec2, self.v.vec2
        a, b = u.magnitude, v.magnitude
        if not (math.isfinite(a) and math.isfinite(b)) or a <= 0.0 or b <= 0.0:
            return None
        if abs(a - b) > ROUND * max(a, b) or abs(u.dot(v)) > ROUND * a * b:
            return None
        return (a + b) / 2.0

    def interval(self):
        """Start and length of the arc, counter-clockwise from the x axis."""
        sign = 1.0 if self.u.x * self.v.y - self.u.y * self.v.x > 0.0 else -1.0
        first = self.start if sign > 0.0 else self.start + self.sweep
        point = self.u.vec2 * math.cos(first) + self.v.vec2 * math.sin(first)
        return point.angle % TURN, self.sweep


@dataclass
class Points:
    """A closed run of points in world coordinates: of a spline, the corners of a polygon, or the ends of a LINE."""

    points: list
    made_of: str

    def moved(self, matrix):
        return Points([Vec3(p) for p in matrix.transform_vertices(self.points)], self.made_of)

    def circle(self):
        """Centre and diameter of the circle that the points draw seen along z, or none."""
        points = [p.vec2 for p in self.points]
        if self.made_of == "line" or len(points) < FEWEST_SIDES:
            return None
        x, y, radius = fitted(points)
        if not radius > 0.0 or max(abs(math.hypot(p.x - x, p.y - y) - radius) for p in points) > SPLINE_ROUND * radius:
            return None
        if self.made_of == "spline":
            return x, y, 2.0 * radius
        sides = [a.distance(b) for a, b in zip(points, points[1:] + points[:1])]
        mean = sum(sides) / len(sides)
        if any(abs(side - mean) > EVEN * mean for side in sides) or len(sides) * mean > 1.1 * TURN * radius:
            return None
        return x, y, radius * (1.0 + math.cos(math.pi / len(points)))


def fitted(points):
    """Centre and radius of the circle that fits best by least squares of x^2 + y^2 + ax + by + c."""
    mx, my = sum(p.x for p in points) / len(points), sum(p.y for p in points) / len(points)
    rows = np.array([[p.x - mx, p.y - my, 1.0] for p in points])
    squares = -np.array([(p.x - mx) ** 2 + (p.y - my) ** 2 for p in points])
    (a, b, c), *_ = np.linalg.lstsq(rows, squares, rcond=None)
    return mx - a / 2.0, my - b / 2.0, math.sqrt(max(a * a / 4.0 + b * b / 4.0 - c, 0.0))


def rings(lines):
    """The closed runs of corners that LINEs draw whose corners each join two of them."""
    corners, cells = [], defaultdict(list)

    def corner(p):
        cell = (math.floor(p.x / JOIN), math.floor(p.y / JOIN))
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                for known in cells[cell[0] + i, cell[1] + j]:
                    if corners[known].vec2.distance(p.vec2) <= JOIN:
                        return known
        cells[cell].append(len(corners))
        corners.append(p)
        return len(corners) - 1

    joined = defaultdict(set)
    for start, end in lines:
        a, b = corner(start), corner(end)
        if a != b:
            joined[a].add(b)
            joined[b].add(a)
    seen = set()
    for first in joined:
        ring, at = [], first
        while at not in seen and len(joined[at]) == 2:
            seen.add(at)
            ring.append(corners[at])
            ahead = [n for n in joined[at] if n not in seen]
            if not ahead:
                break
            at = ahead[0]
        if len(ring) >= FEWEST_SIDES and first in joined[at]:
            yield ring


class Walk:
    """Goes through entities and blocks."""

    def __init__(self, document):
        self.document = document

    def space(self, name, entities):
        shapes = []
        self._entities(entities, Matrix44(), "0", False, [], shapes)
        found = []
        arcs = defaultdict(list)
        lines = defaultdict(list)
        for shape, visible in shapes:
            if isinstance(shape, Points):
                circle = shape.circle()
                if shape.made_of == "line":
                    lines[visible].append(shape.points)
                elif circle is not None:
                    found.append(Found(name, *circle, visible, shape.made_of))
                continue
            radius = shape.round_radius()
            if radius is None:
                continue
            if shape.sweep >= TURN - ARC_GAP:
                found.append(Found(name, shape.centre.x, shape.centre.y, 2.0 * radius, visible, shape.made_of))
            else:
                arcs[visible].append((shape.centre.x, shape.centre.y, radius, *shape.interval()))
        for visible, members in arcs.items():
            for x, y, radius in closed_by_arcs(members):
                found.append(Found(name, x, y, 2.0 * radius, visible, "arcs"))
        for visible, sides in lines.items():
            for ring in rings(sides):
                circle = Points(ring, "polygon").circle()
                if circle is not None:
                    found.append(Found(name, *circle, visible, "polygon"))
        return found

    def _entities(self, entities, matrix, parent_layer, hidden, blocks, shapes):
        for entity in entities:
            if entity.dxftype() not in ROUND_KINDS:
                continue
            own = entity.dxf.get("layer", "0")
            layer = parent_layer if own == "0" and blocks else own
            invisible = hidden or bool(entity.dxf.get("invisible", 0))
            if entity.dxftype() == "INSERT":
                self._insert(entity, matrix, layer, invisible, blocks, shapes)
                continue
            shape = shape_of(entity)
            if shape is not None:
                visible = not invisible and not self._off(layer) and not self._frozen(layer)
                shapes.append((shape.moved(matrix), visible))

    def _insert(self, insert, matrix, layer, hidden, blocks, shapes):
        block = insert.block()
        name = (insert.dxf.get("name") or "").lower()
        if block is None or name in blocks or len(blocks) >= MAX_DEPTH:
            return
        hidden = hidden or self._frozen(layer)
        if insert.mcount > MAX_COPIES:
            return
        for copy in insert.multi_insert() if insert.mcount > 1 else [insert]:
            self._entities(block, copy.matrix44() * matrix, layer, hidden, [*blocks, name], shapes)

    def _layer(self, name):
        return self.document.layers.get(name) if self.document.layers.has_entry(name) else None

    def _off(self, name):
        layer = self._layer(name)
        return layer is not None and layer.is_off()

    def _frozen(self, name):
        layer = self._layer(name)
        return layer is not None and layer.is_frozen()


def shape_of(entity):
    """The round shape of an entity that is no insert, or none."""
    kind = entity.dxftype()
    if kind == "CIRCLE":
        return _in_ocs(entity, entity.dxf.center, entity.dxf.radius, 0.0, TURN, "circle")
    if kind == "ARC":
        start = math.radians(entity.dxf.start_angle)
        return _in_ocs(entity, entity.dxf.center, entity.dxf.radius, start, _sweep(start, math.radians(entity.dxf.end_angle)), "arcs")
    if kind == "ELLIPSE":
        major = Vec3(entity.dxf.major_axis)
        minor = Vec3(entity.dxf.extrusion).normalize().cross(major) * entity.dxf.ratio
        sweep = _sweep(entity.dxf.start_param, entity.dxf.end_param)
        return Shape(Vec3(entity.dxf.center), major, minor, entity.dxf.start_param, sweep, "ellipse")
    if kind == "LINE":
        return Points([Vec3(entity.dxf.start), Vec3(entity.dxf.end)], "line")
    if kind == "SPLINE":
        return _spline(entity)
    if kind == "LWPOLYLINE":
        points = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
        return _polyline(entity, points, entity.closed, entity.dxf.elevation)
    if kind == "POLYLINE" and entity.is_2d_polyline:
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in entity.vertices]
        return _polyline(entity, points, entity.is_closed, Vec3(entity.dxf.get("elevation", (0, 0, 0))).z)
    return None


def _spline(entity):
    """Points along a spline that ends where it begins."""
    curve = entity.construction_tool()
    count = 360
    points = [Vec3(p) for p in curve.points([curve.max_t * i / count for i in range(count + 1)])]
    size = max(p.distance(points[0]) for p in points)
    if size == 0.0 or points[0].distance(points[-1]) > SPLINE_ROUND * size:
        return None
    return Points(points[:-1], "spline")


def _sweep(start, end):
    sweep = (end - start) % TURN
    return TURN if sweep < 1e-9 or TURN - sweep < 1e-9 else sweep


def _in_ocs(entity, centre, radius, start, sweep, made_of):
    if not radius > 0.0:
        return None
    ocs = OCS(entity.dxf.extrusion)
    u, v = Vec3(ocs.to_wcs(Vec3(radius, 0.0, 0.0))), Vec3(ocs.to_wcs(Vec3(0.0, radius, 0.0)))
    return Shape(Vec3(ocs.to_wcs(Vec3(centre))), u, v, start, sweep, made_of)


def _polyline(entity, points, closed, elevation):
    """A closed polyline of bulges that all lie on one circle and turn once."""
    if len(points) > 1 and math.dist(points[0][:2], points[-1][:2]) < 1e-12:
        points, closed = points[:-1], True
    if closed and len(points) >= FEWEST_SIDES and all(p[2] == 0.0 for p in points):
        ocs = OCS(entity.dxf.extrusion)
        return Points([Vec3(ocs.to_wcs(Vec3(x, y, elevation))) for x, y, _ in points], "polygon")
    if not closed or len(points) < 2 or any(p[2] == 0.0 for p in points):
        return None
    turn = sum(4.0 * math.atan(bulge) for _, _, bulge in points)
    if abs(abs(turn) - TURN) > 1e-6:
        return None
    arcs = []
    for (x, y, bulge), (next_x, next_y, _) in zip(points, points[1:] + points[:1]):
        if math.dist((x, y), (next_x, next_y)) == 0.0:
            return None
        centre, _, _, radius = bulge_to_arc((x, y), (next_x, next_y), bulge)
        arcs.append((centre.x, centre.y, radius))
    x, y, radius = arcs[0]
    if any(math.dist((x, y), arc[:2]) > 1e-6 * radius or abs(radius - arc[2]) > 1e-6 * radius for arc in arcs):
        return None
    x, y, radius = (sum(arc[i] for arc in arcs) / len(arcs) for i in range(3))
    return _in_ocs(entity, (x, y, elevation), radius, 0.0, TURN, "polyline")


def closed_by_arcs(arcs):
    """Centres and radii of the circles that arcs of one centre and radius close together."""
    groups = []
    for arc in sorted(arcs):
        x, y, radius, start, sweep = arc
        for group in reversed(groups):
            gx, gy, gr = group[0][:3]
            near = 1e-6 * max(gr, radius)
            if abs(x - gx) <= near and abs(y - gy) <= near and abs(radius - gr) <= near:
                group.append(arc)
                break
            if x - gx > near:
                groups.append([arc])
                break
        else:
            groups.append([arc])
    for group in groups:
        if len(group) > 1 and _covers_the_turn([arc[3:] for arc in group]):
            yield tuple(sum(arc[i] for arc in group) / len(group) for i in range(3))


def _covers_the_turn(intervals):
    origin = intervals[0][0]
    reached = 0.0
    for start, end in sorted(((s - origin) % TURN, (s - origin) % TURN + sweep) for s, sweep in intervals):
        # An arc that starts just below the origin comes out near a full turn; that is the origin too.
        if TURN - start < ARC_GAP:
            start, end = start - TURN, end - TURN
        if start > reached + ARC_GAP:
            return False
        reached = max(reached, end)
    return reached >= TURN - ARC_GAP
