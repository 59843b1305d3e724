"""A page as two parsers read it: expat (XML 1.0) and html5lib (the HTML standard's algorithm, in strict reporting)."""

import base64, hashlib, json, re, sys
import xml.etree.ElementTree as ET

import html5lib

page = json.load(sys.stdin)["page"]
local = lambda tag: tag.rsplit("}", 1)[-1]
root = ET.fromstring(page)
xml = list(root.iter())
parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"))
html = list(parser.parse(page).iter())

outside, images, drawn, colours = [], [], [], []
for element in xml:
    for name, value in element.attrib.items():
        if local(name) in ("src", "href", "action", "data", "poster", "background", "srcset", "style"):
            if value.startswith("data:image/jpeg;base64,"):
                file = base64.b64decode(value.split(",", 1)[1], validate=True)
                images.append(base64.urlsafe_b64encode(hashlib.sha256(file).digest()).decode().rstrip("="))
            else:
                outside.append([local(element.tag), name, value])
        if name.startswith("on"):
            outside.append([local(element.tag), name, value])
    if local(element.tag) == "svg" and element.attrib.get("class") == "drawn":
        drawn += [path.attrib["d"] for path in element]
    if local(element.tag) == "style":
        css = element.text
        outside += re.findall(r"url\(|@import|expression", css)
        for colour in re.findall(r"#([0-9a-fA-F]{3,8})\b", css):
            if len(set(colour)) != 1:
                colours.append(colour)
        colours += re.findall(r"rgb|hsl|oklch", css)

text = " ".join(" ".join(root.itertext()).split())
json.dump(
    {
        "xml_tags": [local(element.tag) for element in xml],
        "html_tags": [local(element.tag) for element in html if isinstance(element.tag, str)],
        "html_errors": [error[1] for error in parser.errors],
        "tags": sorted({local(element.tag) for element in xml}),
        "attributes": sorted({local(name) for element in xml for name in element.attrib}),
        "text": text,
        "images": images,
        "outside": outside,
        "drawn": drawn,
        "colours": colours,
    },
    sys.stdout,
)
