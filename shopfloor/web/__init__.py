"""Blueprints: office, phone, sync, doors.  The only place that speaks HTTP."""
