"""Hole tables and the tags beside the circles."""

import words
from forms import render

LETTERS = "ABCDEFGHJKLMNP"
FORMS = [("grid", 5), ("bare", 3), ("entity", 2), ("blocks", 1), ("headless", 1), ("headless-blocks", 1)]


def plan(page, groups):
    """Gives each group its tags, and the tag text of its row. None if there are too many groups."""
    rng = page.rng
    schemes = ["letter", "letter", "letter-range", "letter-range", "numbers"]
    if not any(in_words(group) for group in groups):
        schemes.append("single-rows")  # whole callouts with their counts do not stand in a row for one hole
    scheme = rng.choice(schemes)
    number = 1
    if len(groups) > len(LETTERS):
        return None
    for i, group in enumerate(groups):
        n, letter = len(group.spots), LETTERS[i]
        if scheme == "letter":
            group.tags, group.row = [letter] * n, letter
        elif scheme in ("letter-range", "single-rows"):
            group.tags = [f"{letter}{k + 1}" for k in range(n)]
            group.row = group.tags[0] if n == 1 else rng.choice([f"{letter}1-{letter}{n}", ", ".join(group.tags), f"{letter}1 - {letter}{n}"])
        else:
            group.tags = [str(number + k) for k in range(n)]
            group.row = group.tags[0] if n == 1 else rng.choice([f"{number} to {number + n - 1}", f"{number}-{number + n - 1}", ", ".join(group.tags)])
            number += n
        group.features.append("table-tags:" + scheme)
    return scheme


def in_words(group):
    """Whether only a column of whole callouts can hold it."""
    written = group.written
    return len(written.lines) > 1 or not (written.pieces.get("text") or written.pieces.get("thread"))


def draw_tags(page, groups):
    """Small texts beside the circles."""
    h = 0.8 * page.height
    for group in groups:
        for (x, y), tag in zip(group.spots, group.tags):
            width = page.width_of(tag, h)
            place = page.find_place(x, y, width, h, group.size / 2 + 0.3 * h, group.size / 2 + 1.2 * h, [45, 45, 135, 315, 225, 0], gap=0.1 * h)
            if not place:
                return False
            page.take(place[0], place[1], place[0] + width, place[1] + h)
            page.text(tag, place[0], place[1], h)
    return True


def rows_of(page, view, groups, style, scheme, headless):
    """Column keys and rows; each row knows its group and, in single rows, its hole."""
    rng = page.rng
    with_words = scheme != "single-rows" and rng.random() < 0.35 or any(in_words(group) for group in groups)
    with_places = scheme == "single-rows" or (scheme == "letter" and all(len(g.spots) == 1 for g in groups) and rng.random() < 0.5)
    with_quantity = not with_places and rng.random() < 0.75
    columns = ["tag"]
    if with_quantity and rng.random() < 0.4:
        columns.append("qty")
    columns += ["words"] if with_words else ["size"]
    if not with_words:
        if any(g.written.pieces.get("depth") for g in groups):
            columns.append("depth")
        if any(g.written.pieces.get("thread") for g in groups):
            columns.append("thread")
    if with_quantity and "qty" not in columns:
        columns.append("qty")
    if with_places:
        columns[1:1] = ["x", "y"]
    rows = []
    for group in groups:
        spots = range(len(group.spots)) if scheme == "single-rows" else [None]
        for k in spots:
            x, y = group.spots[k or 0]
            pieces = group.written.pieces
            p = 2 if page.unit == "mm" else 3
            size = ""
            if pieces.get("text"):
                size = ("" if pieces["replaced"] else rng.choice(["§", "§", ""]) + pieces["text"]) + pieces["after"]
                if headless and not size.startswith("§"):
                    size = "§" + size  # nothing else says that it is one
                if pieces["replaced"]:
                    size = "§" + pieces["after"]
                if "depth" not in columns or not pieces.get("depth"):
                    size += pieces.get("end", "")
            cells = {
                "tag": group.tags[k] if k is not None else group.row,
                "qty": str(len(group.spots)),
                "size": size,
                "depth": pieces.get("depth", ""),
                "thread": pieces.get("thread", ""),
                "words": " ".join(group.written.lines),
                "x": style.number((x - view.x0) / view.scale, p),
                "y": style.number((y - view.y0) / view.scale, p),
            }
            rows.append((group, k, [cells[c] for c in columns]))
    return columns, rows


def draw(page, x0, top, view, groups, style, scheme, language):
    """Draws the table; gives each group the handles of its rows. Returns the form."""
    rng, h = page.rng, page.height
    forms = [(f, w) for f, w in FORMS if not (page.old and f == "entity")]
    form = rng.choices([f for f, _ in forms], [w for _, w in forms])[0]
    columns, rows = rows_of(page, view, groups, style, scheme, form.startswith("headless"))
    head = [rng.choice(words.HEAD["en" if rng.random() < 0.15 else language][c]) for c in columns]
    widths = [2 * h + max(page.width_of(cell, h) for cell in [title] + [r[2][i] for r in rows]) for i, title in enumerate(head)]
    step = 2.0 * h
    table_title = {"en": "HOLE TABLE", "de": "BOHRUNGSTABELLE"}.get(language) if rng.random() < 0.5 else None
    tall = step * (len(rows) + 2)
    page.take(x0, top - tall, x0 + sum(widths), top + 2 * h)
    for group in groups:
        group.handles = []
        group.row_handles = {}
        group.features += [f"table:{form}"] + [f"table-column:{c}" for c in columns]
    if form == "entity":
        handle = entity(page, x0, top, head, rows, widths, step, table_title)
        for group, k, _ in rows:
            group.handles.append(handle)
        return form
    if table_title:
        page.text(table_title, x0, top + 0.6 * h, 1.2 * h)
    y = top - 1.5 * h
    if form.startswith("headless"):
        y += step
    else:
        cell_row(page, x0, y, widths, head, h)
    if form in ("grid", "headless"):
        grid(page, x0, top, widths, step, len(rows) + (form == "grid"))
    for group, k, cells in rows:
        y -= step
        if form.endswith("blocks"):
            handles = attributed(page, x0, y, widths, columns, cells, h)
        else:
            handles = cell_row(page, x0, y, widths, cells, h)
        group.handles += handles
        if k is not None:
            group.row_handles[k] = handles
    return form


def cell_row(page, x0, y, widths, cells, h):
    x, handles = x0, []
    for width, cell in zip(widths, cells):
        if cell:
            handles.append(page.text(cell, x + 0.7 * h, y, h).dxf.handle)
        x += width
    return handles


def attributed(page, x0, y, widths, columns, cells, h):
    """A row as a block with an attribute for each cell."""
    if "HOLEROW" not in page.doc.blocks:
        block = page.doc.blocks.new("HOLEROW")
        x = 0.0
        for key, width in zip(columns, widths):
            block.add_attdef(key.upper(), (x + 0.7 * h, 0), dxfattribs={"height": h})
            x += width
    insert = page.msp.add_blockref("HOLEROW", (x0, y), dxfattribs={"layer": "TEXT"})
    handles, x = [insert.dxf.handle], x0
    for key, width, cell in zip(columns, widths, cells):
        attrib = insert.add_attrib(key.upper(), render(cell, page.sign_text, False, page.rng), (x + 0.7 * h, y), dxfattribs={"height": h})
        handles.append(attrib.dxf.handle)
        x += width
    return handles


def grid(page, x0, top, widths, step, count):
    x = x0
    for width in [0.0] + widths:
        x += width
        page.line((x, top), (x, top - step * count), "FRAME")
    for i in range(count + 1):
        page.line((x0, top - step * i), (x, top - step * i), "FRAME")


def entity(page, x0, top, head, rows, widths, step, title):
    """An ACAD_TABLE, written as raw groups, its cells with group 1 and, as newer programs do, 302."""
    handle = page.doc.entitydb.next_handle()
    newer = page.version >= "R2007"
    cells = ([[title] + [""] * (len(head) - 1)] if title else []) + [head] + [r[2] for r in rows]
    out = [(0, "ACAD_TABLE"), (5, handle), (330, page.msp.layout_key), (100, "AcDbEntity"), (8, "TEXT"), (100, "AcDbBlockReference"),
           (2, "*T1"), (10, x0), (20, top), (30, 0.0), (100, "AcDbTable"), (280, 0), (11, 1.0), (21, 0.0), (31, 0.0), (90, 22),
           (91, len(cells)), (92, len(head)), (93, 0), (94, 0), (95, 0), (96, 0)]
    out += [(141, step)] * len(cells) + [(142, w) for w in widths]
    for r, row in enumerate(cells):
        for c, cell in enumerate(row):
            text = render(cell, page.sign_mtext, True, page.rng)
            text = "".join(ch if ord(ch) < 128 or newer else f"\\U+{ord(ch):04X}" for ch in text)
            merged = bool(title) and r == 0 and c > 0
            out += [(171, 1), (172, 0), (173, 1 if merged else 0), (174, 0), (175, len(head) if title and r == 0 and c == 0 else 1),
                    (176, 1), (91, 0), (178, 0), (145, 0.0)]
            if newer:
                out += [(92, 0), (301, "CELL_VALUE"), (93, 6), (90, 4), (1, text), (94, 0), (300, ""), (302, text), (304, "ACVALUE_END")]
            else:
                out.append((1, text))
    page.spliced.append("".join(f"{code:3d}\n{value}\n" for code, value in out))
    return handle
