"""Title block, notes, revision table and parts list: what stands around the views."""

import words

PARTS = ["COVER", "BRACKET", "MOUNTING PLATE", "LID", "PANEL", "SUPPORT", "CHASSIS", "FLANGE"]


def tolerance_lines(rng, kind, style):
    """How the sheet states its general tolerance."""
    name, value = kind
    if name == "iso":
        return [rng.choice([f"ISO 2768-{value}", f"ISO 2768-{value}K", f"DIN ISO 2768-{value}", f"ISO 2768 {value}"])]
    if name == "flat":
        text = style.number(value, 3 if style.unit == "in" else 2 if value == 0.15 else 1)
        return [rng.choice([f"±{text}", f"±{text} UNLESS NOTED" if style.language == "en" else f"±{text}", f"+/-{text}"])]
    say = lambda v: f"{v:g}".lstrip("0") if style.unit == "in" else style.number(v)
    if style.unit == "in":
        a, b = say(value[2]), say(value[3])
        return rng.choice([[f".XX ±{a}", f".XXX ±{b}"], [f".XX ±{a}  .XXX ±{b}"], [f".XX=±{a}", f".XXX=±{b}", "ANGLES ±1°"],
                           [f"2 PL ±{a}", f"3 PL ±{b}"], [f"X.XX ± {a}", f"X.XXX ± {b}"]])
    a, b, c = (style.number(value.get(k, 0), 2) for k in (0, 1, 2))
    return [f"X ±{a}", f"X.X ±{b}", f"X.XX ±{c}"] if 0 in value else [f".X ±{b}", f".XX ±{c}"]


def sheet_tolerance(rng, unit, language):
    pick = rng.random()
    if pick < 0.35:
        return None
    if unit == "in":
        return ("decimals", {2: rng.choice([.01, .02]), 3: rng.choice([.005, .003])}) if pick < 0.8 else ("flat", rng.choice([.005, .01]))
    if pick < 0.6 or language != "en":
        return "iso", rng.choice(["m", "f", "c", "m"])
    if pick < 0.8:
        return "flat", rng.choice([0.1, 0.2, 0.15])
    return "decimals", rng.choice([{0: 0.5, 1: 0.2, 2: 0.05}, {1: 0.2, 2: 0.05}])


def title_block(page, x1, y0, facts, language):
    """At the lower right of the sheet. `facts` are texts by the keys of `words.LABELS`."""
    rng, h = page.rng, page.height
    labels = dict(words.LABELS["en" if rng.random() < 0.1 else language])
    rows = [k for k in ("material", "thickness", "finish", "scale", "tolerance", "units", "drawn", "date", "title", "number", "rev") if k in facts]
    rng.shuffle(rows)
    way = rng.choice(["cells", "cells", "one-text", "attributes", "stacked"])
    wide = 16 * h + max((page.width_of(line, h) for k in rows for line in facts[k]), default=0)
    wide = min(max(wide, 40 * h), 75 * h)
    heights = [(1.6 * max(1, len(facts[k])) + (1.6 if way == "stacked" else 0.6)) * h for k in rows]
    total = sum(heights) + 2 * h
    x0, top = x1 - wide, y0 + total
    page.take(x0 - h, y0, x1, top + h)
    page.rectangle(x0, y0, x1, top, "FRAME")
    if way == "attributes":
        return attribute_block(page, x0, top, rows, heights, facts, labels), way
    y = top
    for key, tall in zip(rows, heights):
        lines, label = facts[key], labels[key]
        page.line((x0, y - tall), (x1, y - tall), "FRAME")
        colon = rng.choice(["", ":"]) if way != "stacked" else ""
        if way == "cells":
            page.text(label + colon, x0 + 0.5 * h, y - 1.4 * h, 0.8 * h)
            page.texts(lines, x0 + 15 * h, y - 1.4 * h - 1.6 * h * (len(lines) - 1), h)
            page.line((x0 + 14.5 * h, y), (x0 + 14.5 * h, y - tall), "FRAME")
        elif way == "stacked":
            page.text(label, x0 + 0.5 * h, y - 1.2 * h, 0.6 * h)
            page.texts(lines, x0 + 1.5 * h, y - 2.9 * h - 1.6 * h * (len(lines) - 1), h)
        else:
            page.words([f"{label}: {lines[0]}"] + lines[1:], x0 + 0.5 * h, y - 1.4 * h - 1.67 * h * (len(lines) - 1), h)
        y -= tall
    return [], way


def attribute_block(page, x0, top, rows, heights, facts, labels):
    """The title block as one block with attributes."""
    h = page.height
    block = page.doc.blocks.new("TITLEBLOCK")
    insert = page.msp.add_blockref("TITLEBLOCK", (x0, top), dxfattribs={"layer": "FRAME"})
    y = 0.0
    for key, tall in zip(rows, heights):
        block.add_text(labels[key], height=0.7 * h, dxfattribs={"layer": "FRAME"}).set_placement((0.5 * h, y - 1.3 * h))
        block.add_attdef(key.upper(), (15 * h, y - 1.4 * h), dxfattribs={"height": h})
        insert.add_attrib(key.upper(), " ".join(facts[key]), (x0 + 15 * h, top + y - 1.4 * h), dxfattribs={"height": h})
        y -= tall
    return []


def logo(page, x, y):
    """A mark of rings and a projection symbol, as blocks. Returns round things."""
    h = page.height
    block = page.doc.blocks.new("LOGO")
    block.add_circle((0, 0), 2 * h)
    block.add_circle((0, 0), 1.2 * h)
    block.add_circle((1.0 * h, 0), 0.5 * h)
    page.msp.add_blockref("LOGO", (x, y), dxfattribs={"layer": "FRAME"})
    page.take(x - 2 * h, y - 2 * h, x + 2 * h, y + 2 * h)
    return [(x, y, 4 * h, "logo"), (x, y, 2.4 * h, "logo"), (x + h, y, h, "logo")]


def projection_symbol(page, x, y):
    """First or third angle: a cut cone from the side and from the end, as a block."""
    h = page.height
    block = page.doc.blocks.new("PROJECTION")
    block.add_circle((0, 0), h)
    block.add_circle((0, 0), 0.5 * h)
    for a, b in (((2 * h, 0.5 * h), (4 * h, h)), ((2 * h, -0.5 * h), (4 * h, -h)), ((2 * h, -0.5 * h), (2 * h, 0.5 * h)), ((4 * h, -h), (4 * h, h))):
        block.add_line(a, b)
    page.msp.add_blockref("PROJECTION", (x, y), dxfattribs={"layer": "FRAME"})
    page.take(x - h, y - h, x + 4 * h, y + h)
    return [(x, y, 2 * h, "projection-symbol"), (x, y, h, "projection-symbol")]


def note_block(page, x, top, lines, language):
    """Numbered notes, as one MTEXT or as single texts. Returns the handles of each line."""
    rng, h = page.rng, page.height
    head = {"en": "NOTES:", "de": "HINWEISE:", "fr": "NOTES:", "it": "NOTE:", "es": "NOTAS:", "zh": "技术要求:", "ja": "注記:"}[language]
    numbered = [f"{i}. {line}" for i, line in enumerate(lines, 1)] if rng.random() < 0.7 else list(lines)
    everything = [head] + numbered
    width, tall = page.size_of(everything, h)
    page.take(x, top - tall - h, x + width, top + h)
    if page.old or rng.random() < 0.5:
        texts = page.texts(everything, x, top - tall, h)
        return [[t.dxf.handle] for t in texts[1:]]
    entity = page.mtext(everything, x, top, h, 1)
    return [[entity.dxf.handle]] * len(lines)


def revision_table(page, x1, top):
    """Texts with numbers that are no callouts."""
    h = page.height
    rows = [["REV", "DESCRIPTION", "DATE"], ["A", "RELEASED", "2024-03-11"], ["B", page.rng.choice(["HOLE WAS 3.2", "4 HOLES ADDED", "SLOT REMOVED"]), "2024-06-02"]]
    widths = [4, 20, 12]
    y = top
    x0 = x1 - sum(widths) * h
    for row in rows:
        x = x0
        for cell, w in zip(row, widths):
            page.text(cell, x + 0.4 * h, y - 1.5 * h, 0.8 * h)
            page.line((x, y), (x, y - 2 * h), "FRAME")
            x += w * h
        page.line((x0, y), (x1, y), "FRAME")
        y -= 2 * h
    page.line((x0, y), (x1, y), "FRAME")
    page.take(x0, y, x1, top)


def parts_list(page, x0, top):
    """Items with quantities and screws that stand in a list and not at a hole."""
    h = page.height
    rows = [["ITEM", "QTY", "DESCRIPTION"], ["1", "1", "PLATE"], ["2", "4", "SCREW M4x12"], ["3", "4", "WASHER 4.3"]]
    widths = [5, 5, 20]
    y = top
    for row in rows:
        x = x0
        for cell, w in zip(row, widths):
            page.text(cell, x + 0.4 * h, y - 1.5 * h, 0.9 * h)
            x += w * h
        page.line((x0, y), (x, y), "FRAME")
        y -= 2 * h
    page.take(x0, y, x0 + sum(widths) * h, top)
