"""Holds overlays and marked copies to ezdxf.

    marked.py [--versions] BOREBAND FOLDER TREE [OPTION...]

Copies TREE into FOLDER, checks it there with the OPTIONs, and has overlays and marked copies written. With --versions
the drawings are also saved anew in other versions and as binary files, and held to the same.

An overlay must be read without an error or a repair and hold nothing but marks. Of a marked copy:
- with our entities and layers taken out, and the old $HANDSEED put back, it is the drawing, byte for byte (pair for
  pair if it is binary), and $HANDSEED lies above every handle;
- every entity, table entry and object that ezdxf loads is what it was with all its groups. What a file lacks and ezdxf
  makes itself on loading (the SEQEND behind attributes, table heads, styles) has other handles in the copy, because ours
  come first; nothing else may differ;
- the auditor finds nothing that it does not find in the drawing;
- a check of it gives the same holes and findings as a check of the drawing.
"""

import collections
import json
import logging
import pathlib
import re
import shutil
import subprocess
import sys

import ezdxf
from ezdxf import recover
from ezdxf.lldxf.tagger import binary_tags_loader
from ezdxf.lldxf.tagwriter import TagCollector

OURS = "BOREBAND_"
BINARY = b"AutoCAD Binary DXF"
VERSIONS = [("R12", "asc"), ("R2000", "asc"), ("R2018", "asc"), ("R12", "bin"), ("R2000", "bin"), ("R2018", "bin")]


# What a file holds, pair for pair.

def lines_of(data):
    """Lines with their ends."""
    return re.findall(rb"[^\r\n]*(?:\r*\n|\r)|[^\r\n]+", data)


def pairs_of(data):
    """(code, value as written, bytes), one for each pair."""
    if data.startswith(BINARY):
        return [(tag.code, str(tag.value).encode(), (tag.code, repr(tag.value))) for tag in binary_tags_loader(data)]
    pairs, lines = [], iter(lines_of(data))
    for line in lines:
        # A blank line in front of a group code is borne, and anything behind the end.
        if not line.strip():
            pairs.append((999, b"", line))
            continue
        value = next(lines, b"")
        pairs.append((int(line), value.strip(), line + value))
        if pairs[-1][:2] == (0, b"EOF"):
            pairs.append((999, b"", b"".join(lines)))
    return pairs


def things_of(pairs):
    """The pairs from one of code 0 to the next."""
    thing = []
    for pair in pairs:
        if pair[0] == 0 and thing:
            yield thing
            thing = []
        thing.append(pair)
    yield thing


def seed_of(pairs):
    """Index of the value of $HANDSEED."""
    return next((n + 1 for n, pair in enumerate(pairs) if pair[:2] == (9, b"$HANDSEED")), None)


def handles_of(pairs):
    """The handles that things of a file have."""
    found = set()
    for thing in things_of(pairs):
        own = 105 if thing[0][1] == b"DIMSTYLE" else 5
        if thing[0][1] not in (b"SECTION", b"CLASS"):
            found.update([int(value, 16) for code, value, _ in thing if code == own][:1])
    return found


def is_our_thing(thing):
    code = 2 if thing[0][1] == b"LAYER" else 8
    return any(c == code and value.startswith(OURS.encode()) for c, value, _ in thing)


def hold_pairs(before, after):
    """The faults of the pairs of a copy."""
    old, new = pairs_of(before), pairs_of(after)
    kept = [pair for thing in things_of(new) if not is_our_thing(thing) for pair in thing]
    was, now = seed_of(old), seed_of(kept)
    handles = handles_of(new)
    if now is not None:
        if handles and max(handles) >= int(kept[now][1], 16):
            yield f"$HANDSEED {kept[now][1]} is not above {max(handles):X}"
        kept[now] = old[was]
    if len(handles) < len(handles_of(old)):
        yield "a handle is gone"
    content = [content for _, _, content in old]
    if [content for _, _, content in kept] != content:
        yield "there are other changes than marks"
    if not before.startswith(BINARY) and b"".join(content) != before:
        yield "not all bytes were compared"


# What ezdxf loads.

def read(path):
    """A document, and whether ezdxf reads it as it stands."""
    try:
        return ezdxf.readfile(path), True
    except (ezdxf.DXFError, UnicodeDecodeError, ValueError):
        return recover.readfile(path)[0], False


def audited(path):
    """How often each fault is found."""
    auditor = read(path)[0].audit()
    return collections.Counter(str(fault.code) for fault in auditor.errors + auditor.fixes)


def is_ours(entity):
    """Whether it is a mark or a layer of ours."""
    attribute = "name" if entity.dxftype() == "LAYER" else "layer"
    return entity.dxf.is_supported(attribute) and str(entity.dxf.get(attribute, "")).startswith(OURS)


def is_handle(code):
    return code in (5, 105, 480, 481, 1005) or 320 <= code < 370 or 390 <= code < 400


def content(document, written):
    """The groups of all that the document holds; a handle that is not `written` in the file is one that ezdxf made."""
    found = collections.Counter()
    for handle, entity in document.entitydb.items():
        if is_ours(entity):
            continue
        groups = []
        for tag in TagCollector.dxftags(entity):
            value = str(tag.value)
            if is_handle(tag.code) and not (re.fullmatch("[0-9A-Fa-f]+", value) and int(value, 16) in written):
                value = "made"
            groups.append((tag.code, value))
        found[(entity.dxftype(), tuple(groups))] += 1
    return found


def hold_documents(original, copy):
    """The faults of what ezdxf loads of a copy."""
    (before, plain), (after, still_plain) = read(original), read(copy)
    if plain and not still_plain:
        yield "it is no longer read as it stands"
    written = handles_of(pairs_of(original.read_bytes()))
    theirs, others = content(before, written), content(after, written)
    if not theirs:
        yield "nothing was compared"
    for name, difference in (("lost", theirs - others), ("new", others - theirs)):
        if difference:
            yield f"{sum(difference.values())} {name}: {str(list(difference)[0])[:300]}"
    ours = [entity for entity in after.entitydb.values() if is_ours(entity)]
    drawn = [entity for entity in ours if entity.dxftype() != "LAYER"]
    if not drawn or any(entity.dxftype() not in ("ARC", "LINE", "TEXT") for entity in drawn):
        yield "it holds no marks, or something else on their layers"
    layers = {entity.dxf.name for entity in ours if entity.dxftype() == "LAYER"}
    if layers and layers != {entity.dxf.layer for entity in drawn}:
        yield f"it has the layers {layers}, not those of its marks"
    placed = sum(is_ours(entity) for layout in after.layouts for entity in layout)
    if placed != len(drawn):
        yield f"{len(drawn) - placed} marks are in no layout"
    worse = audited(copy) - audited(original)
    if worse:
        yield f"the audit finds {dict(worse)}"


def hold_overlay(path):
    """The faults of an overlay."""
    found = audited(path)
    if found:
        yield f"the audit finds {dict(found)}"
    drawn = list(ezdxf.readfile(path).modelspace())
    if not drawn or not all(is_ours(entity) for entity in drawn):
        yield "it holds something else than marks"


# What the program finds.

def checked(program, tree, options, orders=()):
    """The drawings of a report, and what was said on standard error."""
    command = [program, "check", ".", "--format", "json", *options, *orders]
    run = subprocess.run(command, cwd=tree, capture_output=True, text=True, check=False)
    # A command that is refused as a whole says so without a report.
    return json.loads(run.stdout)["drawings"], run.stderr.splitlines()


def said(drawing):
    """What is the same in a marked copy: all but the bytes and the places in the file."""
    plain = {key: value for key, value in drawing.items() if key not in ("digest", "problems")}
    plain["findings"] = [{k: v for k, v in f.items() if k != "line"} for f in drawing["findings"]]
    return plain


def hold_tree(program, root, options):
    """Holds the drawings of root/drawings; the number of faults."""
    drawings = root / "drawings"
    orders = [f"--write=overlay={root / 'overlay'}", f"--write=marked={root / 'marked'}"]
    before, told = checked(program, drawings, options, orders)
    refused = [line for line in told if "no marked copy" in line or "no marks" in line]
    faults = []
    overlays = sorted((root / "overlay").rglob("*.[dD][xX][fF]"))
    for path in overlays:
        faults += [f"overlay {path}: {fault}" for fault in hold_overlay(path)]
    copies = sorted((root / "marked").rglob("*.[dD][xX][fF]"))
    shutil.copytree(drawings, root / "again")
    for copy in copies:
        relative = copy.relative_to(root / "marked")
        original = drawings / relative
        shutil.copy(copy, root / "again" / relative)
        found = list(hold_pairs(original.read_bytes(), copy.read_bytes()))
        try:
            found += hold_documents(original, copy)
        except Exception as error:  # What ezdxf cannot load at all.
            if not is_unreadable(original):
                found.append(f"ezdxf fails: {error!r}")
        faults += [f"{copy}: {fault}" for fault in found]
    after, _ = checked(program, root / "again", options)
    for one, other in zip(before, after, strict=True):
        if said(one) != said(other):
            keys = [key for key in one if said(one).get(key) != said(other).get(key)]
            faults.append(f"{root / 'again' / one['path']}: a check differs in {keys}")
    # Each drawing with something to mark has a copy, or is refused by name.
    due = sum(any(finding["waived"] is None for finding in drawing["findings"]) for drawing in before)
    if due != len(copies) + len([line for line in refused if "./" in line or ".dxf" in line.lower()]):
        faults.append(f"{due} drawings with findings, {len(copies)} copies, {len(refused)} refused")
    print(f"{root.name}: {len(overlays)} overlays, {len(copies)} marked copies, {len(refused)} refused, {len(faults)} faults")
    for line in refused + faults:
        print("  ", line)
    return len(faults) + (not overlays or not copies)


def is_unreadable(path):
    try:
        read(path)
    except Exception:
        return True
    return False


def saved_anew(tree, to, version, form):
    """Copies a tree with each drawing in another version."""
    shutil.copytree(tree, to)
    for path in to.rglob("*.dxf"):
        document = ezdxf.readfile(path)
        document.dxfversion = version
        document.saveas(path, fmt=form)


def main():
    # ezdxf warns of what a version cannot hold.
    logging.disable(logging.WARNING)
    arguments = sys.argv[1:]
    versions = VERSIONS if arguments[0] == "--versions" else []
    program, folder, tree, *options = arguments[bool(versions):]
    folder, program = pathlib.Path(folder).resolve(), str(pathlib.Path(program).resolve())
    shutil.rmtree(folder, ignore_errors=True)
    roots = [folder / "as-they-are"]
    shutil.copytree(tree, roots[0] / "drawings")
    for version, form in versions:
        roots.append(folder / f"{version}-{form}")
        saved_anew(tree, roots[-1] / "drawings", version, form)
    sys.exit(sum([hold_tree(program, root, options) for root in roots]) > 0)


if __name__ == "__main__":
    main()
