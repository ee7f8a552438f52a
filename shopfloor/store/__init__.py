"""Tables, queries, migrations: the only place that knows SQL."""
