"""The searches: boards, setups, pairs.  Empty until the first of them is built."""
