"""What a maker works out: lengths, parts, joints, layout.  Pure: no web, no database, no files."""
