"""The office: pages for the computer that serves the shop.  Importing this gives the blueprint with all its pages."""

from __future__ import annotations

from shopfloor.web import (
    office_design,
    office_intake,
    office_jobs,
    office_joints,
    office_lines,
    office_lumber,
    office_phones,
    office_plans,
    office_rack,
    office_revisions,
    office_shop,
)
from shopfloor.web.office_pages import blueprint

__all__ = [
    "blueprint", "office_design", "office_intake", "office_jobs", "office_joints", "office_lines", "office_lumber",
    "office_phones", "office_plans", "office_rack", "office_revisions", "office_shop",
]  # fmt: skip
