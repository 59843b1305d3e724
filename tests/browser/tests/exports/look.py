"""What Python's own XML parser (expat) finds in a printed page, and its zipfile in a bundle."""

import base64, hashlib, json, sys, zipfile
import xml.etree.ElementTree as ET


def digest(data):
    return base64.urlsafe_b64encode(hashlib.sha256(data).digest()).decode().rstrip("=")


root = ET.fromstring(open(sys.argv[1], encoding="utf-8").read())
local = lambda tag: tag.rsplit("}", 1)[-1]
images, outside = [], []
for element in root.iter():
    for name, value in element.attrib.items():
        if local(name) in ("src", "href", "srcset", "data", "action", "background") or name.startswith("on"):
            if value.startswith("data:image/jpeg;base64,"):
                images.append(digest(base64.b64decode(value.split(",", 1)[1], validate=True)))
            else:
                outside.append([local(element.tag), name])

with zipfile.ZipFile(sys.argv[2]) as bundle:
    damaged = bundle.testzip()
    files = {info.filename: bundle.read(info) for info in bundle.infolist()}

json.dump(
    {
        "tags": sorted({local(element.tag) for element in root.iter()}),
        "text": " ".join(" ".join(root.itertext()).split()),
        "images": images,
        "outside": outside,
        "damaged": damaged,
        "digests": {name: digest(data) for name, data in files.items()},
    },
    sys.stdout,
)
