"""What is changed in the office and not saved yet: each step of it, so that it can be undone.

Revision ID: 0003
Revises: 0002
"""
from alembic import op
import sqlalchemy as sa


revision = '0003'
down_revision = '0002'
branch_labels = None
depends_on = None


def upgrade():
    op.create_table(
        'draft',
        sa.Column('job', sa.Text(), nullable=False),
        sa.Column('step', sa.Integer(), nullable=False),
        sa.Column('base', sa.Integer(), nullable=False),
        sa.Column('document', sa.Text(), nullable=False),
        sa.Column('says', sa.Text(), nullable=False),
        sa.Column('undone', sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(['job'], ['job.key'], name=op.f('fk_draft_job')),
        sa.PrimaryKeyConstraint('job', 'step', name=op.f('pk_draft')),
    )


def downgrade():
    op.drop_table('draft')
