"""Small helpers for writing XML.

In: names and texts. Out: elements and their text. Signs that XML cannot hold are dropped.

References
----------
XML 1.0, 5th ed., section 2.2 (which signs may stand in a document)

"""

from __future__ import annotations

import re
from xml.etree.ElementTree import Element, SubElement, indent, tostring

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def child(parent: Element, name: str, text: str = "", /, **attributes: str) -> Element:
    """An element at the end of another."""
    node = SubElement(parent, name, {key: _clean(value) for key, value in attributes.items()})
    node.text = _clean(text) or None
    return node


def xml_document(root: Element) -> str:
    """A document."""
    indent(root, " ")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{tostring(root, encoding="unicode")}\n'


def _clean(text: str) -> str:
    return _NOT_XML.sub("", text)
