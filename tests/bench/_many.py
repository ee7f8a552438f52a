"""A job of many parts: the demo cabinet again and again, as a shop that builds a whole choir room would have it."""

from __future__ import annotations

from dataclasses import replace

from shopfloor.intake.demo import demo_job
from shopfloor.trade.part import Job


def many(parts: int) -> Job:
    """The demo job repeated until it has at least `parts` parts, as one job; keys and pair letters stay unique."""
    demo = demo_job()
    own = sum(len(line.parts) for line in demo.lines)
    copies = -(-parts // own)
    assemblies, lines, joints = [], [], []
    stacks = len(demo.assemblies)
    for n in range(copies):
        for one in demo.assemblies:
            within = f"{one.within}~{n}" if one.within else ""
            number = one.number + n * stacks
            assemblies.append(replace(one, key=f"{one.key}~{n}", number=number, within=within, made_by=""))
        for line in demo.lines:
            made = tuple(replace(part, key=f"{part.key}~{n}") for part in line.parts)
            # Each cabinet is a little wider, so that drawings differ as they would.
            lines.append(
                replace(
                    line,
                    key=f"{line.key}~{n}",
                    assembly=f"{line.assembly}~{n}",
                    width=line.width + n * 25_400,
                    parts=made,
                )
            )
        for joint in demo.joints:
            enters = replace(joint.enters, part=f"{joint.enters.part}~{n}")
            takes = replace(joint.takes, part=f"{joint.takes.part}~{n}")
            number = joint.letter.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
            letter = joint.letter and f"{int(number) + n * stacks}{joint.letter[len(number) :]}"
            joints.append(replace(joint, key=f"{joint.key}~{n}", enters=enters, takes=takes, letter=letter))
    return replace(
        demo,
        key="choir-room",
        name="Choir room",
        assemblies=tuple(assemblies),
        lines=tuple(lines),
        joints=tuple(joints),
        constructions=(),
    )
