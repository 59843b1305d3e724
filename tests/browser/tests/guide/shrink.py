"""Makes the pictures of the user guide small: FOLDER/guide-NAME.png to docs/guide/images/NAME.webp, in twelve colours.

    pip install pillow==13.0.0
    python3 tests/browser/tests/guide/shrink.py target/screenshots/guide
"""

import pathlib
import sys

from PIL import Image

COLOURS = 12
OUT = pathlib.Path(__file__).resolve().parents[4] / "docs" / "guide" / "images"

for file in sorted(pathlib.Path(sys.argv[1]).glob("guide-*.png")):
    picture = Image.open(file).convert("RGB")
    few = picture.quantize(COLOURS, method=Image.Quantize.MAXCOVERAGE, kmeans=4, dither=Image.Dither.NONE)
    small = OUT / (file.stem.removeprefix("guide-") + ".webp")
    few.convert("RGB").save(small, "WEBP", lossless=True, quality=100, method=6)
    print(small.name, small.stat().st_size)
