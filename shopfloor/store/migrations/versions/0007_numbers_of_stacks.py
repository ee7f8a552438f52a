"""The number of each stack is kept with its code: a stack that leaves the job and comes back has it again.

Revision ID: 0007
Revises: 0006
"""
import json

from alembic import op
import sqlalchemy as sa


revision = '0007'
down_revision = '0006'
branch_labels = None
depends_on = None


def upgrade():
    with op.batch_alter_table('part_tag') as batch:
        batch.add_column(sa.Column('number', sa.Integer(), nullable=True))
    connection = op.get_bind()
    revisions = connection.execute(sa.text('SELECT job, document FROM revision ORDER BY job, number')).all()
    for job, document in revisions:
        for assembly in json.loads(document).get('assemblies', []):
            connection.execute(
                sa.text("UPDATE part_tag SET number = :number WHERE job = :job AND kind = 'stack' AND key = :key"),
                {'number': assembly.get('number'), 'job': job, 'key': assembly.get('key')},
            )


def downgrade():
    with op.batch_alter_table('part_tag') as batch:
        batch.drop_column('number')
