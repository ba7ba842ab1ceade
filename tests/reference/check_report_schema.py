#!/usr/bin/env python3
"""Holds reports against a schema: check_report_schema.py SCHEMA.json REPORTS.json

REPORTS.json has an array of pairs: what a report is called, and the report. Prints a line for each that the schema does not take: its name, the place and the reason.
Needs the package jsonschema (4.0 or newer); without it the status is 77.
"""
import json
import sys

try:
    from jsonschema import Draft202012Validator
except ImportError:
    sys.exit(77)

with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
with open(sys.argv[2], encoding="utf-8") as file:
    reports = json.load(file)
Draft202012Validator.check_schema(schema)
whole = Draft202012Validator(schema)
one = Draft202012Validator({"$defs": schema["$defs"], "$ref": "#/$defs/report"})
for name, report in reports:
    if not whole.is_valid(report):
        for found in one.iter_errors(report):
            place = "/".join(map(str, found.absolute_path))
            print(f"{name}\t{place}\t{found.message[:200]}")
