"""Parts and their views: outlines, hole patterns, the views beside, and round things that are no holes."""

import math
from dataclasses import dataclass, field

import words
from forms import MM, render

WAYS = [("circle", 12), ("block", 2), ("unit-block", 1), ("bulges", 2), ("arcs", 2), ("ellipse", 1), ("mirrored", 1), ("nested", 1), ("spline", 1)]


@dataclass
class Group:
    """Holes that one callout speaks of."""

    spots: list
    size: float  # drawn
    written: object
    pattern: str
    way: str
    layer: str
    features: list = field(default_factory=list)
    carrier: str = ""
    handles: list = None
    tags: list = None
    drawn: list = None  # sizes of single holes where they differ from `size`


@dataclass
class View:
    x0: float
    y0: float
    x1: float
    y1: float
    scale: float
    shape: str = "rectangle"
    groups: list = field(default_factory=list)
    side: tuple = None
    thickness_mm: float = None
    material: str = None  # where a note at it names another one
    port: tuple = None  # scale, model point and the paper point that shows it, where a viewport looks at it
    name: str = "front"


def outline(page, view):
    """The part's edge, with the corners that sheet metal has."""
    w, h = view.x1 - view.x0, view.y1 - view.y0
    kind = page.rng.choice(["rectangle", "rectangle", "notched", "chamfered", "disc", "rounded", "hexagon"])
    if kind == "disc" and abs(w - h) > 0.35 * max(w, h):
        kind = "rectangle"
    view.shape = kind
    if kind == "disc":
        r = min(w, h) / 2
        cx, cy = (view.x0 + view.x1) / 2, (view.y0 + view.y1) / 2
        view.x0, view.x1, view.y0, view.y1 = cx - r, cx + r, cy - r, cy + r
        page.msp.add_circle((cx, cy), r, dxfattribs={"layer": "OUTLINE"})
        return [(cx, cy, 2 * r, "outline-disc")]
    c = 0.12 * min(w, h)
    a, b, d, e = view.x0, view.y0, view.x1, view.y1
    if kind == "notched":
        page.polygon([(a, b), (d, b), (d, e - c), (d - c, e - c), (d - c, e), (a, e)])
    elif kind == "chamfered":
        page.polygon([(a + c, b), (d - c, b), (d, b + c), (d, e - c), (d - c, e), (a + c, e), (a, e - c), (a, b + c)])
    elif kind == "hexagon":
        page.polygon([(a + c, b), (d - c, b), (d, (b + e) / 2), (d - c, e), (a + c, e), (a, (b + e) / 2)])
    elif kind == "rounded":
        for (x, y, s) in ((a + c, b + c, 180), (d - c, b + c, 270), (d - c, e - c, 0), (a + c, e - c, 90)):
            page.msp.add_arc((x, y), c, s, s + 90, dxfattribs={"layer": "OUTLINE"})
        for p, q in (((a + c, b), (d - c, b)), ((d, b + c), (d, e - c)), ((d - c, e), (a + c, e)), ((a, e - c), (a, b + c))):
            page.line(p, q)
    else:
        page.rectangle(a, b, d, e)
    return []


def inside(view, x, y, r):
    """Whether a hole of this radius lies well inside the outline."""
    if view.shape == "disc":
        cx, cy = (view.x0 + view.x1) / 2, (view.y0 + view.y1) / 2
        return math.hypot(x - cx, y - cy) + 1.5 * r <= (view.x1 - view.x0) / 2
    c = 0.13 * min(view.x1 - view.x0, view.y1 - view.y0) if view.shape in ("notched", "chamfered", "hexagon") else 0.0
    return view.x0 + c + 1.5 * r <= x <= view.x1 - c - 1.5 * r and view.y0 + c + 1.5 * r <= y <= view.y1 - c - 1.5 * r


def spots_of(page, view, count, outer):
    """Centres for `count` holes in a usual pattern that keep clear of the holes there are, or none."""
    rng = page.rng
    r = outer / 2
    w, h = view.x1 - view.x0, view.y1 - view.y0
    for _ in range(60):
        if count == 1:
            pattern = "single"
            points = [(rng.uniform(view.x0 + 2 * r, view.x1 - 2 * r), rng.uniform(view.y0 + 2 * r, view.y1 - 2 * r))] if w > 4 * r and h > 4 * r else []
        else:
            patterns = ["row", "bolt-circle", "scattered"] + (["corners", "corners", "grid"] if count == 4 else ["grid"] if count in (6, 8, 9) else [])
            pattern = rng.choice(patterns)
            points = PATTERNS[pattern](rng, view, count, r, w, h)
        points = [(round(x, 4), round(y, 4)) for x, y in points]
        if len(points) != count or not all(inside(view, x, y, r) for x, y in points):
            continue
        gap = lambda p, q: math.hypot(p[0] - q[0], p[1] - q[1])
        if any(gap(p, q) < 3.0 * r for i, p in enumerate(points) for q in points[:i]):
            continue
        there = [(s, g.size * g.written.extra.get("outer", 1.0)) for g in view.groups for s in g.spots]
        if any(gap(p, s) < 1.4 * (r + size / 2) for p in points for s, size in there):
            continue
        return points, pattern
    return None, None


def row(rng, view, count, r, w, h):
    if rng.random() < 0.5:
        step = rng.uniform(3 * r, max(3.1 * r, 0.8 * w / count))
        x, y = rng.uniform(view.x0 + 2 * r, view.x1 - 2 * r), rng.uniform(view.y0 + 2 * r, view.y1 - 2 * r)
        return [(x + i * step, y) for i in range(count)]
    step = rng.uniform(3 * r, max(3.1 * r, 0.8 * h / count))
    x, y = rng.uniform(view.x0 + 2 * r, view.x1 - 2 * r), rng.uniform(view.y0 + 2 * r, view.y1 - 2 * r)
    return [(x, y + i * step) for i in range(count)]


def bolt_circle(rng, view, count, r, w, h):
    radius = rng.uniform(3 * r, max(3.1 * r, 0.45 * min(w, h)))
    cx, cy = rng.uniform(view.x0 + radius, view.x1 - radius) if w > 2 * radius else (view.x0 + view.x1) / 2, (view.y0 + view.y1) / 2
    if view.shape == "disc":
        cx = (view.x0 + view.x1) / 2
    first = rng.choice([0, 90, 45, 30])
    return [(cx + radius * math.cos(math.radians(first + 360 * i / count)), cy + radius * math.sin(math.radians(first + 360 * i / count)))
            for i in range(count)]


def corners(rng, view, count, r, w, h):
    e = rng.uniform(2.2 * r, max(2.3 * r, 0.2 * min(w, h)))
    return [(view.x0 + e, view.y0 + e), (view.x1 - e, view.y0 + e), (view.x1 - e, view.y1 - e), (view.x0 + e, view.y1 - e)]


def grid(rng, view, count, r, w, h):
    columns = {4: 2, 6: 3, 8: 4, 9: 3}[count]
    dx, dy = rng.uniform(3 * r, max(3.1 * r, 0.7 * w / columns)), rng.uniform(3 * r, max(3.1 * r, 0.5 * h / (count // columns)))
    x, y = rng.uniform(view.x0 + 2 * r, view.x1 - 2 * r), rng.uniform(view.y0 + 2 * r, view.y1 - 2 * r)
    return [(x + i % columns * dx, y + i // columns * dy) for i in range(count)]


def scattered(rng, view, count, r, w, h):
    return [(rng.uniform(view.x0 + 2 * r, view.x1 - 2 * r), rng.uniform(view.y0 + 2 * r, view.y1 - 2 * r)) for _ in range(count)]


PATTERNS = {"row": row, "bolt-circle": bolt_circle, "corners": corners, "grid": grid, "scattered": scattered}


def draw_group(page, view, group):
    """The holes with what is drawn around them. Returns round things that are no holes: (x, y, diameter, kind)."""
    rng, s = page.rng, view.scale
    extra = group.written.extra
    others = []
    thread_way = rng.choice(["arc", "arc", "circle", "none"]) if "major" in extra else None
    marks = rng.random() < 0.6
    for i, (x, y) in enumerate(group.spots):
        d = group.drawn[i] if group.drawn else group.size
        page.hole(x, y, d, group.layer, group.way)
        outer = d
        for kind in ("counterbore", "countersink"):
            if kind in extra and not extra.get("undrawn"):
                page.msp.add_circle((x, y), extra[kind] * s / 2, dxfattribs={"layer": group.layer})
                others.append((x, y, extra[kind] * s, kind))
                outer = extra[kind] * s
        if thread_way == "arc":
            page.msp.add_arc((x, y), extra["major"] * s / 2, 100, 10, dxfattribs={"layer": "THIN"})
        elif thread_way == "circle":
            page.msp.add_circle((x, y), extra["major"] * s / 2, dxfattribs={"layer": "THIN"})
            others.append((x, y, extra["major"] * s, "cosmetic-thread"))
        if marks:
            page.centre_mark(x, y, outer / 2)
        margin = 0.15 * page.height
        page.take(x - outer / 2 - margin, y - outer / 2 - margin, x + outer / 2 + margin, y + outer / 2 + margin)
    if thread_way:
        group.features.append(f"thread-drawn:{thread_way}")
    if group.pattern == "bolt-circle" and rng.random() < 0.8:
        cx = sum(x for x, _ in group.spots) / len(group.spots)
        cy = sum(y for _, y in group.spots) / len(group.spots)
        r = math.hypot(group.spots[0][0] - cx, group.spots[0][1] - cy)
        page.msp.add_circle((cx, cy), r, dxfattribs={"layer": "CENTER"})
        others.append((cx, cy, 2 * r, "pitch-circle"))
        group.pitch_circle = (cx, cy, 2 * r)
    return others


# -- views beside --------------------------------------------------------------------------------------------------


def side_view(page, view, thickness):
    """The part from below: a narrow rectangle with hidden lines at its holes."""
    h = page.height
    y1 = view.y0 - page.rng.uniform(9, 14) * h
    y0 = y1 - max(thickness, 0.8 * h)
    page.rectangle(view.x0, y0, view.x1, y1)
    page.take(view.x0, y0, view.x1, y1)
    for group in view.groups:
        for x, _ in group.spots:
            for edge in (x - group.size / 2, x + group.size / 2):
                page.line((edge, y0), (edge, y1), "HIDDEN")
    view.side = (y0, y1)


def back_view(page, view, x0, mirrored=True):
    """The same holes from behind, or as they are, at the same scale. Returns the view."""
    w = view.x1 - view.x0
    back = View(x0, view.y0, x0 + w, view.y1, view.scale, name="back" if mirrored else "again")
    page.rectangle(back.x0, back.y0, back.x1, back.y1)
    for group in view.groups:
        spots = [(round(x0 + (view.x1 - x if mirrored else x - view.x0), 4), y) for x, y in group.spots]
        twin = Group(spots, group.size, group.written, group.pattern, "circle", group.layer)
        back.groups.append(twin)
        for x, y in spots:
            page.hole(x, y, group.size, group.layer, "circle")
            page.take(x - group.size / 2, y - group.size / 2, x + group.size / 2, y + group.size / 2)
    return back


def detail_view(page, view, group, x0, y0, language, letter):
    """One hole again at a scale of its own, with its ring in the main view. Returns (view, other round things)."""
    rng, h = page.rng, page.height
    factor = rng.choice([2, 2, 4, 5])
    x, y = rng.choice(group.spots)
    ring = group.size * rng.uniform(1.6, 2.2)
    page.msp.add_circle((x, y), ring, dxfattribs={"layer": "THIN"})
    others = [(x, y, 2 * ring, "detail-ring")]
    page.text(letter, x + ring, y + ring, 1.2 * h, "TEXT")
    size = group.size * factor
    reach = 0.9 * size + 2 * h
    cx, cy = x0 + reach, y0 + reach
    detail = View(cx - reach, cy - reach, cx + reach, cy + reach, view.scale * factor, name="detail")
    if rng.random() < 0.5:
        page.msp.add_circle((cx, cy), reach, dxfattribs={"layer": "THIN"})
        others.append((cx, cy, 2 * reach, "detail-border"))
    else:
        page.line((cx - reach, cy + 0.7 * size), (cx + reach, cy + 0.7 * size))
    twin = Group([(cx, cy)], size, group.written, "single", "circle", group.layer)
    detail.groups.append(twin)
    page.hole(cx, cy, size, group.layer, "circle")
    page.take(cx - size / 2, cy - size / 2, cx + size / 2, cy + size / 2)
    ratio = view.scale * factor
    text = f"{ratio:g}:1" if ratio >= 1 else f"1:{1 / ratio:g}"
    lines = [f"{words.DETAIL[language]} {letter}", words.SCALE_NOTE[language].format(text)]
    width, tall = page.size_of(lines, 1.2 * h)
    page.words(lines, cx - width / 2, cy - reach - 1.5 * h - tall, 1.2 * h)
    page.take(cx - width / 2, cy - reach - 1.5 * h - tall, cx + width / 2, cy - reach)
    return detail, others


def section_view(page, view, x0, language):
    """A cut with hatching and no circles, with its bubbles at the main view. Returns other round things."""
    h = page.height
    w = 3 * h
    page.rectangle(x0, view.y0, x0 + w, view.y1)
    page.take(x0, view.y0, x0 + w, view.y1)
    if not page.old:
        hatch = page.msp.add_hatch(dxfattribs={"layer": "THIN"})
        hatch.set_pattern_fill("ANSI31", scale=h / 3)
        hatch.paths.add_polyline_path([(x0, view.y0), (x0 + w, view.y0), (x0 + w, view.y1), (x0, view.y1)], is_closed=True)
    for group in view.groups:
        for _, y in group.spots[:2]:
            for edge in (y - group.size / 2, y + group.size / 2):
                page.line((x0, edge), (x0 + w, edge))
    letter = "A"
    title = f"{words.SECTION[language]} {letter}-{letter}"
    page.words([title], x0 - h, view.y0 - 4 * h, 1.2 * h)
    x = (view.x0 + view.x1) / 2
    page.line((x, view.y0 - 3 * h), (x, view.y1 + 3 * h), "CENTER")
    others = []
    bubbles = page.rng.random() < 0.5
    for y in (view.y0 - 4.5 * h, view.y1 + 4.5 * h):
        page.take(x - 2 * h, y - 2 * h, x + 2 * h, y + 2 * h)
        if bubbles:
            page.msp.add_circle((x, y), 1.5 * h, dxfattribs={"layer": "DIM"})
            others.append((x, y, 3 * h, "section-bubble"))
        page.text(letter, x - 0.4 * h, y - 0.5 * h, h, "TEXT")
    return others


# -- what is no hole -----------------------------------------------------------------------------------------------


def outline_dimensions(page, view):
    """Sizes of the part, distances of holes, corner radii and a chamfer."""
    rng, h = page.rng, page.height
    style = {"dimtxt": h, "dimasz": h, "dimlfac": 1 / view.scale, "dimdec": 1 if page.unit == "mm" else 3, "dimzin": 8,
             "dimdsep": 44 if page.comma else 46}
    layer = {"layer": "DIM"}
    x0, y0, x1, y1 = view.x0, view.y0, view.x1, view.y1
    loose = rng.random() < 0.15

    def linear(**where):
        made = page.msp.add_linear_dim(override=style, dxfattribs=layer, **where).render()
        if loose:
            made.dimension.explode()

    if rng.random() < 0.8:
        linear(base=(x0, y1 + 4 * h), p1=(x0, y1), p2=(x1, y1))
        page.take((x0 + x1) / 2 - 3 * h, y1 + 3.2 * h, (x0 + x1) / 2 + 3 * h, y1 + 6 * h)
    if rng.random() < 0.8:
        linear(base=(x0 - 4 * h, y0), p1=(x0, y0), p2=(x0, y1), angle=90)
        page.take(x0 - 7 * h, (y0 + y1) / 2 - 1.5 * h, x0 - 2 * h, (y0 + y1) / 2 + 1.5 * h)
    for group in view.groups:
        if rng.random() < 0.35:
            x, y = group.spots[0]
            base = y0 - rng.uniform(2, 3) * h
            linear(base=(x0, base), p1=(x0, y0), p2=(x, y))
            page.take((x0 + x) / 2 - 2 * h, base - 0.5 * h, (x0 + x) / 2 + 2 * h, base + 1.5 * h)
        if rng.random() < 0.1 and not page.old:
            x, y = group.spots[-1]
            page.msp.add_ordinate_x_dim((x, y), (0, -(y - y0) - 4 * h), origin=(x0, y0), override=style, dxfattribs=layer).render()
    if view.shape == "rounded" and rng.random() < 0.8:
        c = 0.12 * min(x1 - x0, y1 - y0)
        if page.free(x1, y1, x1 + 8 * h, y1 + 4 * h):
            page.msp.add_radius_dim(center=(x1 - c, y1 - c), radius=c, location=(x1 + 2 * h, y1 + 2 * h), override=style,
                                    text=rng.choice(["<>", "<>", "R<>", "<> TYP"]), dxfattribs=layer).render()
            page.take(x1, y1, x1 + 8 * h, y1 + 4 * h)
    if view.shape == "chamfered" and rng.random() < 0.8:
        text = rng.choice(["2x45%%d", "4X 5X45%%d", "C5"])
        if page.free(x0 - 6 * h, y0 - 3 * h, x0, y0):
            page.text(text, x0 - 5 * h, y0 - 2 * h, h)
            page.take(x0 - 6 * h, y0 - 3 * h, x0, y0)


def balloons(page, view, number):
    """Item numbers in circles with a line to the part. Returns round things."""
    rng, h = page.rng, page.height
    others = []
    for item in range(1, number + 1):
        r = rng.choice([1.4, 1.6, 2.0]) * h
        place = page.find_place((view.x0 + view.x1) / 2, view.y1, 2 * r, 2 * r, 4 * h, 30 * h, [30, 60, 90, 120, 150])
        if not place:
            continue
        page.take(place[0], place[1], place[0] + 2 * r, place[1] + 2 * r)
        x, y = place[0] + r, place[1] + r
        page.msp.add_circle((x, y), r, dxfattribs={"layer": "DIM"})
        page.text(str(item), x - 0.4 * h, y - 0.5 * h, h)
        foot = (rng.uniform(view.x0, view.x1), view.y1 - rng.uniform(0.5, 3) * h)
        away = math.hypot(foot[0] - x, foot[1] - y)
        page.line((x + (foot[0] - x) * r / away, y + (foot[1] - y) * r / away), foot, "DIM")
        others.append((x, y, 2 * r, "balloon"))
    return others


def bend_lines(page, view):
    """Lines of a flat pattern with their notes."""
    h = page.height
    x = view.x0 + page.rng.uniform(0.3, 0.7) * (view.x1 - view.x0)
    page.line((x, view.y0), (x, view.y1), "CENTER")
    note = page.rng.choice(["BEND UP 90%%d R1.5", "UP 90%%d R 1.00", "DOWN 90%%d R 2", "BEND DN 90%%d .06R", "KANTEN 90%%d HOCH R2"])
    width, _ = page.size_of([note], h)
    y = view.y0 + 2 * h
    if page.free(x + 0.5 * h, y, x + 2.2 * h, y + width):
        page.text(note, x + 1.7 * h, y, h, rotation=90.0)
        page.take(x + 0.5 * h, y, x + 2.2 * h, y + width)


def construction(page, view):
    """Circles on a layer that is off or frozen. Returns round things."""
    x, y = (view.x0 + view.x1) / 2, (view.y0 + view.y1) / 2
    page.msp.add_circle((x, y), 3 * page.height, dxfattribs={"layer": page.rng.choice(["CONSTRUCTION", "OLD"])})
    return [(x, y, 6 * page.height, "hidden-layer")]
