"""The smallest label still says whose it is."""

from __future__ import annotations

import pypdfium2
import pytest

from shopfloor.intake.demo import demo_job
from shopfloor.paper.labels import labels_of, labels_pdf, sheet
from shopfloor.trade.code import codes
from shopfloor.trade.part import Unit
from shopfloor.trade.sheet import sheets, stack_key


@pytest.mark.parametrize("host", ["", "shop.local:8443"])
def test_every_label_of_the_demo_bears_its_name_on_the_smallest_sheet(host: str) -> None:
    job = demo_job()
    keys = [stack_key(one.key) for one in job.assemblies] + [part.key for line in job.lines for part in line.parts]
    given = {key: code for key, (_, code) in zip(keys, codes(1), strict=False)}
    labels = labels_of(sheets(job, given))

    made = labels_pdf(labels, sheet("25x25"), unit=Unit.INCH, denominator=16, host=host, title="Labels")

    document = pypdfium2.PdfDocument(made)
    nameless = [
        label.name
        for label, page in zip(labels, document, strict=True)
        if (label.stack_name if label.kind == "stack" else label.name).split()[0]
        not in page.get_textpage().get_text_bounded()
    ]
    document.close()
    assert nameless == []
