"""A shop has an id of its own, which phones know it by.

Revision ID: 0002
Revises: 0001
"""
from alembic import op
import sqlalchemy as sa


revision = '0002'
down_revision = '0001'
branch_labels = None
depends_on = None


def upgrade():
    with op.batch_alter_table('shop', schema=None) as batch_op:
        batch_op.add_column(sa.Column('id', sa.Text(), nullable=True))
    # The generation is random, too, and the same in every copy that was made of this database before: so they still
    # are one shop.
    op.execute('UPDATE shop SET id = generation')
    with op.batch_alter_table('shop', schema=None) as batch_op:
        batch_op.alter_column('id', existing_type=sa.Text(), nullable=False)


def downgrade():
    with op.batch_alter_table('shop', schema=None) as batch_op:
        batch_op.drop_column('id')
