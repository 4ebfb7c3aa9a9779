"""Every module that a command loads once it is asked for: here they are loaded once for all.

A test's process that is forked has what the tests' own has, and would load all else anew each time.
"""

from __future__ import annotations

from drapetemplate.cli import app, rendering
from drapetemplate.cli.commands import (
    calibrate,
    compare,
    cutfile,
    make,
    measure,
    new,
    order,
    picture,
    plan,
    recall,
    schema,
    shelf,
)
from drapetemplate.document import job_document
from drapetemplate.measure import check_pdf
from drapetemplate.record import read, write
from drapetemplate.render import backend, dxf, pdf, svg
from drapetemplate.report import compare_text, joint_text, plan_json, plan_text, shelf_text

LOADED = (
    (app, rendering, job_document, check_pdf, read, write, backend, dxf, pdf, svg),
    (calibrate, compare, cutfile, make, measure, new, order, picture, plan, recall, schema, shelf),
    (compare_text, joint_text, plan_json, plan_text, shelf_text),
)
