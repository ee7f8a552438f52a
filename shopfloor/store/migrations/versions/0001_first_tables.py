"""The first tables: shop, jobs and their revisions, codes, phones, the journal.

Revision ID: 0001
Revises: 
"""
from alembic import op
import sqlalchemy as sa


revision = '0001'
down_revision = None
branch_labels = None
depends_on = None


def upgrade():
    op.create_table('entry',
    sa.Column('rev', sa.Integer(), nullable=False),
    sa.Column('id', sa.Text(), nullable=False),
    sa.Column('device', sa.Text(), nullable=False),
    sa.Column('incarnation', sa.Text(), nullable=False),
    sa.Column('number', sa.Integer(), nullable=False),
    sa.Column('part', sa.Text(), nullable=False),
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('clock_ms', sa.Integer(), nullable=False),
    sa.Column('clock_counter', sa.Integer(), nullable=False),
    sa.Column('received_ms', sa.Integer(), nullable=False),
    sa.Column('body', sa.Text(), nullable=False),
    sa.PrimaryKeyConstraint('rev', name=op.f('pk_entry')),
    sa.UniqueConstraint('id', name=op.f('uq_entry_id')),
    sqlite_autoincrement=True
    )
    with op.batch_alter_table('entry', schema=None) as batch_op:
        batch_op.create_index(batch_op.f('ix_entry_part'), ['part'], unique=False)

    op.create_table('job',
    sa.Column('key', sa.Text(), nullable=False),
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('made_ms', sa.Integer(), nullable=False),
    sa.PrimaryKeyConstraint('key', name=op.f('pk_job'))
    )
    op.create_table('join_code',
    sa.Column('hash', sa.LargeBinary(), nullable=False),
    sa.Column('expires_ms', sa.Integer(), nullable=False),
    sa.Column('used_ms', sa.Integer(), nullable=True),
    sa.PrimaryKeyConstraint('hash', name=op.f('pk_join_code'))
    )
    op.create_table('phone',
    sa.Column('id', sa.Text(), nullable=False),
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('token', sa.LargeBinary(), nullable=False),
    sa.Column('joined_ms', sa.Integer(), nullable=False),
    sa.Column('last_seen_ms', sa.Integer(), nullable=False),
    sa.Column('waiting', sa.Integer(), nullable=True),
    sa.Column('withdrawn_ms', sa.Integer(), nullable=True),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_phone')),
    sa.UniqueConstraint('token', name=op.f('uq_phone_token'))
    )
    op.create_table('set_aside',
    sa.Column('rev', sa.Integer(), autoincrement=False, nullable=False),
    sa.Column('id', sa.Text(), nullable=False),
    sa.Column('digest', sa.LargeBinary(), nullable=False),
    sa.Column('reason', sa.Text(), nullable=False),
    sa.Column('phone', sa.Text(), nullable=False),
    sa.Column('received_ms', sa.Integer(), nullable=False),
    sa.Column('text', sa.Text(), nullable=False),
    sa.PrimaryKeyConstraint('rev', name=op.f('pk_set_aside')),
    sa.UniqueConstraint('digest', name=op.f('uq_set_aside_digest'))
    )
    op.create_table('shop',
    sa.Column('one', sa.Integer(), nullable=False),
    sa.Column('name', sa.Text(), nullable=False),
    sa.Column('generation', sa.Text(), nullable=False),
    sa.Column('next_serial', sa.Integer(), nullable=False),
    sa.CheckConstraint('one = 1', name=op.f('ck_shop_single')),
    sa.PrimaryKeyConstraint('one', name=op.f('pk_shop'))
    )
    op.create_table('part_tag',
    sa.Column('code', sa.Text(), nullable=False),
    sa.Column('job', sa.Text(), nullable=False),
    sa.Column('kind', sa.Text(), nullable=False),
    sa.Column('key', sa.Text(), nullable=False),
    sa.CheckConstraint("kind IN ('part', 'stack')", name=op.f('ck_part_tag_kind')),
    sa.ForeignKeyConstraint(['job'], ['job.key'], name=op.f('fk_part_tag_job')),
    sa.PrimaryKeyConstraint('code', name=op.f('pk_part_tag')),
    sa.UniqueConstraint('job', 'kind', 'key', name=op.f('uq_part_tag_job_kind_key'))
    )
    op.create_table('revision',
    sa.Column('job', sa.Text(), nullable=False),
    sa.Column('number', sa.Integer(), nullable=False),
    sa.Column('document', sa.Text(), nullable=False),
    sa.Column('note', sa.Text(), nullable=False),
    sa.Column('saved_ms', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['job'], ['job.key'], name=op.f('fk_revision_job')),
    sa.PrimaryKeyConstraint('job', 'number', name=op.f('pk_revision'))
    )


def downgrade():
    op.drop_table('revision')
    op.drop_table('part_tag')
    op.drop_table('shop')
    op.drop_table('set_aside')
    op.drop_table('phone')
    op.drop_table('join_code')
    op.drop_table('job')
    with op.batch_alter_table('entry', schema=None) as batch_op:
        batch_op.drop_index(batch_op.f('ix_entry_part'))

    op.drop_table('entry')
