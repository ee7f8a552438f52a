"""Labels of boards, and plans of which part comes from which board.

Revision ID: 0006
Revises: 0005
"""
from alembic import op
import sqlalchemy as sa


revision = '0006'
down_revision = '0005'
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        'board_tag',
        sa.Column('code', sa.Text(), nullable=False),
        sa.Column('board', sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint('code', name=op.f('pk_board_tag')),
        sa.UniqueConstraint('board', name=op.f('uq_board_tag_board')),
    )
    op.create_table(
        'board_plan',
        sa.Column('id', sa.Text(), nullable=False),
        sa.Column('made_ms', sa.Integer(), nullable=False),
        sa.Column('taken_ms', sa.Integer(), nullable=True),
        sa.Column('dropped_ms', sa.Integer(), nullable=True),
        sa.Column('asked', sa.Text(), nullable=False),
        sa.Column('found', sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint('id', name=op.f('pk_board_plan')),
    )
    op.create_index(op.f('ix_entry_kind'), 'entry', ['kind'], unique=False)


def downgrade():
    op.drop_index(op.f('ix_entry_kind'), table_name='entry')
    op.drop_table('board_plan')
    op.drop_table('board_tag')
