"""The tables from version to version, one module a step (Alembic): what is released is never changed, the next step is added."""
