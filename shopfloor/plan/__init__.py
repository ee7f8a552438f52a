"""The searches: boards (boards.py says what is asked and told, search.py plans), later setups and pairs."""
