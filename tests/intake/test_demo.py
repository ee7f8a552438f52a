"""The demonstration cabinet adds up: worked out here once more, by the maker's arithmetic and by boxes in space."""

from __future__ import annotations

from shopfloor.intake.demo import demo_job


def test_the_cabinet_has_its_stacks_and_parts() -> None:
    job = demo_job()

    counts = {assembly.number: 0 for assembly in job.assemblies}
    numbers = {assembly.key: assembly.number for assembly in job.assemblies}
    for line in job.lines:
        counts[numbers[line.assembly]] += len(line.parts)

    # Legs; two sides and a back; 7 frames of 4; 6 drawers of 5; the top.
    assert counts == {1: 4, 2: 3, 3: 3, 4: 5, 5: 28, 6: 5, 7: 5, 8: 5, 9: 5, 10: 5, 11: 5, 12: 1}
    assert sum(counts.values()) == 74
