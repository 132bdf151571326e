"""One callout in words, with what it says. Looks at no geometry and no DXF.

A callout is written with `§` for the diameter sign, `¤` for plus-minus, `°` for degrees and `[S|upper|lower]` for a
stack; `render` turns these into the codes of the entity that carries the text.
"""

import random
from dataclasses import dataclass, field

import words

MM = {"mm": 1.0, "in": 25.4}

# ISO 286-1: IT6 to IT13 in micrometres, by upper bound of the nominal size (mm).
IT = [(3, [6, 10, 14, 25, 40, 60, 100, 140]), (6, [8, 12, 18, 30, 48, 75, 120, 180]),
      (10, [9, 15, 22, 36, 58, 90, 150, 220]), (18, [11, 18, 27, 43, 70, 110, 180, 270]),
      (30, [13, 21, 33, 52, 84, 130, 210, 330]), (50, [16, 25, 39, 62, 100, 160, 250, 390])]
# ISO 2768-1 table 1: 0.5 up to 3, over 3 to 6, over 6 to 30, over 30 to 120 (mm).
ISO2768 = {"f": [0.05, 0.05, 0.1, 0.15], "m": [0.1, 0.1, 0.2, 0.3], "c": [0.2, 0.3, 0.5, 0.8]}
# ASME B94.11M number and letter drills (inch).
DRILLS = [("#2", .2210), ("#7", .2010), ("#10", .1935), ("#18", .1695), ("#21", .1590), ("#25", .1495), ("#29", .1360),
          ("#30", .1285), ("#36", .1065), ("#43", .0890), ("B", .2380), ("F", .2570), ("I", .2720), ("Q", .3320)]
FRACTIONS = ["7/32", "1/4", "5/32", "3/16", "9/64", "13/64", "11/32", "5/16", "3/8", "1/8", "17/64"]
# ISO 261 coarse threads with their usual tap drills (mm); ASME B1.1 with drill (inch).
METRIC = [("M3", "0.5", 3.0, 2.5), ("M4", "0.7", 4.0, 3.3), ("M5", "0.8", 5.0, 4.2), ("M6", "1", 6.0, 5.0),
          ("M8", "1.25", 8.0, 6.8), ("M10", "1.5", 10.0, 8.5)]
INCH = [("#8-32", "UNC", .1640, "#29", .1360), ("#10-24", "UNC", .1900, "#25", .1495), ("#6-32", "UNC", .1380, "#36", .1065),
        ("1/4-20", "UNC", .2500, "#7", .2010), ("5/16-18", "UNC", .3125, "F", .2570)]
# Holes for thread-rolling screws, middle of what the trade uses.
ROLLING = {"mm": [("M3", 2.75), ("M4", 3.6), ("M5", 4.6), ("M6", 5.5)], "in": [("8-32", .147), ("10-24", .168), ("1/4-20", .224)]}
# Screws with a spaced thread and a usual hole in sheet metal.
SPACED = {"mm": [("ST2.9", 2.4), ("ST3.5", 2.9), ("ST4.2", 3.4), ("ST4.8", 4.0)], "in": [("#6", .106), ("#8", .125), ("#10", .144)]}
SIZES = {"mm": [2.5, 2.8, 3.2, 3.3, 3.4, 3.6, 3.65, 4.2, 4.3, 4.5, 4.6, 5, 5.3, 5.5, 6, 6.4, 6.6, 7, 8, 8.4, 9, 10, 10.5, 11, 12,
                13, 14, 16, 18, 20, 22.5, 25],
         "in": [.098, .106, .116, .125, .144, .147, .156, .166, .177, .188, .190, .201, .213, .224, .250, .257, .281, .313,
                .328, .344, .375, .406, .437, .500, .562, .625, .750, .875, 1.0]}


@dataclass
class Written:
    """A callout and its truth; lengths of the truth in mm."""

    lines: list
    size: float  # what the circle is drawn with, in the drawing's unit, before the view's scale
    count: int
    truth: dict
    features: list
    extra: dict = field(default_factory=dict)  # counterbore, countersink, major: circles drawn around (in unit)
    pieces: dict = field(default_factory=dict)  # for tables and styled dimensions

    def __post_init__(self):
        self.lines = [part for line in self.lines for part in line.split("\n")]


class Style:
    """How this drafter writes numbers and words on one drawing."""

    def __init__(self, rng, unit, language):
        self.rng, self.unit, self.language = rng, unit, language
        self.comma = language in words.COMMA and rng.random() < 0.7
        self.leading = rng.random() < 0.4  # 0.224 instead of .224
        self.places = rng.choice([None, None, 2]) if unit == "mm" else 3
        self.space = rng.choice(["", "", " "])  # after the diameter sign
        self.shifted = True  # whether both deviations may have one sign
        self.quote = unit == "in" and rng.random() < 0.15
        self.millimetres = unit == "mm" and rng.random() < 0.06

    def word(self, table):
        """A word of the drawing's language; now and then the English one, as drawings of the trade mix them."""
        language = "en" if self.rng.random() < 0.15 else self.language
        return self.rng.choice(table[language])

    def number(self, value, places=None):
        places = self.places if places is None else places
        text = f"{value:.{places}f}" if places is not None else f"{round(value, 4):g}"
        if self.unit == "in" and not self.leading and text.startswith("0."):
            text = text[1:]
        return text.replace(".", ",") if self.comma else text

    def decimals(self, text):
        return len(text.replace(",", ".").partition(".")[2])


def limits_of_fit(nominal_mm, grade):
    for upper, row in IT:
        if nominal_mm <= upper:
            return row[grade - 6] / 1000.0
    return None


def general_limits(sheet_tolerance, nominal, decimals, unit):
    """Magnitude (in unit) of the sheet's general tolerance for this size, or none."""
    if sheet_tolerance is None:
        return None
    kind, value = sheet_tolerance
    if kind == "flat":
        return value
    if kind == "decimals":
        return value.get(decimals)
    mm = nominal * MM[unit]
    for i, upper in enumerate([3, 6, 30, 120]):
        if mm <= upper:
            return ISO2768[value][i] / MM[unit]
    return None


def write(style, count, sheet_tolerance, wanted, kinds):
    """A callout for `count` holes of a size that `wanted(size)` accepts, or none."""
    rng = style.rng
    kind = rng.choices([k for k, _ in kinds], [w for _, w in kinds])[0]
    make = {"plain": plain, "blind": blind, "counterbore": counterbore, "countersink": countersink, "tapped": tapped,
            "pilot": pilot, "screw": screw, "drill": drill, "fraction": fraction, "dual": dual, "process": process,
            "radius": radius, "spaced": spaced}[kind]
    for _ in range(30):
        written = make(style, count, sheet_tolerance)
        if written is not None and wanted(written.size):
            if any("DRILL" in line for line in written.lines):
                written.truth["process"] = "drilled"
            written.features.append(f"form:{kind}")
            written.features.append(f"language:{style.language}")
            return written
    return None


def counted(style, count, body, features, equal=False):
    """The first line with its count."""
    rng = style.rng
    if count == 1:
        if rng.random() < 0.06:
            features.append("count:1X")
            return "1X " + body
        return body
    if rng.random() < 0.7:
        language = "en" if rng.random() < 0.15 else style.language
        form = rng.choice(words.COUNT_BEFORE[language])
        if form == "{}-" and not body.startswith("§"):
            form = "{}X "
        features.append("count:" + form.strip().format("n"))
        return form.format(count) + body
    form = style.word(words.COUNT_AFTER)
    if equal and rng.random() < 0.5 and style.language == "en":
        form = " {} EQ SP"
    if style.language == "en" and rng.random() < 0.06:
        features.append("count:TYP")
        return body + " TYP"
    features.append("count:" + form.strip().format("n"))
    if rng.random() < 0.2:
        features.append("count:own-line")
        return f"{body}\n{form.strip(' ,').format(count)}"
    return body + form.format(count)


def diameter(style, text, features):
    rng = style.rng
    if style.quote:
        text += '"'
        features.append("sign:inch-mark")
    if style.millimetres:
        text += "mm"
        features.append("sign:mm")
    if style.language == "en" and rng.random() < 0.12:
        sign = rng.choice([" DIA", " DIA.", " DIAM", "DIA {}", "DIA. {}"])
        features.append("sign:" + sign.strip())
        return sign.format(text) if "{}" in sign else text + sign
    return "§" + style.space + text


def nominal_of(style):
    rng = style.rng
    value = rng.choice(SIZES[style.unit])
    text = style.number(value)
    return float(text.replace(",", ".")), text


def tolerance(style, nominal, text, features, sheet_tolerance):
    """Text after the size, (min, max) in unit or none, and whether the size itself is replaced by limits."""
    rng = style.rng
    mm = style.unit == "mm"
    pick = rng.random()
    places = max(2, style.decimals(text)) if mm else 3
    say = lambda v: style.number(v, places)
    if pick < 0.38:
        features.append("tolerance:none")
        magnitude = general_limits(sheet_tolerance, nominal, style.decimals(text), style.unit)
        if magnitude is None:
            return "", None, "none", False
        features.append("tolerance:general-" + sheet_tolerance[0])
        return "", (nominal - magnitude, nominal + magnitude), "drawing", False
    step = rng.choice([0.03, 0.05, 0.1, 0.02]) if mm else rng.choice([.001, .002, .003, .005])
    if pick < 0.55:
        form = rng.choice(["¤{}", " ¤{}", " +/-{}", " ±{}"])
        features.append("tolerance:" + form.strip().format("t"))
        return form.format(say(step)), (nominal - step, nominal + step), "callout", False
    if pick < 0.80:
        upper, lower = rng.choice([(step, 0.0), (step, 0.0), (2 * step, -step), (step, -2 * step), (0.0, -step), (3 * step, step)][:5 + style.shifted])
        signed = lambda v: "0" if v == 0 else f"{v:+.{places}f}"
        def dress(t):
            if not mm and not style.leading:
                t = t.replace("+0.", "+.").replace("-0.", "-.")
            return t.replace(".", ",") if style.comma else t
        up, low = dress(signed(upper)), dress(signed(lower))
        zero = rng.choice(["0", "-0", None])
        if zero is None:
            zero = dress(f"-{0:.{places}f}")
        low = zero if lower == 0 else low
        up = rng.choice(["0", "+0", dress(f"+{0:.{places}f}")]) if upper == 0 else up
        form = rng.choice([" {}/{}", " {} {}", " [S|{}|{}]", "[S|{}|{}]", " {}/{}"])
        features.append("tolerance:" + ("stacked" if "S" in form else form.strip().format("+a", "-b")))
        return form.format(up, low), (nominal + lower, nominal + upper), "callout", False
    if pick < 0.92:
        low, high = nominal, nominal + rng.choice([2, 3]) * step
        form = rng.choice(["{h}/{l}", "{l}-{h}", "{l}/{h}", "{h}-{l}", "[S|{h}|{l}]", "{h} - {l}"])
        features.append("tolerance:limits " + form.replace("{", "").replace("}", ""))
        return form.format(h=say(high), l=say(low)), (low, high), "callout", True
    grade = rng.choice([7, 8, 9, 11, 12, 13])
    if not mm:
        return tolerance(style, nominal, text, features, sheet_tolerance)
    width = limits_of_fit(nominal, grade)
    features.append("tolerance:fit")
    return f"{rng.choice(['', ' '])}H{grade}", (nominal, nominal + width), "callout", False


def sized(style, sheet_tolerance, features):
    """`§3.65 +0.05/0` with its truth."""
    nominal, text = nominal_of(style)
    after, limits, source, replaced = tolerance(style, nominal, text, features, sheet_tolerance)
    unit = MM[style.unit]
    truth = {"nominal_mm": nominal * unit, "tolerance_source": source, "min_mm": None, "max_mm": None}
    if limits:
        truth["min_mm"], truth["max_mm"] = limits[0] * unit, limits[1] * unit
    pieces = {"text": text, "after": after, "replaced": replaced, "nominal": nominal, "limits": limits}
    if replaced:
        truth["nominal_mm"] = None
        size = sum(limits) / 2.0
        if after.startswith("[S") or style.rng.random() < 0.9:
            body = "§" + after
        else:
            body = after + " DIA"
        return body, size, truth, pieces
    apart = " " if style.millimetres and after.startswith("H") else ""
    return diameter(style, text, features) + apart + after, nominal, truth, pieces


def ending(style, features):
    """Through, or nothing said."""
    if style.rng.random() < 0.55:
        word = style.word(words.THROUGH)
        features.append("depth:" + word)
        return " " + word, True
    return "", False


def plain(style, count, sheet_tolerance):
    features = []
    body, size, truth, pieces = sized(style, sheet_tolerance, features)
    end, through = ending(style, features)
    truth["through"] = through
    first = counted(style, count, body + end, features, equal=True)
    return Written([first], size, count, truth, features, pieces={**pieces, "end": end})


def blind(style, count, sheet_tolerance):
    features = []
    body, size, truth, pieces = sized(style, sheet_tolerance, features)
    depth = style.rng.choice([4, 5, 6, 8, 10, 12, 15]) if style.unit == "mm" else style.rng.choice([.19, .25, .31, .38, .5, .75])
    form = style.word(words.DEPTH)
    features.append("depth:" + form.format("n"))
    text = style.number(depth)
    depth = float(text.replace(",", "."))
    truth["depth_mm"] = depth * MM[style.unit]
    end = " " + form.format(text)
    first = counted(style, count, body + end, features)
    return Written([first], size, count, truth, features, pieces={**pieces, "end": end, "depth": text})


def process(style, count, sheet_tolerance):
    features = []
    body, size, truth, pieces = sized(style, sheet_tolerance, features)
    word, name = style.word(words.PROCESS)
    features.append("process:" + name)
    truth["process"] = name
    body = f"{body} {word}" if style.rng.random() < 0.6 or style.language == "ja" else f"{word} {body}"
    end, through = ending(style, features)
    truth["through"] = through
    first = counted(style, count, body + end, features)
    return Written([first], size, count, truth, features)


def joined(style, first, second, features):
    """Two features of one callout: a new line, a slash or a blank."""
    way = style.rng.choice(["line", "line", "line", "slash", "blank", "comma"])
    features.append("joined:" + way)
    if way == "line":
        return [first, second]
    if "\n" in first:
        return [first, second]
    return [first + {"slash": " / ", "blank": "  ", "comma": ", "}[way] + second]


def counterbore(style, count, sheet_tolerance):
    features = []
    body, size, truth, _ = sized(style, sheet_tolerance, features)
    outer = round(size * style.rng.choice([1.6, 1.75, 2.0]), 1 if style.unit == "mm" else 2)
    deep = round(size * 0.6, 1 if style.unit == "mm" else 2)
    end, through = ending(style, features)
    form = style.word(words.COUNTERBORE)
    features.append("entry:" + form)
    outer_text, deep_text = style.number(outer), style.number(deep)
    second = form.format(d=outer_text, p=deep_text)
    value = lambda t: float(t.replace(",", ".")) * MM[style.unit]
    truth.update(through=through, counterbore_mm=value(outer_text), counterbore_depth_mm=value(deep_text) if "{p}" in form else None)
    first = counted(style, count, body + end, features)
    return Written(joined(style, first, second, features), size, count, truth, features,
                   {"counterbore": value(outer_text) / MM[style.unit]})


def countersink(style, count, sheet_tolerance):
    features = []
    body, size, truth, _ = sized(style, sheet_tolerance, features)
    outer = round(size * style.rng.choice([1.8, 2.0, 2.1]), 1 if style.unit == "mm" else 2)
    angle = 90 if style.unit == "mm" else style.rng.choice([82, 100])
    end, through = ending(style, features)
    form = style.word(words.COUNTERSINK)
    features.append("entry:" + form)
    text = style.number(outer)
    outer = float(text.replace(",", "."))
    truth.update(through=through, countersink_mm=outer * MM[style.unit], countersink_deg=float(angle))
    first = counted(style, count, body + end, features)
    return Written(joined(style, first, form.format(d=text, a=angle), features), size, count, truth, features,
                   {"countersink": outer})


def thread_text(style, features):
    """Name as written, canonical start, major, drill in unit."""
    rng = style.rng
    if style.unit == "mm":
        name, pitch, major, tap = rng.choice(METRIC)
        text = name + rng.choice(["", f"x{pitch}", f"X{pitch}", f"x{pitch.replace('.', ',')}" if style.comma else f" x {pitch}"])
        text += rng.choice(["", "", "-6H"]) if "x" in text.lower() else ""
        return text, name, major, tap, None
    name, series, major, drill_name, tap = rng.choice(INCH)
    text = name + rng.choice(["", f" {series}", f" {series}-2B"])
    return text, name, major, tap, drill_name


def tapped(style, count, sheet_tolerance):
    features = []
    text, name, major, tap, _ = thread_text(style, features)
    word = style.word(words.TAP)
    word = "" if style.rng.random() < 0.4 else " " + word
    features.append("tap:" + (word.strip() or "thread alone"))
    truth = {"nominal_mm": None, "min_mm": None, "max_mm": None, "unsized": True, "thread": name}
    if word:
        truth["tapped"] = True
    end, through = ending(style, features)
    if "THRU" in word or "DURCH" in word:
        end, through = "", True
    truth["through"] = through
    first = counted(style, count, text + word + end, features)
    return Written([first], tap, count, truth, features, {"major": major}, pieces={"thread": text})


def pilot(style, count, sheet_tolerance):
    features = []
    text, name, major, tap, drill_name = thread_text(style, features)
    word = style.word(words.TAP)
    features.append("tap:" + word)
    if drill_name and style.rng.random() < 0.5:
        size = f"{drill_name} DRILL"
    elif style.unit == "mm":
        size = "§" + style.space + style.number(tap, 1)
    else:
        size = "§" + style.space + style.number(tap, 4 if round(tap, 3) != tap else 3)
    end, through = ending(style, features)
    # No tolerance is stated for a tap drill; what holds for it is not asked here.
    truth = {"nominal_mm": tap * MM[style.unit], "min_mm": None, "max_mm": None, "thread": name, "tapped": True, "through": through or "THRU" in word or "DURCH" in word}
    first = counted(style, count, size + end, features)
    second = word + " " + text if style.rng.random() < 0.3 and "THRU" not in word and "DURCH" not in word else text + " " + word
    return Written(joined(style, first, second, features), tap, count, truth, features, {"major": major})


def screw(style, count, sheet_tolerance):
    features = []
    name, hole = style.rng.choice(ROLLING[style.unit])
    text = style.number(hole, 2 if style.unit == "mm" else 3)
    step = 0.02 if style.unit == "mm" else .001
    body = diameter(style, text, features) + style.rng.choice([" ±{}", " ¤{}"]).format(style.number(step))
    end, through = ending(style, features)
    form = style.word(words.SCREW)
    features.append("screw:" + form)
    length = None
    if style.rng.random() < 0.3:
        length, written = style.rng.choice([(10, "10"), (12, "12"), (16, "16")] if style.unit == "mm" else [(.5, "1/2"), (.375, "3/8"), (.5, ".50")])
        named = name + style.rng.choice(["x{}", " x {}", "X{}"] if style.unit == "mm" else [" x {}", " X {}"]).format(written)
        features.append("screw:length")
    else:
        named = name
    unit = MM[style.unit]
    truth = {"nominal_mm": hole * unit, "min_mm": (hole - step) * unit, "max_mm": (hole + step) * unit,
             "tolerance_source": "callout", "through": through, "screw": name, "screw_length_mm": length and length * unit}
    first = counted(style, count, body + end, features)
    return Written(joined(style, first, form.format(named), features), hole, count, truth, features)


def drill(style, count, sheet_tolerance):
    if style.unit != "in":
        return None
    features = []
    name, size = style.rng.choice(DRILLS)
    if name.startswith("#"):
        form = style.rng.choice(["{} DRILL", "NO. {} DRILL", "No. {}", "{} (§{d})", "{} DRILL (§{d})", "§{d} ({} DRILL)"])
        text = form.format(name if "NO" not in form.upper() else name[1:], d=style.number(size, 4))
    else:
        form = style.rng.choice(['"{}" DRILL', "{} DRILL", "LTR {} DRILL", "§{d} ({} DRILL)"])
        text = form.format(name, d=style.number(size, 4))
    features.append("drill:" + form)
    end, through = ending(style, features)
    truth = {"nominal_mm": size * 25.4, "min_mm": None, "max_mm": None, "through": through}
    return Written([counted(style, count, text + end, features)], size, count, truth, features)


def fraction(style, count, sheet_tolerance):
    if style.unit != "in":
        return None
    features = []
    text = style.rng.choice(FRACTIONS)
    top, bottom = text.split("/")
    size = int(top) / int(bottom)
    if style.rng.random() < 0.15:
        text, size = f"1 {text}" if style.rng.random() < 0.5 else f"1-{text}", 1 + size
        features.append("fraction:mixed")
    features.append("sign:fraction")
    body = style.rng.choice(["§{}", "{} DIA", "{} DRILL", '§{}"']).format(text)
    end, through = ending(style, features)
    truth = {"nominal_mm": size * 25.4, "min_mm": None, "max_mm": None, "through": through}
    return Written([counted(style, count, body + end, features)], size, count, truth, features)


def dual(style, count, sheet_tolerance):
    features = ["second-unit"]
    nominal, text = nominal_of(style)
    if style.unit == "mm":
        other = f"{nominal / 25.4:.3f}"
        other = other[1:] if other.startswith("0") else other
    else:
        other = f"{nominal * 25.4:.2f}"
    form = style.rng.choice(["{} [{}]", "{} ({})", "{} [§{}]", "{}[{}]"])
    unit = MM[style.unit]
    magnitude = general_limits(sheet_tolerance, nominal, style.decimals(text), style.unit)
    truth = {"nominal_mm": nominal * unit, "min_mm": None, "max_mm": None, "tolerance_source": "none"}
    if magnitude is not None:
        truth.update(min_mm=(nominal - magnitude) * unit, max_mm=(nominal + magnitude) * unit, tolerance_source="drawing")
    body = form.format("§" + style.space + text, other)
    end, through = ending(style, features)
    truth["through"] = through
    return Written([counted(style, count, body + end, features)], nominal, count, truth, features)


def radius(style, count, sheet_tolerance):
    """The radius of a hole, which only says that it is one by going through."""
    features = ["sign:R"]
    size = style.rng.choice(SIZES[style.unit])
    text = style.number(size / 2, 2 if style.unit == "mm" else 4)
    size = 2 * float(text.replace(",", "."))
    word = style.word(words.THROUGH)
    features.append("depth:" + word)
    truth = {"nominal_mm": size * MM[style.unit], "tolerance_source": None, "through": True}
    return Written([counted(style, count, f"R{style.space}{text} {word}", features)], size, count, truth, features)


def spaced(style, count, sheet_tolerance):
    """A hole for a screw with a spaced thread (ISO 1478 sizes; inch sizes by number)."""
    features = []
    name, hole = style.rng.choice(SPACED[style.unit])
    text = style.number(hole, 1 if style.unit == "mm" else 3)
    step = 0.05 if style.unit == "mm" else .002
    body = diameter(style, text, features) + f" ¤{style.number(step)}"
    form = style.word(words.SPACED)
    features.append("spaced:" + form)
    unit = MM[style.unit]
    truth = {"nominal_mm": hole * unit, "min_mm": (hole - step) * unit, "max_mm": (hole + step) * unit, "tolerance_source": "callout"}
    first = counted(style, count, body, features)
    return Written(joined(style, first, form.format(name.replace(".", ",") if style.comma else name), features), hole, count, truth, features)


# -- codes of the carrier ------------------------------------------------------------------------------------------

TEXT_SIGNS = ["%%c", "%%C", "Ø", "ø", "%%129", "\\U+2205", "\\U+00D8", "∅", "⌀", "φ", "Φ"]
MTEXT_SIGNS = ["Ø", "ø", "∅", "⌀", "%%c", "%%C", "\\U+2205", "\\U+2300", "φ", "{\\Fgdt|b0|i0;n}", "{\\Famgdt;n}"]
OLD_SIGNS = ["%%c", "%%C", "%%c", "Ø", "%%129"]


def sign_for(rng, old, mtext):
    return rng.choice(OLD_SIGNS if old else MTEXT_SIGNS if mtext else TEXT_SIGNS)


def render(line, sign, mtext, rng):
    """The line in the codes of TEXT, or of MTEXT and dimension texts."""
    if sign.startswith("{\\F"):
        # Whoever takes the diameter sign from a symbol font takes the other signs from it too.
        for symbol, letter in (("↧", "x"), ("⌴", "v"), ("⌵", "w")):
            line = line.replace(symbol, sign.replace(";n}", f";{letter}}}"))
    line = line.replace("§", sign)
    line = line.replace("¤", rng.choice(["%%p", "±"]))
    if not mtext:
        line = line.replace("°", rng.choice(["%%d", "°"]))
    while "[S|" in line:
        start = line.index("[S|")
        end = line.index("]", start)
        upper, lower = line[start + 3:end].split("|")
        if mtext:
            around = rng.choice(["\\S{}^{};", "\\S{}^ {};", "{{\\H0.7x;\\S{}^{};}}"]).format(upper, lower)
        else:
            around = f" {upper}/{lower}" if not line[:start].endswith(("§", sign)) else f"{upper}/{lower}"
        line = line[:start] + around + line[end + 1:]
    return line
