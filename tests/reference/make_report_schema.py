#!/usr/bin/env python3
"""Writes assets/formats/report.schema.json anew from the tables of assets/formats/report.md.

A row there is a key's path, its unit or kind, and what it means; tests/command_line/schema.rs holds both files and the reports against each other.
"""
import json
import pathlib
import re

FORMATS = pathlib.Path(__file__).resolve().parents[2] / "assets" / "formats"
WORDS = {"word", "text"}


def rows():
    for line in (FORMATS / "report.md").read_text(encoding="utf-8").splitlines():
        found = re.match(r"\| `([^`]+)` \| ([^|]+) \| (.*) \|$", line)
        if found:
            yield found.group(1), found.group(2).strip(), found.group(3)


def kind_of(unit, meaning):
    """The type of a key's value, and what is told of it."""
    bare = unit.removesuffix(" or null")
    may_be_null = bare not in ("object", "array") or unit != bare
    if bare in ("object", "array"):
        name, told = bare, meaning
    elif bare == "true, false":
        name, told = "boolean", meaning
    elif bare in WORDS:
        name, told = "string", meaning
    else:
        name, told = "number", meaning if bare == "number" else f"{bare}: {meaning}"
    if name not in ("object", "array") and meaning.startswith("array"):
        return {"type": "array", "items": {"type": [name, "null"]}, "description": told}
    return {"type": [name, "null"] if may_be_null else name, "description": told}


def put(root, path, kind):
    """Puts a key into the tree, below the objects and arrays that it stands in."""
    at = root
    *before, last = path.split(".")
    for step in before:
        name, is_array = step.removesuffix("[]"), step.endswith("[]")
        at = at["properties"][name]
        if is_array:
            at = at.setdefault("items", {"type": "object"})
        at.setdefault("properties", {})
        at.setdefault("required", [])
    at.setdefault("properties", {})[last] = kind
    at.setdefault("required", []).append(last)


def main():
    report = {"type": "object", "properties": {}, "required": []}
    for path, unit, meaning in rows():
        put(report, path, kind_of(unit, meaning))
    report["properties"]["tapcross_report"] = {
        "const": 1,
        "description": report["properties"]["tapcross_report"]["description"],
    }
    tap = report["properties"]["taps"].pop("items")
    ref = {"$ref": "#/$defs/tap"}
    report["properties"]["taps"]["items"] = ref
    # A tap with changes has what every tap has, but no tap of its own after them.
    tap["required"].remove("after")
    report["properties"]["after"]["properties"]["taps"]["items"] = ref
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:tapcross:report:1",
        "title": "Tapcross results",
        "description": "One job gives one object, several give an array of them. Keys may be added; readers pass over those that they do not know.",
        "oneOf": [{"$ref": "#/$defs/report"}, {"type": "array", "items": {"$ref": "#/$defs/report"}}],
        "$defs": {"report": report, "tap": tap},
    }
    text = json.dumps(schema, ensure_ascii=False, indent=1)
    (FORMATS / "report.schema.json").write_text(text + "\n", encoding="utf-8")


main()
