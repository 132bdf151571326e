"""How a callout is carried to its holes. Each function draws one and returns the handles of what it drew, or none if it
does not fit on the sheet. `group` has `spots` (centres, drawn), `size` (drawn diameter) and `written`."""

import math

from ezdxf.math import Vec2
from ezdxf.render import mleader

from forms import render

OVERRIDE_KEYS = ("dimtxt", "dimasz", "dimexo", "dimexe", "dimgap")


def dimension_style(page, view, **more):
    h = page.height
    override = {"dimtxt": h, "dimasz": h, "dimexo": 0.3 * h, "dimexe": 0.5 * h, "dimgap": 0.4 * h, "dimtad": page.rng.choice([0, 1]),
                "dimlfac": 1.0 / view.scale, "dimtih": 1, "dimtoh": 1, "dimzin": 8 if page.unit == "mm" else 4}
    override.update(more)
    return override


def place_for(page, view, group, lines, height, far=False):
    """A hole of the group to point at, an angle, and a place for the text outside or inside the view."""
    width, tall = page.size_of(lines, height)
    spots = list(group.spots)
    page.rng.shuffle(spots)
    for x, y in spots[:3]:
        place = page.find_place(x, y, width, tall, group.size / 2 + 1.5 * height, (40 if far else 18) * height, of=view)
        if place:
            page.take(place[0], place[1], place[0] + width, place[1] + tall)
            group.box = (*place, width, tall)
            return (x, y), place, width, tall
    return None


def tip_towards(centre, size, target, page, sloppy=True):
    """The point of the rim that faces the target, a little off now and then."""
    angle = math.atan2(target[1] - centre[1], target[0] - centre[0])
    if sloppy:
        angle += page.rng.uniform(-0.5, 0.5)
    r = size / 2
    if sloppy and page.rng.random() < 0.15:
        r *= page.rng.uniform(0.97, 1.04)
    if page.hard and page.rng.random() < 0.4:
        r = max(0.2 * r, r + page.rng.uniform(-0.8, 1.2) * page.height)
    return centre[0] + r * math.cos(angle), centre[1] + r * math.sin(angle)


def tail_of(tip, place, width, tall, height):
    """End of a leader at the text: at its side, half a letter away, middle of the first line."""
    x0, y0 = place
    left = tip[0] < x0 + width / 2
    x = x0 - 0.5 * height if left else x0 + width + 0.5 * height
    return (x, y0 + tall - 0.5 * height), left


def leader(page, view, group):
    """LEADER and MTEXT, with or without an annotation handle, sometimes with a stray vertex."""
    h = page.letter()
    lines = group.written.lines
    found = place_for(page, view, group, lines, h, far=page.rng.random() < 0.3)
    if not found:
        return None
    centre, place, width, tall = found
    tail, left = tail_of(centre, place, width, tall, h)
    text = page.mtext(lines, place[0] if left else place[0] + width, place[1] + tall, h, 1 if left else 3)
    tip = tip_towards(centre, group.size, tail, page)
    bend = (tail[0] - h, tail[1]) if left else (tail[0] + h, tail[1])
    points = [tip, bend, tail] if page.rng.random() < 0.8 else [tip, tail]
    if page.rng.random() < 0.12:
        group.features.append("leader:stray-vertex")
        points.append((0.0, 0.0))
    entity = page.msp.add_leader(points, override={"dimasz": h, "dimscale": 1}, dxfattribs={"layer": "DIM"})
    if page.rng.random() < 0.5:
        group.features.append("leader:annotation-handle")
        entity.dxf.annotation_handle = text.dxf.handle
        entity.dxf.annotation_type = 0
    else:
        entity.dxf.annotation_type = 3
    return [text.dxf.handle, entity.dxf.handle]


def texts_at_a_tail(page, view, group):
    """Single lines of TEXT and where a leader runs from them: letter height, texts, tip, tail, and whether it leaves to the left."""
    h = page.letter()
    lines = group.written.lines
    found = place_for(page, view, group, lines, h)
    if not found:
        return None
    centre, place, width, tall = found
    tail, left = tail_of(centre, place, width, tall, h)
    texts = page.texts(lines, place[0] if left else place[0] + width, place[1], h, right=not left)
    return h, texts, tip_towards(centre, group.size, tail, page), tail, left


def paper_leader(page, view, group):
    """A leader and its text on the paper, the tip where the viewport shows the hole."""
    h = page.height
    lines = group.written.lines
    scale, mx, my, px, py = view.port
    # The text is as high on the paper as any, and so takes more or less of the model.
    found = place_for(page, view, group, lines, h / scale)
    if not found:
        return None
    centre, place, width, tall = found
    shown = lambda p: (px + scale * (p[0] - mx), py + scale * (p[1] - my))
    tail, left = tail_of(centre, place, width, tall, h / scale)
    tip = tip_towards(centre, group.size, tail, page)
    page.enter_paper(scale)
    corner = shown((place[0] if left else place[0] + width, place[1] + tall))
    text = page.mtext(lines, corner[0], corner[1], h, 1 if left else 3)
    points = [shown(tip), shown(tail)]
    handles = [text.dxf.handle]
    if page.rng.random() < 0.6:
        entity = page.msp.add_leader(points, override={"dimasz": h}, dxfattribs={"layer": "DIM"})
        entity.dxf.annotation_type = 3
        handles.append(entity.dxf.handle)
    else:
        page.line(points[0], points[1], "DIM")
        page.arrow(points[0], points[1], h)
    page.leave_paper()
    return handles


def leader_texts(page, view, group):
    """LEADER to single lines of TEXT."""
    found = texts_at_a_tail(page, view, group)
    if not found:
        return None
    h, texts, tip, tail, _ = found
    entity = page.msp.add_leader([tip, tail], override={"dimasz": h}, dxfattribs={"layer": "DIM"})
    entity.dxf.annotation_type = 3
    return [t.dxf.handle for t in texts] + [entity.dxf.handle]


def loose_leader(page, view, group):
    """Lines with an arrow head and single texts: a leader of R12, or exploded."""
    found = texts_at_a_tail(page, view, group)
    if not found:
        return None
    h, texts, tip, tail, left = found
    bend = (tail[0] - h, tail[1]) if left else (tail[0] + h, tail[1])
    page.line(tip, bend, "DIM")
    page.line(bend, tail, "DIM")
    page.arrow(tip, bend, h)
    return [t.dxf.handle for t in texts]


def multileader(page, view, group):
    h = page.letter()
    lines = group.written.lines
    found = place_for(page, view, group, lines, h)
    if not found:
        return None
    centre, place, width, tall = found
    content = "\\P".join(render(line, page.sign_mtext, True, page.rng) for line in lines)
    left = centre[0] < place[0] + width / 2
    builder = page.msp.add_multileader_mtext("Standard", dxfattribs={"layer": "DIM"})
    builder.set_content(content, char_height=h, alignment=mleader.TextAlignment.left if left else mleader.TextAlignment.right)
    middle = (place[0] if left else place[0] + width, place[1] + tall / 2)
    tip = tip_towards(centre, group.size, middle, page)
    first = Vec2(middle) - Vec2(tip) - Vec2((h if left else -h, 0))
    builder.quick_leader(content, target=Vec2(tip), segment1=first, segment2=Vec2((h if left else -h, 0)))
    return [builder.multileader.dxf.handle]


def diameter_dimension(page, view, group, exploded=None):
    """DIMENSION of diameter: measured text, `<>` in an override, an override of all, or tolerances of its style."""
    rng, written = page.rng, group.written
    h = page.height
    lines = list(written.lines)
    override = dimension_style(page, view)
    text = "<>"
    pieces = written.pieces
    measured = not group.drawn and pieces.get("text") and not pieces["replaced"] and written.truth.get("nominal_mm") is not None
    comma = page.comma
    places = len(pieces["text"].replace(",", ".").partition(".")[2]) if measured else 3
    override.update(dimdec=places, dimtdec=max(places, 2 if page.unit == "mm" else 3), dimzin=8 if page.unit == "mm" else 4)
    if page.unit == "mm" and pieces.get("text", "").endswith("0"):
        override["dimzin"] = 0
    override["dimdsep"] = 44 if comma else 46  # else the library draws a comma of its own in the oldest release
    sign = page.sign_text if page.old else page.sign_mtext
    head = "§" + pieces.get("text", "\0")
    if not measured or len(lines) > 1 or head not in lines[0].replace("§ ", "§") or rng.random() < 0.35:
        group.features.append("dimension:override")
        text = (" " if page.old else "\\P").join(render(line, sign, not page.old, rng) for line in lines)
    else:
        first = lines[0].replace("§ ", "§")
        limits = pieces["limits"]
        plain_tail = written.truth.get("tolerance_source") == "callout" and pieces["after"] and "H" not in pieces["after"]
        if plain_tail and first.endswith(pieces["after"]) and not page.old and rng.random() < 0.5:
            # The style shows the tolerance.
            group.features.append("dimension:style-tolerance")
            up, low = limits[1] - pieces["nominal"], pieces["nominal"] - limits[0]
            override.update(dimtol=1, dimtp=up, dimtm=low)
            first = first.replace(head + pieces["after"], "<>")
        else:
            first = first.replace(head, "<>")
        group.features.append("dimension:measured")
        text = render(first, sign, not page.old, rng)
    width, tall = page.size_of(lines, h)
    spots = list(zip(group.spots, group.drawn or [group.size] * len(group.spots)))
    rng.shuffle(spots)
    for (x, y), size in spots[:3]:
        place = page.find_place(x, y, width, tall, size / 2 + 1.5 * h, 14 * h, of=view)
        if place:
            break
    else:
        return None
    page.take(place[0], place[1], place[0] + width, place[1] + tall)
    middle = (place[0] + width / 2, place[1] + tall / 2)
    angle = math.degrees(math.atan2(middle[1] - y, middle[0] - x))
    kwargs = dict(center=(x, y), radius=size / 2, angle=angle, text=text, override=override, dxfattribs={"layer": "DIM"})
    if rng.random() < 0.7:
        kwargs["location"] = middle
        del kwargs["angle"]
        kwargs["angle"] = angle
    dim = page.msp.add_diameter_dim(**kwargs)
    dim.render()
    entity = dim.dimension
    if exploded == "block":
        name = entity.dxf.geometry
        insert = page.msp.add_blockref(name, (0, 0), dxfattribs={"layer": "DIM"})
        copy_block(page, name, insert)
        page.msp.delete_entity(entity)
        return [insert.dxf.handle] + [e.dxf.handle for e in page.doc.blocks.get(insert.dxf.name)]
    if exploded == "loose":
        query = entity.explode()
        return [e.dxf.handle for e in query]
    return [entity.dxf.handle]


def dimension_text(page, lines):
    """All lines in the codes of a dimension's text, which has one line only in old releases."""
    if page.old:
        return " ".join(render(line, page.sign_text, False, page.rng) for line in lines)
    return "\\P".join(render(line, page.sign_mtext, True, page.rng) for line in lines)


def copy_block(page, name, insert):
    """An anonymous dimension block under a name of its own, as exploding to a block leaves it."""
    target = f"DIMBLOCK{len(page.doc.blocks)}"
    block = page.doc.blocks.new(target)
    for entity in page.doc.blocks.get(name):
        if entity.dxftype() != "POINT":
            block.add_entity(entity.copy())
    insert.dxf.name = target


def dimension_block(page, view, group):
    return diameter_dimension(page, view, group, "block")


def dimension_loose(page, view, group):
    return diameter_dimension(page, view, group, "loose")


def radius_dimension(page, view, group):
    """A radius dimension whose override states the hole."""
    h = page.height
    lines = group.written.lines
    width, tall = page.size_of(lines, h)
    k = page.rng.randrange(len(group.spots))
    x, y = group.spots[k]
    size = group.drawn[k] if group.drawn else group.size
    place = page.find_place(x, y, width, tall, group.size / 2 + 1.5 * h, 14 * h, of=view)
    if not place:
        return None
    page.take(place[0], place[1], place[0] + width, place[1] + tall)
    text = dimension_text(page, lines)
    dim = page.msp.add_radius_dim(center=(x, y), radius=size / 2, location=(place[0] + width / 2, place[1] + tall / 2),
                                  text=text, override=dimension_style(page, view), dxfattribs={"layer": "DIM"})
    dim.render()
    return [dim.dimension.dxf.handle]


def beside(page, view, group):
    """Plain text close to one hole of the group, nearer to it than to any other hole of the view."""
    h = page.letter()
    lines = group.written.lines
    width, tall = page.size_of(lines, h)
    spots = list(group.spots)
    page.rng.shuffle(spots)
    for x, y in spots:
        for _ in range(12):
            place = page.find_place(x, y, width, tall, group.size / 2 + 0.4 * h, group.size / 2 + (5.0 if page.hard else 2.0) * h, [0, 90, 180, 270, 45], gap=0.3 * h)
            if not place:
                break
            box = (place[0], place[1], place[0] + width, place[1] + tall)
            own = distance(box, x, y) - group.size / 2
            others = [distance(box, *spot) - other.size / 2 for other in view.groups for spot in other.spots
                      if (other is not group)]
            clear = all(o > 1.2 * own for o in others) if page.hard else own <= 2.5 * h and all(o > max(2.0 * own, 2.5 * h) for o in others)
            if clear:
                page.take(*box)
                if page.old or page.rng.random() < 0.6:
                    return [t.dxf.handle for t in page.texts(lines, place[0], place[1], h)]
                return [page.mtext(lines, place[0], place[1] + tall, h, 1).dxf.handle]
    return None


def split(page, view, group):
    """A loose leader whose callout is cut into several texts, the tolerance as two small ones."""
    written, rng = group.written, page.rng
    pieces = written.pieces
    h = page.letter()
    if not pieces.get("text") or pieces["replaced"] or len(written.lines) > 1 or "[S|" not in pieces["after"]:
        return loose_leader(page, view, group)
    found = place_for(page, view, group, written.lines, h)
    if not found:
        return None
    group.features.append("split:stacked-texts")
    centre, place, width, tall = found
    before, _, after = written.lines[0].partition(pieces["after"])
    stack = pieces["after"].strip()[3:-1].split("|")
    # Widths as the simple stroke font has them, so that nothing overlaps.
    step = lambda t, height: 0.95 * height * len(t.replace("%%c", "Ø"))
    x, y = place
    handles = []
    for piece, dx, dy, height in ((before, 0.0, 0.0, h), (stack[0], None, 0.55 * h, 0.6 * h), (stack[1], None, -0.25 * h, 0.6 * h)):
        at = x if dx == 0.0 else x + step(before, h) + 0.2 * h
        handles.append(page.text(piece.strip(), at, y + dy, height).dxf.handle)
    end = x + step(before, h) + 0.2 * h + max(step(s, 0.6 * h) for s in stack)
    if after.strip():
        end += 0.5 * h + step(after.strip(), h)
        at = x + step(before, h) + 0.2 * h + max(step(s, 0.6 * h) for s in stack) + 0.5 * h
        handles.append(page.text(after.strip(), at, y, h).dxf.handle)
    tail, left = tail_of(centre, place, end - place[0], tall, h)
    tip = tip_towards(centre, group.size, tail, page)
    page.line(tip, tail, "DIM")
    page.arrow(tip, tail, h)
    return handles


def attributes(page, view, group):
    """A block with the callout as attribute, on one hole: a count speaks for the others."""
    h = 0.8 * page.height
    name = f"CALLOUT{len(page.doc.blocks)}"
    block = page.doc.blocks.new(name)
    block.add_attdef("CALLOUT", (group.size / 2 + 0.5 * h, 0), dxfattribs={"height": h})
    block.add_line((-0.6 * group.size, 0), (0.6 * group.size, 0), dxfattribs={"layer": "CENTER"})
    block.add_line((0, -0.6 * group.size), (0, 0.6 * group.size), dxfattribs={"layer": "CENTER"})
    text = render(" ".join(group.written.lines), page.sign_text, False, page.rng)
    handles = []
    for x, y in group.spots[:1]:
        insert = page.msp.add_blockref(name, (x, y), dxfattribs={"layer": "TEXT"})
        attrib = insert.add_attrib("CALLOUT", text, (x + group.size / 2 + 0.5 * h, y), dxfattribs={"height": h, "layer": "TEXT"})
        handles += [insert.dxf.handle, attrib.dxf.handle]
    return handles


def side_dimension(page, view, group):
    """A linear dimension with a diameter sign across the hole in the side view below."""
    side = view.side
    if side is None:
        return None
    h = page.height
    x = group.spots[0][0]
    y0, y1 = side
    text = dimension_text(page, group.written.lines)
    width, tall = page.size_of(group.written.lines, h)
    at = y0 - 2.5 * h - tall
    if not page.free(x - width / 2, at, x + width / 2, at + 2 * tall):
        return None
    page.take(x - width / 2, at, x + width / 2, at + 2 * tall)
    pieces = group.written.pieces
    dim = page.msp.add_linear_dim(base=(x, at + h / 2), p1=(x - group.size / 2, y0), p2=(x + group.size / 2, y0),
                                  text=text, override=dimension_style(page, view), dxfattribs={"layer": "DIM"})
    dim.render()
    return [dim.dimension.dxf.handle]


def distance(box, x, y):
    dx = max(box[0] - x, 0.0, x - box[2])
    dy = max(box[1] - y, 0.0, y - box[3])
    return math.hypot(dx, dy)


# Carrier, how often, whether old files have it, whether one callout speaks for several holes.
CARRIERS = {
    "leader": (leader, 10, False), "leader-texts": (leader_texts, 3, False), "loose-leader": (loose_leader, 5, True),
    "multileader": (multileader, 6, False), "dimension": (diameter_dimension, 10, True),
    "dimension-block": (dimension_block, 2, True), "dimension-loose": (dimension_loose, 3, True),
    "radius-dimension": (radius_dimension, 1, True), "beside": (beside, 5, True), "split": (split, 3, True),
    "attributes": (attributes, 2, True), "side-dimension": (side_dimension, 3, True), "paper-leader": (paper_leader, 12, False),
}
