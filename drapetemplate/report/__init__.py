"""The plan and its counts side by side: for a terminal, a program, a spreadsheet."""

from drapetemplate.report.plan_json import as_json, compare_json

__all__ = ["as_json", "compare_json"]
