"""Holds a report in every form to published schemas and independent readers, and their sums to each other.

valid.py FOLDER SARIF_SCHEMA JUNIT_SCHEMA
"""

import csv
import json
import sys
from pathlib import Path

import jsonschema
import openpyxl
from lxml import etree


def main() -> None:
    folder, sarif_schema, junit_schema = map(Path, sys.argv[1:])
    report = json.loads((folder / "report.json").read_text("utf-8"))
    totals = report["totals"]
    findings = sum(totals[level] for level in ("fail", "warn", "note", "waived"))
    assert findings > 0 and totals["holes"] > 0, "the samples have holes and findings"

    log = json.loads((folder / "report.sarif").read_text("utf-8"))
    schema = json.loads(sarif_schema.read_text("utf-8"))
    validator = jsonschema.validators.validator_for(schema)
    wrong = [error.message for error in validator(schema, format_checker=validator.FORMAT_CHECKER).iter_errors(log)]
    assert not wrong, wrong
    results = log["runs"][0]["results"]
    assert len(results) == findings, "SARIF"
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    assert all(rules[result["ruleIndex"]]["id"] == result["ruleId"] for result in results)
    prints = [json.dumps(result["partialFingerprints"]) for result in results]
    assert len(set(prints)) == len(prints), "each result has a fingerprint of its own"

    suites = etree.parse(folder / "report.junit")
    etree.XMLSchema(etree.parse(junit_schema)).assertValid(suites)
    assert len(suites.findall("testsuite")) == totals["drawings"], "JUnit"
    cases = [case for case in suites.iter("testcase") if case.get("name") != "drawing"]
    assert len(cases) >= totals["screw_holes"], "JUnit"
    assert len(list(suites.iter("skipped"))) <= totals["undetermined"], "JUnit"

    with (folder / "report.csv").open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert sum(1 for row in rows if row["rule"]) == findings, "CSV"
    assert len({(row["drawing"], row["hole"]) for row in rows if row["hole"]}) == totals["holes"], "CSV"

    book = openpyxl.load_workbook(folder / "report.xlsx")
    assert book.sheetnames == ["Summary", "Drawings", "Holes", "Findings"]
    for sheet, count in (("Drawings", totals["drawings"]), ("Holes", totals["holes"]), ("Findings", findings)):
        page = book[sheet]
        assert page.max_row == count + 1, sheet
        assert page.freeze_panes == "B2" and page.auto_filter.ref, sheet
        assert not any(cell.data_type == "f" for row in page.iter_rows() for cell in row), "a formula"
    summary = {row[0]: row[1] for row in book["Summary"].iter_rows(min_row=5, max_col=2, values_only=True)}
    assert summary["holes"] == totals["holes"] and summary["findings of level fail"] == totals["fail"]
    print(f"all forms are valid and agree on {totals['holes']} holes and {findings} findings")


main()
