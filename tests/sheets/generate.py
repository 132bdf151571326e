"""Makes whole drawings as drafters release them, with the truth beside each.

    python generate.py SEED COUNT FOLDER [--hard]

With --hard the drawings are careless: groups of one size with callouts of their own, leaders that end beside the rim,
texts far from their holes, holes that nobody calls out. They show what a confidence is worth, for on careful drawings
hardly any pair is wrong.

Writes COUNT drawings and beside each `<stem>.truth.json`: every hole with its callout, size, limits and thickness,
every callout with its count, every round thing that is no hole, and the defects that were drawn on purpose. The
truth is what was decided here before drawing, never what was read back. The same seed gives the same drawings.
"""

import json
import logging
import random
import sys
from pathlib import Path

import ezdxf
from ezdxf.tools.text_layout import LayoutError

import frame
import symbols
import tables
import views
import words
from carriers import CARRIERS
from forms import MM, Style, write
from page import Page
from views import Group, View

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2010", "R2013", "R2018"]
SCALES = [(1.0, 12), (0.5, 3), (0.2, 2), (2.0, 2), (5.0, 1)]
KINDS = {
    "mm": [("plain", 10), ("blind", 2), ("counterbore", 2), ("countersink", 2), ("tapped", 2), ("pilot", 2), ("screw", 3), ("dual", 1), ("process", 2),
           ("radius", 1), ("spaced", 1)],
    "in": [("plain", 8), ("blind", 2), ("counterbore", 2), ("countersink", 2), ("tapped", 2), ("pilot", 2), ("screw", 3), ("dual", 2), ("process", 2),
           ("drill", 3), ("fraction", 3), ("radius", 1), ("spaced", 1)],
}
# What else a callout says of its holes.
READS = ["depth_mm", "through", "counterbore_mm", "counterbore_depth_mm", "countersink_mm", "countersink_deg", "process", "screw_length_mm"]
TABLE_KINDS = [("plain", 8), ("blind", 3), ("tapped", 2)]
# Carriers that touch the circle that they speak of.
POINTING = {"leader", "leader-texts", "loose-leader", "multileader", "dimension", "radius-dimension", "split"}
# What is drawn on purpose and must be found, by rule.
DEFECTS = ["drawn-size-differs", "count-differs", "callout-without-hole", "unit-doubtful", "thickness-conflict"]


class Sheet:
    """One drawing in the making."""

    def __init__(self, seed, hard=False):
        self.hard = hard
        self.rng = rng = random.Random(seed)
        self.language = rng.choices(words.LANGUAGES, [8, 4, 2, 2, 2, 2, 2])[0]
        self.unit = "in" if self.language == "en" and rng.random() < 0.6 else "mm"
        self.version = rng.choice(VERSIONS)
        self.features = [f"version:{self.version}", f"unit:{self.unit}"]
        self.defect = rng.choice(DEFECTS) if rng.random() < 0.15 else None
        if self.defect == "unit-doubtful" and self.version == "R12":
            self.defect = "thickness-conflict"  # a header of that release says no unit that could be contradicted
        header = (4, 1) if self.unit == "mm" else (1, 0)
        self.says_unit = rng.random() < 0.5
        pick = rng.random()
        if self.defect == "unit-doubtful":
            header = (1, 0) if self.unit == "mm" else (4, 1)
            self.says_unit = True
        elif pick < 0.25:
            header = (0, header[1])
            self.features.append("header:no-unit")
        elif pick < 0.35:
            header = (header[0], 1 - header[1])
            self.features.append("header:measurement-contradicts")
        elif pick < 0.40:
            header = (0, 1 - header[1])
            self.says_unit = True
            self.features.append("header:measurement-contradicts")
        self.page = Page(rng, self.version, self.unit, header)
        self.page.hard = hard
        self.style = Style(rng, self.unit, self.language)
        self.page.comma = self.style.comma
        self.tolerance = frame.sheet_tolerance(rng, self.unit, self.language)
        self.mode = rng.choices(["callouts", "table", "list"], [14, 4, 1])[0]
        if self.defect in ("count-differs", "callout-without-hole", "drawn-size-differs"):
            self.mode = "callouts"
        # The part at its true size in model space, what stands around it on a sheet of paper that looks at it.
        self.paper = not self.page.old and self.mode == "callouts" and rng.random() < 0.15
        self.style.shifted = self.mode != "list"  # a list's plus and minus are magnitudes
        self.features.append(f"mode:{self.mode}")
        self.views, self.truth_callouts, self.truth_holes, self.others = [], [], [], []
        self.any_views = []
        self.notes = rng.sample(words.NOTES[self.language], min(3, len(words.NOTES[self.language])))
        self.note_groups = []  # (index into notes, group)
        self.expected, self.allowed = [], []
        self.frame_box = None

    # -- drawing ---------------------------------------------------------------------------------------------------

    def make(self):
        rng, page, h = self.rng, self.page, self.page.height
        parts = rng.choices([1, 2, 3], [8, 2, 1])[0]
        self.metal(parts)
        x = 30 * h
        scales = [s for s, _ in SCALES]
        scale = 1.0 if self.paper else rng.choices(scales, [w for _, w in SCALES])[0]
        for number in range(parts):
            x = self.part(x, scale, number, parts) + rng.uniform(22, 34) * h
        if rng.random() < 0.2 and self.mode != "list":
            x = self.more_views(x)
        if self.paper:
            self.viewports()
        self.surround(x)
        self.call_out()
        self.distract()
        self.truth()

    def metal(self, parts):
        rng = self.rng
        text, self.material = rng.choice(words.MATERIALS[self.language])
        self.material_text = text
        self.material_said = False  # by title block or a note
        mm = self.unit == "mm"
        options = [0.8, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10] if mm else [.030, .036, .048, .060, .075, .090, .125, .188, .250]
        self.thicknesses = rng.sample(options, parts)
        ways = ["title", "title", "note", "note", "none"]
        self.thickness_way = "view" if parts > 1 else rng.choice(ways + (["gauge"] if not mm else []))
        if self.mode == "list":
            self.thickness_way = rng.choice(["list", "title"])
        self.thickness_mm = self.thicknesses[0] * MM[self.unit]
        if self.thickness_way == "gauge":
            # Manufacturers' standard gauge for sheet steel (inch).
            self.gauge, inches = rng.choice([(16, .0598), (14, .0747), (18, .0478), (12, .1046)])
            self.thickness_mm = inches * 25.4
            self.material_text, self.material = "CRS", "low-carbon-steel"
        self.features.append(f"thickness:{self.thickness_way}")
        if self.defect == "thickness-conflict":
            self.thickness_way = "title"

    def thickness_text(self, value):
        form = self.style.word(words.THICKNESS)
        if form.startswith("Blech {} {u} {m}"):
            form = form.replace("{m}", self.material_text)
        self.features.append("thickness-form:" + form.replace(self.material_text, "m"))
        unit = {"mm": "mm", "in": "in"}[self.unit]
        text = self.style.number(value)
        if "{u}" not in form and self.unit == "mm" and self.rng.random() < 0.3:
            text += self.rng.choice([" mm", "mm", " MM"])
        return form.format(text, u=unit)

    def part(self, x, scale, number, parts):
        """Outline and holes of one part from `x` to the right. Returns its right end."""
        rng, page, h = self.rng, self.page, self.page.height
        w, t = rng.uniform(35, 95) * h, rng.uniform(30, 70) * h
        y = 40 * h + rng.choice([0, 0, rng.uniform(-5, 5) * h])
        view = View(round(x, 3), round(y, 3), round(x + w, 3), round(y + t, 3), scale, name="front")
        self.others += views.outline(page, view)
        view.thickness_mm = self.thicknesses[number] * MM[self.unit] if self.thickness_way == "view" else None
        self.views.append(view)
        page.views.append(view)
        groups = rng.choices([1, 2, 3, 4, 5], [2, 4, 4, 3, 1])[0]
        kinds = TABLE_KINDS if self.mode == "table" and rng.random() < 0.7 else KINDS[self.unit]
        layers = rng.choice([["HOLES"], ["OUTLINE"], ["0"], ["H1", "H2", "H3", "H4", "H5"]])
        for g in range(groups):
            count = rng.choices([1, 2, 3, 4, 6, 8], [5, 3, 1, 6, 2, 1])[0]
            self.group(view, count, kinds, layers[g % len(layers)])
        if scale != 1.0:
            self.features.append(f"scale:{scale:g}")
        return view.x1

    def group(self, view, count, kinds, layer):
        rng, page, h = self.rng, self.page, self.page.height
        taken = [g.size for v in self.views for g in v.groups]
        outers = [g.written.extra.get("major", 0) * v.scale for v in self.views for g in v.groups]

        def wanted(size):
            drawn = size * view.scale
            if self.hard and rng.random() < 0.4:
                return 0.7 * h <= drawn <= 8 * h
            return 0.7 * h <= drawn <= 8 * h and all(abs(drawn / t - 1) > 0.06 for t in taken + outers if t)

        written = write(self.style, count, self.tolerance, wanted, kinds)
        if written is None:
            return
        outer = max([written.size] + [v for k, v in written.extra.items() if isinstance(v, float)])
        spots, pattern = views.spots_of(page, view, count, outer * view.scale)
        if spots is None:
            return
        written.extra["outer"] = outer / written.size
        way = rng.choices([w for w, _ in views.WAYS], [n for _, n in views.WAYS])[0]
        if page.old and way in ("ellipse", "spline"):
            way = "circle"
        group = Group(spots, round(written.size * view.scale, 6), written, pattern, way, layer)
        group.features += written.features + [f"pattern:{pattern}", f"drawn:{way}"]
        view.groups.append(group)
        self.spoil_size(view, group)
        self.others += views.draw_group(page, view, group)

    def spoil_size(self, view, group):
        """All holes of a callout drawn at another size than it says, or one of them."""
        if self.defect != "drawn-size-differs" or self.expected or not group.written.truth.get("nominal_mm"):
            return
        factor = self.rng.choice([0.8, 0.88, 1.12, 1.25])
        wrong = round(group.size * factor, 6)
        major = group.written.extra.get("major")
        if major and wrong > 0.95 * major * view.scale:
            return  # the larger circle of a thread would be the hole that its callout speaks of
        taken = [g.size for v in self.views for g in v.groups if g is not group]
        if any(abs(wrong / t - 1) < 0.06 for t in taken):
            return
        if len(group.spots) == 1 or self.rng.random() < 0.6:
            group.drawn, group.size = [wrong] * len(group.spots), wrong
            self.expected.append({"rule": "drawn-size-differs"})
        else:
            # Where the callout does not point at the odd hole, one hole is missing from its count.
            group.drawn = [group.size] * (len(group.spots) - 1) + [wrong]
            self.expected.append({"rule": "drawn-size-differs", "or": "count-differs"})

    def more_views(self, x):
        """The part again: from behind, a detail, a section."""
        rng, page, h = self.rng, self.page, self.page.height
        view = self.views[0]
        if not view.groups:
            return x
        kind = rng.choice(["back", "detail", "section", "detail", "again"])
        self.features.append(f"view:{kind}")
        if kind in ("back", "again"):
            back = views.back_view(page, view, x, mirrored=kind == "back")
            self.any_views.append((view, back))
            page.views.append(back)
            return back.x1 + 10 * h
        if kind == "detail":
            detail, others = views.detail_view(page, view, rng.choice(view.groups), x, view.y0, self.language, rng.choice("BCDZ"))
            self.others += others
            self.any_views.append((view, detail))
            page.views.append(detail)
            return detail.x1 + 10 * h
        self.others += views.section_view(page, view, x, self.language)
        return x + 10 * h

    # -- around the views ------------------------------------------------------------------------------------------

    def surround(self, right):
        rng, page, h = self.rng, self.page, self.page.height
        main = self.views[0]
        for view in self.views:
            views.outline_dimensions(page, view)
            if self.mode == "callouts" and rng.random() < 0.3:
                views.side_view(page, view, (self.thicknesses[0]) * view.scale)
        ratio = main.scale
        scale = f"{ratio:g}:1" if ratio >= 1 else f"1:{1 / ratio:g}"
        if self.paper:
            k = main.port[0]
            scale = f"{k:g}:1" if k >= 1 else f"1:{1 / k:g}"
        elif ratio == 1.0 and rng.random() < 0.15:
            scale = rng.choice(["1:2", "2:1"])  # of the plot: the part is drawn at its true size
            self.features.append("scale:plot-only")
        facts = {"title": [rng.choice(frame.PARTS)], "number": [f"{rng.randint(100, 999)}-{rng.randint(1000, 9999)}"], "scale": [scale],
                 "drawn": [rng.choice(["AB", "KM", "RS"])], "date": ["2024-05-17"], "rev": [rng.choice("ABC")]}
        if rng.random() < 0.8 or self.thickness_way == "gauge":
            facts["material"] = [self.material_text]
        if rng.random() < 0.3:
            facts["finish"] = [rng.choice(["-", "ZINC PLATED", "NONE"])]
        value = self.thicknesses[0]
        if self.thickness_way == "title":
            text = self.style.number(value)
            if "material" in facts and rng.random() < 0.25:
                facts["material"] = [f"{self.material_text} {text} {'THK' if self.language == 'en' else 'mm'}"]
                self.features.append("thickness-form:in-material")
            else:
                if rng.random() < 0.3 and self.unit == "mm":
                    text += " mm"
                facts["thickness"] = [text]
                self.features.append("thickness-form:title-row")
        elif self.thickness_way == "gauge":
            facts["material"] = [f"{self.gauge} GA {self.material_text}"]
        self.material_said |= "material" in facts
        if self.tolerance:
            lines = frame.tolerance_lines(rng, self.tolerance, self.style)
            if rng.random() < 0.8:
                facts["tolerance"] = lines
            else:
                self.notes += [f"{words.LABELS[self.language]['tolerance']}: {'  '.join(lines)}"]
        if self.says_unit:
            text = rng.choice(words.UNITS[self.language][self.unit])
            if rng.random() < 0.5:
                facts["units"] = [text]
            else:
                self.notes.append(text)
        on_paper = self.paper and page.enter_paper(main.port[0])
        h = page.height
        k = main.port[0] if on_paper else 1.0
        right, tops = right * k, [v.y1 * k for v in self.views]
        bottom = min(v.y0 for v in self.views) * k - 30 * h
        frame_right = max(right, main.x0 * k + 120 * h)
        _, way = frame.title_block(page, frame_right, bottom - 25 * h, facts, self.language)
        self.features.append(f"title:{way}")
        if self.thickness_way == "note":
            self.notes.append(self.thickness_text(value))
            self.material_said |= self.material_text in self.notes[-1]
        if self.defect == "thickness-conflict":
            other = self.thicknesses[0] * 2
            self.notes.append(f"THK {self.style.number(other)}")
            self.expected.append({"rule": "thickness-conflict"})
        if self.defect == "unit-doubtful":
            self.expected.append({"rule": "unit-doubtful"})
        self.general_note()
        rng.shuffle(self.notes)
        handles = frame.note_block(page, 0.0 - 40 * h, max(tops) + 40 * h, self.notes, self.language)
        for text, group in self.note_groups:
            group.handles = handles[self.notes.index(text)]
        if on_paper:
            page.leave_paper()
            h = page.height
        if self.thickness_way == "view":
            for number, view in enumerate(self.views):
                line = self.thickness_text(self.thicknesses[number])
                lines = [f"{rng.choice(['ITEM', 'PART', 'POS'])} {number + 1}", line] if rng.random() < 0.5 else [line]
                another = rng.random() < 0.25
                if self.material_text in line:
                    view.material = self.material
                elif another:
                    text, view.material = rng.choice(words.MATERIALS[self.language])
                    lines.append(f"{words.LABELS[self.language]['material']}: {text}")
                    self.features.append("view-note:material")
                width, tall = page.size_of(lines, h)
                place = (view.x0 + 2 * h, view.y1 + 7 * h) if rng.random() < 0.5 else (view.x0 + 2 * h, view.y0 - 6 * h - tall)
                page.words(lines, place[0], place[1], h)
                page.take(place[0], place[1], place[0] + width, place[1] + tall)
        if on_paper:
            right = right / k
            self.table_place = (0.0, 0.0)
            return
        if rng.random() < 0.6:
            x0, y0, x1, y1 = -45 * h, bottom - 28 * h, frame_right + 3 * h, max(v.y1 for v in self.views) + 55 * h
            page.rectangle(x0, y0, x1, y1, "FRAME")
            self.frame_box = (x0, y0, x1, y1)
        if rng.random() < 0.25:
            frame.revision_table(page, frame_right + 2 * h, max(v.y1 for v in self.views) + 52 * h)
            self.features.append("distractor:revision-table")
        if rng.random() < 0.15:
            frame.parts_list(page, -42 * h, bottom - 5 * h)
            self.features.append("distractor:parts-list")
        if rng.random() < 0.3:
            self.others += frame.projection_symbol(page, -30 * h, bottom - 24 * h)
        if rng.random() < 0.2:
            self.others += frame.logo(page, -38 * h, bottom - 24 * h)
        self.table_place = (max(right, main.x0 + 60 * h), max(v.y1 for v in self.views) + 35 * h)

    def viewports(self):
        """One look at everything, or one at each part, the second perhaps at another scale."""
        rng, page, h = self.rng, self.page, self.page.height
        k = rng.choice([1.0, 0.5, 0.5, 2.0])
        every = self.views + [v for _, v in self.any_views]
        single = len(every) == 1 or rng.random() < 0.5
        self.features.append(f"viewport:{k:g}" if single else "viewport:one-each")
        boxes = [(min(v.x0 for v in every), min(v.y0 for v in every), max(v.x1 for v in every), max(v.y1 for v in every))]
        boxes = boxes if single else [(v.x0, v.y0, v.x1, v.y1) for v in every]
        right = 0.0
        for i, (x0, y0, x1, y1) in enumerate(boxes):
            own = k if i == 0 or rng.random() < 0.6 else rng.choice([1.0, 0.5, 2.0])
            margin = 40 * h if single else 10 * h
            width, tall = x1 - x0 + 2 * margin, y1 - y0 + 2 * margin
            middle = ((x0 + x1) / 2, (y0 + y1) / 2)
            at = (right + own * width / 2, own * middle[1])
            right += own * width + 5 * h
            page.viewport(at, (own * width, own * tall), middle, tall)
            for view in every if single else [every[i]]:
                view.port = (own, *middle, *at)

    def general_note(self):
        """One group whose only callout is a general note."""
        if self.mode != "callouts" or self.rng.random() > 0.12 or self.defect:
            return
        groups = [g for v in self.views for g in v.groups if len(g.written.lines) == 1 and "form:plain" in g.features and g.written.count > 1]
        if not groups or len(self.views) > 1:
            return
        group = self.rng.choice(groups)
        pieces = group.written.pieces
        body = ("" if pieces["replaced"] else "§" + pieces["text"]) + pieces["after"]
        body = ("§" + body if pieces["replaced"] else body) + pieces["end"]
        form = self.rng.choice(words.GENERAL_NOTE[self.language])
        text = form.format(body.replace("[S|", "").replace("|", "/").replace("]", "") if "[S|" in body else body)
        group.features = [f for f in group.features if not f.startswith("count:")] + ["carrier:general-note"]
        group.carrier = "general-note"
        group.general = True
        self.notes.append(text)
        self.note_groups.append((text, group))

    def call_out(self):
        """Gives every group its carrier."""
        rng, page = self.rng, self.page
        if self.mode == "table":
            view = self.views[0]
            groups = [g for v in self.views for g in v.groups]
            scheme = tables.plan(page, groups)
            if scheme is None or not tables.draw_tags(page, groups):
                self.failed = True
                return
            x, y = self.table_place
            tables.draw(page, x, y, view, groups, self.style, scheme, self.language)
            for group in groups:
                group.carrier = "table"
                group.single = scheme == "single-rows"
                group.features.append("carrier:table")
            return
        for view in self.views:
            for group in view.groups:
                if group.carrier:
                    continue
                if self.mode == "list" or (rng.random() < (0.15 if self.hard else 0.04) and not group.drawn):
                    group.carrier = "none"
                    group.features.append("carrier:none")
                    continue
                self.spoil_count(group)
                options = [(n, w) for n, (_, w, old) in CARRIERS.items() if (old or not page.old) and (n != "multileader" or page.version >= "R2007")]
                for _ in range(12):
                    name = rng.choices([n for n, _ in options], [w for _, w in options])[0]
                    if "tolerance:stacked" in group.features and len(group.written.lines) == 1 and rng.random() < 0.4:
                        name = "split"
                    if name == "side-dimension" and view.side is None or name == "paper-leader" and view.port is None:
                        continue
                    if view.port is not None and name != "paper-leader" and rng.random() < 0.3:
                        continue
                    if name == "beside" and len(self.views) > 1 and len(group.spots) > 1:
                        continue
                    if group.drawn and name not in POINTING:
                        continue  # a size can only be seen to differ where the callout points at its circle
                    before = list(group.features)
                    group.handles = CARRIERS[name][0](page, view, group)
                    if group.handles:
                        group.carrier = name
                        group.features.append(f"carrier:{name}")
                        break
                    group.features = before
                else:
                    group.carrier = "none"
                    group.features.append("carrier:none")
        if self.defect == "callout-without-hole":
            self.stray_callout()

    def spoil_count(self, group):
        """A count one too high."""
        elsewhere = {"count:TYP", "count:own-line"}.intersection(group.features)
        if self.defect != "count-differs" or self.expected or group.written.count < 2 or elsewhere:
            return
        n = group.written.count
        wrong = n + self.rng.choice([1, 2, -1] if n > 2 else [1, 2])
        first = group.written.lines[0]
        if first.count(str(n)) != 1 or wrong == 1:
            return
        group.written.lines[0] = first.replace(str(n), str(wrong))
        group.wrong_count = wrong
        self.expected.append({"rule": "count-differs"})

    def stray_callout(self):
        """A screw hole called out where no circle is."""
        view, page, h = self.views[0], self.page, self.page.height
        size = "3.1" if self.unit == "mm" else ".131"
        line = f"2X §{size} FOR {'M3.5' if self.unit == 'mm' else '#6-32'} THREAD ROLLING SCREW"
        width, tall = page.size_of([line], h)
        place = page.find_place(view.x1, view.y1, width, tall, 3 * h, 40 * h)
        if place and not any(abs(g.size / (float(size) * view.scale) - 1) < 0.08 for v in self.views for g in v.groups):
            page.take(place[0], place[1], place[0] + width, place[1] + tall)
            page.text(line, place[0], place[1], h)
            self.expected.append({"rule": "callout-without-hole"})

    def distract(self):
        rng, page = self.rng, self.page
        view = self.views[0]
        if rng.random() < 0.2:
            self.others += views.balloons(page, view, rng.randint(1, 4))
        if rng.random() < 0.15:
            views.bend_lines(page, view)
            self.features.append("distractor:bend-notes")
        if rng.random() < 0.1:
            self.others += views.construction(page, view)
        others, features = symbols.draw_all(page, self.views, self.language, self.frame_box)
        self.others += others
        self.features += features

    # -- truth -----------------------------------------------------------------------------------------------------

    def truth(self):
        unit = MM[self.unit]
        for view in self.views:
            for group in view.groups:
                index = self.callout_of(group)
                for k, (x, y) in enumerate(group.spots):
                    self.truth_holes.append(self.hole(view, group, k, x, y, index))
        for main, other in self.any_views:
            other.material = main.material
            for twin in other.groups:
                source = next(g for g in main.groups if g.written is twin.written)
                for x, y in twin.spots:
                    row = self.hole(other, twin, 0, x, y, None)
                    row.update(callout="any", also=source.callouts, features=["view:" + other.name])
                    self.truth_holes.append(row)

    def callout_of(self, group):
        first = len(self.truth_callouts)
        index = self.add_callouts(group)
        group.callouts = list(range(first, len(self.truth_callouts)))
        return index

    def add_callouts(self, group):
        """Its rows or its one callout; the index of the first, or none."""
        if group.carrier == "none" or not group.handles:
            return None
        said = group.written.truth
        if getattr(group, "single", False):
            first = len(self.truth_callouts)
            for k in range(len(group.spots)):
                self.truth_callouts.append({"handles": group.row_handles.get(k, group.handles), "count": None, "holes": 1, "features": group.features,
                                            "text": group.written.lines, "size": said.get("nominal_mm")})
            return first
        general = getattr(group, "general", False) or "count:TYP" in group.features
        count = None if general else group.written.count
        self.truth_callouts.append({"handles": group.handles, "count": getattr(group, "wrong_count", count), "holes": len(group.spots),
                                    "features": group.features, "text": group.written.lines, "size": said.get("nominal_mm"),
                                    "reads": {key: said.get(key) for key in READS},
                                    "spoiled": hasattr(group, "wrong_count") or bool(group.drawn)})
        return len(self.truth_callouts) - 1

    def hole(self, view, group, k, x, y, index):
        said = group.written.truth
        drawn = group.drawn[k] if group.drawn else group.size
        if index is not None and getattr(group, "single", False):
            index += k
        if view.thickness_mm is not None:
            thickness = view.thickness_mm
        elif self.thickness_way in ("none",):
            thickness = None
        else:
            thickness = self.thickness_mm
        row = {"x": x, "y": y, "drawn": drawn, "callout": index, "thickness_mm": thickness, "material": self.material_of(view),
               "unsized": bool(said.get("unsized")), "features": group.features + self.features,
               "spoiled": bool(group.drawn and drawn != round(group.written.size * view.scale, 6))}
        if index is None:
            size = drawn / view.scale * MM[self.unit]
            row.update(nominal_mm=size, min_mm=None, max_mm=None)
        else:
            row.update({key: said.get(key) for key in ("nominal_mm", "min_mm", "max_mm", "tolerance_source", "thread", "screw")})
        return row

    def material_of(self, view):
        """As stated; anything where only the notes at other parts name one."""
        if view.material is not None:
            return view.material
        if self.material_said or self.mode == "list":
            return self.material
        return "any" if any(v.material is not None for v in self.views) else None

    def result(self):
        return {"unit": self.unit, "clean": self.defect is None, "defect": self.defect, "expected": self.expected, "features": self.features,
                "coated": any(unit in note for note in self.notes for unit in ("μm", "µm", "MICRON", "THK")),
                "material": self.material, "holes": self.truth_holes, "callouts": self.truth_callouts,
                "others": [{"x": x, "y": y, "diameter": d, "kind": kind} for x, y, d, kind in self.others]}

    def hole_list(self, name):
        """Rows for every group, found by place, layer or size."""
        unit = self.unit
        holes = []
        layers = [g.layer for v in self.views for g in v.groups]
        for view in self.views:
            for group in view.groups:
                said = group.written.truth
                row = {"count": len(group.spots), "screw": {"thread": "M4" if unit == "mm" else "8-32"}, "diameter": round(group.written.size, 6)}
                low, high, size = said.get("min_mm"), said.get("max_mm"), group.written.size * MM[unit]
                if low is not None and said.get("tolerance_source") == "callout" and not said.get("unsized"):
                    row["plus"], row["minus"] = round((high - size) / MM[unit], 6), round((size - low) / MM[unit], 6)
                if layers.count(group.layer) == 1 and group.layer not in ("0", "OUTLINE") and self.rng.random() < 0.6:
                    row["layer"] = group.layer
                else:
                    row["at"] = [[x, y] for x, y in group.spots]
                holes.append(row)
        drawing = {"drawing": name, "material": self.material, "holes": holes}
        if self.thickness_way == "list":
            drawing["thickness"] = self.thicknesses[0]
        return {"format": 1, "unit": unit, "drawings": [drawing]}


def make(seed, hard=False):
    """A sheet that came out with holes and, if it is to be dirty, with its defect."""
    for attempt in range(40):
        sheet = Sheet(f"{seed}-{attempt}", hard)
        sheet.failed = False
        try:
            sheet.make()
        except LayoutError:
            continue  # the library finds no room for the words of a MULTILEADER
        spoiled = sheet.defect is None or sheet.expected
        if sheet.truth_holes and spoiled and not sheet.failed:
            return sheet
    raise RuntimeError(f"no drawing came out of {seed}")


def main():
    if len(sys.argv) not in (4, 5) or sys.argv[4:] not in ([], ["--hard"]):
        sys.exit(__doc__)
    seed, count, folder = sys.argv[1], int(sys.argv[2]), Path(sys.argv[3])
    folder.mkdir(parents=True, exist_ok=True)
    ezdxf.options.write_fixed_meta_data_for_testing = True
    logging.getLogger("ezdxf").setLevel(logging.ERROR)  # R12 has no units to write; that is intended
    for number in range(count):
        sheet = make(f"{seed}-{number}", bool(sys.argv[4:]))
        binary = sheet.rng.random() < 0.1
        path = folder / f"{number:04d}-{sheet.version}-{sheet.mode}{'' if sheet.defect is None else '-' + sheet.defect}.dxf"
        sheet.page.save(path, binary)
        if sheet.mode == "list":
            text = json.dumps(sheet.hole_list(path.name), indent=1)
            path.with_suffix(".holes.json").write_text(text + "\n", encoding="utf-8")
        path.with_suffix(".truth.json").write_text(json.dumps(sheet.result(), indent=0, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
