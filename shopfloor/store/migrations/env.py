"""Runs the migrations inside the app's own context, on the app's own engine, one after the other in one transaction."""

from alembic import context
from flask import current_app

db = current_app.extensions["migrate"].db


def run() -> None:
    with db.engine.connect().execution_options(facemark_write=True) as connection:
        context.configure(
            connection=connection,
            target_metadata=db.metadata,
            render_as_batch=True,
            compare_type=True,
            # SQLite can take back what CREATE TABLE did; a start that is cut off leaves the old form whole.
            transactional_ddl=True,
        )
        with context.begin_transaction():
            context.run_migrations()


run()
