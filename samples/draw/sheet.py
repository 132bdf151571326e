"""Border, zone marks and title block of a sheet, with the invented maker and product that all samples share."""

from page import TEXT_WIDTH

MAKER = "EXAMPLE WORKS"
PRODUCT = "GREENHOUSE CONTROLLER GC-100"

SIZES_MM = {"A3": (420.0, 297.0), "A4L": (297.0, 210.0), "B": (431.8, 279.4), "A": (279.4, 215.9)}

BLOCK_WIDTH, BLOCK_HEIGHT = 180.0, 50.0

# label, attribute tag, lower left corner, upper right corner (mm on paper), height of the value
CELLS = [
    ("GENERAL TOLERANCES", None, (0, 26), (60, 50), 2.5),
    ("UNITS", "UNITS", (0, 16), (60, 26), 2.5),
    ("PROJECTION", None, (0, 0), (60, 16), 2.5),
    ("FINISH", "FINISH", (60, 41), (130, 50), 2.5),
    ("DATE", "DATE", (130, 41), (180, 50), 2.5),
    ("MATERIAL", "MATERIAL", (60, 32), (130, 41), 2.5),
    ("THICKNESS", "THICKNESS", (130, 32), (180, 41), 2.5),
    (None, None, (60, 22), (130, 32), 2.5),
    ("SCALE", "SCALE", (130, 22), (155, 32), 2.5),
    ("SIZE", "SIZE", (155, 22), (180, 32), 2.5),
    ("TITLE", "TITLE", (60, 10), (180, 22), 4.0),
    ("PART NO.", "PART", (60, 0), (130, 10), 3.5),
    ("REV", "REV", (130, 0), (155, 10), 3.5),
    ("SHEET", "SHEET", (155, 0), (180, 10), 2.5),
]


def draw_sheet(page, size, fields, first_angle, as_block=True, origin=(0.0, 0.0), general=()):
    """Border with zones and the title block at its lower right.

    `fields` holds the values by attribute tag; `general` the lines of the general tolerance. With `as_block` the
    title block is a block with attributes, else loose lines and texts.
    """
    width, height = (v * page.u for v in SIZES_MM[size])
    _border(page, origin, width, height)
    corner = (origin[0] + width - (10.0 + BLOCK_WIDTH) * page.u, origin[1] + 10.0 * page.u)
    values = {"SIZE": size.rstrip("L"), "SHEET": "1 OF 1", "DATE": "2024-03-11", **fields}
    if as_block:
        _block_with_attributes(page, corner, values, first_angle, general)
    else:
        _lines_and_labels(page, corner, first_angle, general)
        for label, tag, low, _high, text_height in CELLS:
            if tag and values.get(tag):
                page.text(values[tag], _value_at(page, corner, low, label), text_height, layer="TITLE")
    return width, height


def _border(page, origin, width, height):
    u = page.u
    x0, y0 = origin
    page.rectangle((x0, y0), width, height, "BORDER")
    left, bottom, right, top = x0 + 20 * u, y0 + 10 * u, x0 + width - 10 * u, y0 + height - 10 * u
    page.rectangle((left, bottom), right - left, top - bottom, "BORDER")
    columns = 8 if width / u > 300 else 6
    rows = 6 if height / u > 250 else 4
    for i in range(columns):
        a = left + (right - left) * i / columns
        middle = left + (right - left) * (i + 0.5) / columns
        for low, high in [(bottom - 5 * u, bottom), (top, top + 5 * u)]:
            if i:
                page.line((a, low), (a, high), "BORDER")
            page.text(str(i + 1), (middle, (low + high) / 2), 2.5, "MIDDLE_CENTER", "BORDER")
    for i in range(rows):
        a = top - (top - bottom) * i / rows
        middle = top - (top - bottom) * (i + 0.5) / rows
        for low, high in [(left - 5 * u, left), (right, right + 5 * u)]:
            if i:
                page.line((low, a), (high, a), "BORDER")
            page.text("ABCDEF"[i], ((low + high) / 2, middle), 2.5, "MIDDLE_CENTER", "BORDER")
    for x, low, high in [((left + right) / 2, bottom - 5 * u, bottom + 4 * u), ((left + right) / 2, top - 4 * u, top + 5 * u)]:
        page.line((x, low), (x, high), "BORDER")


def _value_at(page, corner, low, label):
    u = page.u
    return (corner[0] + (low[0] + 3.0) * u, corner[1] + (low[1] + 1.8) * u)


def _block_with_attributes(page, corner, values, first_angle, general):
    block = page.doc.blocks.new("TITLE_BLOCK")
    before = page.into(block)
    _lines_and_labels(page, (0.0, 0.0), first_angle, general)
    for label, tag, low, _high, text_height in CELLS:
        if tag:
            block.add_attdef(
                tag, _value_at(page, (0.0, 0.0), low, label), "", height=text_height * page.u,
                dxfattribs={"layer": "TITLE", "style": "SHEET", "width": TEXT_WIDTH, "prompt": label},
            )
    page.into(before)
    insert = page.space.add_blockref("TITLE_BLOCK", corner, dxfattribs={"layer": "TITLE"})
    insert.add_auto_attribs({tag: values.get(tag, "") for _, tag, *_ in CELLS if tag})


def _lines_and_labels(page, corner, first_angle, general):
    u = page.u
    x0, y0 = corner
    page.rectangle(corner, BLOCK_WIDTH * u, BLOCK_HEIGHT * u, "BORDER")
    for label, _tag, low, high, _height in CELLS:
        a, b = (x0 + low[0] * u, y0 + low[1] * u), (x0 + high[0] * u, y0 + high[1] * u)
        if high[0] < BLOCK_WIDTH:
            page.line((b[0], a[1]), b, "TITLE")
        if high[1] < BLOCK_HEIGHT:
            page.line((a[0], b[1]), b, "TITLE")
        if label:
            page.text(label, (a[0] + 1.2 * u, b[1] - 2.6 * u), 1.6, layer="TITLE")
    page.text(MAKER, (x0 + 63 * u, y0 + 27.6 * u), 3.0, layer="TITLE")
    page.text(PRODUCT, (x0 + 63 * u, y0 + 23.6 * u), 2.0, layer="TITLE")
    for i, line in enumerate(general):
        page.text(line, (x0 + 3 * u, y0 + (42.5 - 4.2 * i) * u), 2.2, layer="TITLE")
    _projection_symbol(page, (x0 + 33 * u, y0 + 6.5 * u), first_angle)


def _projection_symbol(page, at, first_angle):
    """The truncated cone: its side view left in first angle, right in third angle."""
    u = page.u
    cone, rings = (at[0] - 9 * u, at[0] + 7 * u) if first_angle else (at[0] + 7 * u, at[0] - 9 * u)
    y = at[1]
    page.poly(
        [(cone - 5 * u, y - 2.5 * u), (cone + 5 * u, y - 5 * u), (cone + 5 * u, y + 5 * u), (cone - 5 * u, y + 2.5 * u)],
        "TITLE",
    )
    page.circle((rings, y), 5 * u, "TITLE")
    page.circle((rings, y), 10 * u, "TITLE")
    page.line((cone - 7 * u, y), (cone + 7 * u, y), "CENTER")
    page.line((rings - 7 * u, y), (rings + 7 * u, y), "CENTER")
    page.line((rings, y - 7 * u), (rings, y + 7 * u), "CENTER")
