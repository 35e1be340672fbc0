"""Static fonts for the paper, cut from the variable ones of @fontsource-variable/archivo 5.3.0.
Usage: python3 tools/fonts/cutArchivo.py <folder of the package's files> <target file, archivo.br>; needs fonttools and brotli."""
import json
import sys
import tempfile
from io import BytesIO
from pathlib import Path

import brotli
from fontTools.merge import Merger
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib import instancer

# Name of the face: width, weight, slope.
CUTS = {
    "text": (82, 420, "normal"),
    "strong": (80, 640, "normal"),
    "figures": (70, 600, "normal"),
    "pencil": (82, 420, "italic"),
}
SUBSETS = ("latin", "latin-ext", "vietnamese")
# Kerning and joined accents stay; figures of equal width are what the files hold by default.
FEATURES = ["kern", "mark", "mkmk", "ccmp", "tnum", "lnum"]


def cut(source: Path, width: float, weight: float, slope: str, subset: str) -> TTFont:
    font = TTFont(source / f"archivo-{subset}-standard-{slope}.woff2")
    font = instancer.instantiateVariableFont(font, {"wdth": width, "wght": weight})
    options = Options()
    options.layout_features = FEATURES
    options.hinting = False
    options.notdef_outline = True
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[c for c in font.getBestCmap() if c != 0x0D])
    subsetter.subset(font)
    font.flavor = None
    return font


def name_it(font: TTFont, name: str) -> None:
    family = f"Archivo {name.capitalize()}"
    for record in font["name"].names:
        if record.nameID in (1, 4, 16):
            record.string = family
        elif record.nameID in (2, 17):
            record.string = "Regular"
        elif record.nameID == 6:
            record.string = family.replace(" ", "-")


def main(source: Path, target: Path) -> None:
    fonts = {}
    for name, (width, weight, slope) in CUTS.items():
        with tempfile.TemporaryDirectory() as folder:
            parts = []
            for subset in SUBSETS:
                part = Path(folder) / f"{subset}.ttf"
                cut(source, width, weight, slope, subset).save(part)
                parts.append(str(part))
            merged = Merger().merge(parts)
            name_it(merged, name)
            merged["head"].created = merged["head"].modified = 0
            merged.recalcTimestamp = False
            for tag in ("STAT", "gasp"):
                if tag in merged:
                    del merged[tag]
            whole = BytesIO()
            merged.save(whole)
            fonts[name] = whole.getvalue()
    # As src/host/vision/packedFiles.ts reads it.
    sizes = json.dumps({name: len(font) for name, font in fonts.items()}, separators=(",", ":"))
    target.write_bytes(brotli.compress(f"{sizes}\n".encode() + b"".join(fonts.values()), quality=11, lgwin=24))


main(Path(sys.argv[1]), Path(sys.argv[2]))
