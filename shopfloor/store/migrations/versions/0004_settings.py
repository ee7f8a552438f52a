"""What a shop says about itself: its cutters, its seasons, the unit it thinks in.

Revision ID: 0004
Revises: 0003
"""
from alembic import op
import sqlalchemy as sa


revision = '0004'
down_revision = '0003'
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        'setting',
        sa.Column('name', sa.Text(), nullable=False),
        sa.Column('value', sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint('name', name=op.f('pk_setting')),
    )


def downgrade():
    op.drop_table('setting')
