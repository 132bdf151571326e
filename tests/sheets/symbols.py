"""What stands on a released drawing beside holes and their callouts: feature control frames, slots, signs of surface
and weld, datum letters, sizes of pitch circles, zones of the frame, and a view in isometric projection. None of it is a
hole, and none of its texts calls one out."""

import math

from ezdxf.enums import TextEntityAlignment

# Each with its share of the drawings.
SHARES = [("feature-frame", 0.2), ("slot", 0.2), ("surface-sign", 0.12), ("weld-sign", 0.08), ("datum", 0.12), ("pitch-circle-size", 0.5),
          ("zones", 0.15), ("isometric", 0.06), ("reference-size", 0.1)]


def draw_all(page, sheet_views, language, frame_box):
    """Draws some. Returns round things that are no holes, and the features that the drawing has."""
    others, features = [], []
    for name, share in SHARES:
        if page.rng.random() < share:
            made = DRAW[name](page, sheet_views, language, frame_box)
            if made is not None:
                others += made
                features.append(f"distractor:{name}")
    return others, features


def feature_frame(page, sheet_views, language, frame_box):
    """A position tolerance under a callout: the entity, or cells of lines with texts, or both words and lines in one."""
    rng, h = page.rng, page.height
    boxes = [g.box for v in sheet_views for g in v.groups if getattr(g, "box", None) and v.port is None]
    rng.shuffle(boxes)
    size = rng.choice(["0.1", "0.2", "0.25", "0.5"]) if page.unit == "mm" else rng.choice([".005", ".010", ".014"])
    cells = [("⌖", 2.0), (f"§{size}" + rng.choice(["", " Ⓜ", "Ⓜ"]), 6.5)] + [(letter, 2.0) for letter in "ABC"[: rng.randint(1, 3)]]
    wide = sum(w for _, w in cells) * h
    for x, y, _, _ in boxes:
        y0 = y - 2.6 * h
        if not page.free(x, y0, x + wide, y0 + 2 * h, 0.1 * h):
            continue
        page.take(x, y0, x + wide, y0 + 2 * h)
        if not page.old and rng.random() < 0.4:
            content = "{\\Fgdt;j}%%v{\\Fgdt;n}" + size + "{\\Fgdt;m}" + "".join(f"%%v{letter}" for letter, _ in cells[2:])
            page.msp.new_entity("TOLERANCE", {"insert": (x, y0 + h), "content": content, "x_axis_vector": (1, 0, 0), "layer": "DIM"})
            return []
        for text, w in cells:
            page.rectangle(x, y0, x + w * h, y0 + 2 * h, "DIM")
            if text == "⌖" and (page.old or rng.random() < 0.5):
                if rng.random() < 0.5:
                    page.text("j", x + 0.5 * h, y0 + 0.5 * h, h, "DIM")  # of a symbol font
                else:
                    page.line((x + 0.4 * h, y0 + h), (x + 1.6 * h, y0 + h), "DIM")
                    page.line((x + h, y0 + 0.4 * h), (x + h, y0 + 1.6 * h), "DIM")
            else:
                page.text(text if not page.old else text.replace("Ⓜ", "M"), x + 0.4 * h, y0 + 0.5 * h, h, "DIM")
            x += w * h
        return []
    return None


def inside_free(page, view, width, tall):
    """Lower left corner of a free box inside of a view, or none."""
    for _ in range(40):
        x = page.rng.uniform(view.x0, view.x1 - width)
        y = page.rng.uniform(view.y0, view.y1 - tall)
        c = 0.16 * min(view.x1 - view.x0, view.y1 - view.y0)
        clear = view.x0 + c < x and x + width < view.x1 - c and view.y0 + c < y and y + tall < view.y1 - c
        if view.shape == "disc":
            mx, my, r = (view.x0 + view.x1) / 2, (view.y0 + view.y1) / 2, (view.x1 - view.x0) / 2
            clear = all(math.hypot(a - mx, b - my) < 0.9 * r for a in (x, x + width) for b in (y, y + tall))
        if clear and page.free(x, y, x + width, y + tall, 0.5 * page.height):
            page.take(x, y, x + width, y + tall)
            return x, y
    return None


def slot(page, sheet_views, language, frame_box):
    """Slots of lines and arcs or of one polyline, with what is written at them."""
    rng, h = page.rng, page.height
    view = rng.choice(sheet_views)
    wide = rng.uniform(1.2, 3.0) * h
    long = wide * rng.uniform(1.6, 4)
    r, layer = wide / 2, {"layer": "OUTLINE"}
    places = []
    for _ in range(rng.choice([1, 2, 2, 4])):
        corner = inside_free(page, view, long, wide)
        if corner is None:
            break
        a, b, y = corner[0] + r, corner[0] + long - r, corner[1] + r
        places.append((a, b, y))
        if rng.random() < 0.5 and not page.old:
            page.msp.add_lwpolyline([(a, y - r, 0), (b, y - r, 1), (b, y + r, 0), (a, y + r, 1)], format="xyb", close=True, dxfattribs=layer)
        else:
            page.msp.add_arc((a, y), r, 90, 270, dxfattribs=layer)
            page.msp.add_arc((b, y), r, 270, 90, dxfattribs=layer)
            for edge in (y - r, y + r):
                page.line((a, edge), (b, edge))
    if not places:
        return None
    say = lambda v: f"{v / view.scale:.1f}" if page.unit == "mm" else f"{v / view.scale:.3f}".lstrip("0")
    count = f"{len(places)}X " if len(places) > 1 else ""
    word = {"de": "LANGLOCH", "fr": "OBLONG", "it": "ASOLA", "es": "RANURA", "zh": "长圆孔", "ja": "長穴"}.get(language, rng.choice(["SLOT", "OBROUND"]))
    line = rng.choice([f"{count}{say(wide)} X {say(long)} {word}", f"{count}{word} {say(wide)} X {say(long)}", f"{count}FULL R", f"{count}R{say(r)}"])
    a, b, y = places[-1]
    width, tall = page.size_of([line], h)
    place = page.find_place(b, y, width, tall, r + 2 * h, 25 * h, of=view)
    if place:
        page.take(place[0], place[1], place[0] + width, place[1] + tall)
        left = b < place[0] + width / 2
        page.text(line, place[0] if left else place[0] + width, place[1], h, align=None if left else TextEntityAlignment.RIGHT)
        tail = (place[0] - 0.5 * h if left else place[0] + width + 0.5 * h, place[1] + 0.5 * h)
        tip = (b + r * math.cos(0.5), y + r * math.sin(0.5))
        page.msp.add_leader([tip, tail], override={"dimasz": h}, dxfattribs={"layer": "DIM"}) if not page.old else page.line(tip, tail, "DIM")
    return []


def surface_sign(page, sheet_views, language, frame_box):
    """The sign of ISO 21920-1 for surfaces that must not be machined: a V with a circle in it, as block or loose."""
    rng, h = page.rng, page.height
    view = rng.choice(sheet_views)
    x, y = rng.uniform(view.x0 + 0.2 * (view.x1 - view.x0), view.x1 - 0.4 * (view.x1 - view.x0)), view.y1
    if view.shape == "disc" or not page.free(x - 2 * h, y + 0.05 * h, x + 7 * h, y + 4 * h):
        return None
    page.take(x - 2 * h, y, x + 7 * h, y + 4 * h)
    slope, up = math.tan(math.radians(60)), 1.4 * h
    # A circle of radius r that touches both legs of a V of 60 degrees stands 2 r above its foot.
    r = up / 3
    block = rng.random() < 0.5
    if block and "SURFACE" not in page.doc.blocks:
        page.doc.blocks.new("SURFACE")
    into = page.doc.blocks.get("SURFACE") if block else page.msp
    ox, oy = (0.0, 0.0) if block else (x, y)
    attributes = {"layer": "0" if block else "DIM"}
    into.add_line((ox, oy), (ox - up / slope, oy + up), dxfattribs=attributes)
    into.add_line((ox, oy), (ox + 2 * up / slope, oy + 2 * up), dxfattribs=attributes)
    into.add_line((ox + 2 * up / slope, oy + 2 * up), (ox + 2 * up / slope + 4 * h, oy + 2 * up), dxfattribs=attributes)
    into.add_circle((ox, oy + 2 * r), r, dxfattribs=attributes)
    if block:
        page.msp.add_blockref("SURFACE", (x, y), dxfattribs={"layer": "DIM"})
    page.text(rng.choice(["Ra 3.2", "Ra 6,3", "12.5"]), x + 2 * up / slope + 0.2 * h, y + 2 * up + 0.3 * h, 0.8 * h)
    return [(x, y + 2 * r, 2 * r, "surface-sign")]


def weld_sign(page, sheet_views, language, frame_box):
    """A weld all around: a circle on the bend of the arrow line (ISO 2553)."""
    rng, h = page.rng, page.height
    view = rng.choice(sheet_views)
    tip = (view.x0, rng.uniform(view.y0 + 0.3 * (view.y1 - view.y0), view.y0 + 0.7 * (view.y1 - view.y0)))
    bend, end = (tip[0] - 9 * h, tip[1] + 5 * h), (tip[0] - 18 * h, tip[1] + 5 * h)
    if view.shape in ("disc", "hexagon") or not page.free(end[0], tip[1], tip[0] - 0.1 * h, bend[1] + 2 * h):
        return None
    page.take(end[0], tip[1], tip[0], bend[1] + 2 * h)
    if page.old or rng.random() < 0.4:
        page.line(tip, bend, "DIM")
        page.line(bend, end, "DIM")
        page.arrow(tip, bend, h)
    else:
        page.msp.add_leader([tip, bend, end], override={"dimasz": h}, dxfattribs={"layer": "DIM"})
    page.msp.add_circle(bend, 0.6 * h, dxfattribs={"layer": "DIM"})
    page.text(rng.choice(["a3", "z4", "3", "111"]), end[0] + 2 * h, end[1] + 0.3 * h, h)
    x = end[0] + 5 * h
    for a, b in (((x, end[1]), (x, end[1] + h)), ((x, end[1] + h), (x + h, end[1]))):
        page.line(a, b, "DIM")
    return [(bend[0], bend[1], 1.2 * h, "weld-sign")]


def datum(page, sheet_views, language, frame_box):
    """A letter in a box on a filled triangle at the edge."""
    rng, h = page.rng, page.height
    view = rng.choice(sheet_views)
    x, y = rng.uniform(view.x0 + 3 * h, view.x1 - 3 * h), view.y0
    if view.shape == "disc" or not page.free(x - h, y - 4.2 * h, x + h, y - 0.1 * h):
        return None
    page.take(x - h, y - 4.2 * h, x + h, y)
    page.msp.add_solid([(x - 0.6 * h, y - h), (x + 0.6 * h, y - h), (x, y), (x, y)], dxfattribs={"layer": "DIM"})
    page.line((x, y - h), (x, y - 2.2 * h), "DIM")
    page.rectangle(x - h, y - 4.2 * h, x + h, y - 2.2 * h, "DIM")
    page.text(rng.choice("ABC"), x - 0.4 * h, y - 3.7 * h, h)
    return []


def pitch_circle_size(page, sheet_views, language, frame_box):
    """The diameter of a drawn pitch circle, as dimension or as text."""
    rng, h = page.rng, page.height
    for view in sheet_views:
        for group in view.groups:
            if not getattr(group, "pitch_circle", None) or view.port is not None:
                continue
            cx, cy, d = group.pitch_circle
            value = d / view.scale
            size = f"{value:.1f}" if page.unit == "mm" else f"{value:.3f}".lstrip("0")
            forms = {"de": ["LK §{}", "TK §{}", "§{} LOCHKREIS"], "en": ["§{} B.C.", "§{} PCD", "PCD {}", "§{} BOLT CIRCLE"]}
            line = rng.choice(forms.get(language, ["§{} PCD", "PCD {}"])).format(size)
            angle = rng.choice([15, 75, 105, 165, 200, 260, 300])
            if rng.random() < 0.4 and not page.old:
                style = {"dimtxt": h, "dimasz": h, "dimlfac": 1 / view.scale, "dimdec": 1 if page.unit == "mm" else 3, "dimzin": 8}
                made = page.msp.add_diameter_dim(center=(cx, cy), radius=d / 2, angle=angle, override=style, text=rng.choice(["<>", "<> BC", "(<>)"]),
                                                 dxfattribs={"layer": "DIM"})
                made.render()
                return []
            width, tall = page.size_of([line], h)
            tip = (cx + d / 2 * math.cos(math.radians(angle)), cy + d / 2 * math.sin(math.radians(angle)))
            place = page.find_place(tip[0], tip[1], width, tall, 2 * h, 18 * h, of=view)
            if place is None:
                return None
            page.take(place[0], place[1], place[0] + width, place[1] + tall)
            left = tip[0] < place[0] + width / 2
            page.text(line, place[0] if left else place[0] + width, place[1], h, align=None if left else TextEntityAlignment.RIGHT)
            page.line(tip, (place[0] - 0.5 * h if left else place[0] + width + 0.5 * h, place[1] + 0.5 * h), "DIM")
            page.arrow(tip, (place[0] if left else place[0] + width, place[1]), h)
            return []
    return None


def zones(page, sheet_views, language, frame_box):
    """Letters and numbers along the frame."""
    if frame_box is None:
        return None
    h = page.height
    x0, y0, x1, y1 = frame_box
    for i in range(8):
        x = x0 + (i + 0.5) * (x1 - x0) / 8
        for y in (y0 - 1.5 * h, y1 + 0.5 * h):
            page.text(str(8 - i), x, y, h, "FRAME")
    for i in range(6):
        y = y0 + (i + 0.5) * (y1 - y0) / 6
        for x in (x0 - 1.5 * h, x1 + 0.5 * h):
            page.text("FEDCBA"[5 - i], x, y, h, "FRAME")
    page.rectangle(x0 - 2 * h, y0 - 2 * h, x1 + 2 * h, y1 + 2 * h, "FRAME")
    return []


def isometric(page, sheet_views, language, frame_box):
    """The part once more in isometric projection, above the sheet's right end: holes as ellipses."""
    if page.old:
        return None
    view, h = sheet_views[0], page.height
    right = max(v.x1 for v in sheet_views)
    top = max(v.y1 for v in sheet_views)
    c, s, k = math.cos(math.radians(30)), math.sin(math.radians(30)), 0.35

    def shown(x, y):
        x, y = (x - view.x0) * k, (y - view.y0) * k
        return right + 3 * h + (x + y) * c, top + 22 * h + (y - x) * s

    width, tall = (view.x1 - view.x0) * k, (view.y1 - view.y0) * k
    box = (right + 3 * h, top + 22 * h - width * s, right + 3 * h + (width + tall) * c, top + 22 * h + tall * s)
    if not page.free(*box, h):
        return None
    page.take(*box)
    corners = [(view.x0, view.y0), (view.x1, view.y0), (view.x1, view.y1), (view.x0, view.y1)]
    page.polygon([shown(*p) for p in corners])
    for group in view.groups:
        for x, y in group.spots:
            # ISO 5456-3: the long axis of a circle on the upper face lies across, 1.22 d, the short one 0.7 d.
            page.msp.add_ellipse(shown(x, y), (0.6124 * group.size * k, 0), ratio=0.5774, dxfattribs={"layer": "OUTLINE"})
    return []


def reference_size(page, sheet_views, language, frame_box):
    """Sizes of the part's edge and of formed features that carry a diameter sign or a thread and speak of no hole."""
    rng, h = page.rng, page.height
    view = rng.choice(sheet_views)
    line = rng.choice(["EMBOSS PART NO. HERE", "4X R3 MAX", "2X 45%%d", "SEE NOTE 3", "GRAIN", "(25.4)", "2X FLANGE 12 HIGH"])
    width, tall = page.size_of([line], h)
    place = page.find_place(view.x1, view.y0, width, tall, 3 * h, 25 * h, [-30, -60, 0])
    if place is None:
        return None
    page.take(place[0], place[1], place[0] + width, place[1] + tall)
    page.text(line, place[0], place[1], h)
    return []


DRAW = {"feature-frame": feature_frame, "slot": slot, "surface-sign": surface_sign, "weld-sign": weld_sign, "datum": datum,
        "pitch-circle-size": pitch_circle_size, "zones": zones, "isometric": isometric, "reference-size": reference_size}
