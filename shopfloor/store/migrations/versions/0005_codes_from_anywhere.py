"""Codes begin anywhere each time they are given: a copy put back must not give those again that are printed already.

Revision ID: 0005
Revises: 0004
"""
from alembic import op


revision = '0005'
down_revision = '0004'
branch_labels = None
depends_on = None


def upgrade():
    op.execute('UPDATE shop SET next_serial = -1')


def downgrade():
    # Where it stood is not known any more; the program of before begins in the middle and skips nothing.
    op.execute('UPDATE shop SET next_serial = abs(random() % 33554432)')
