"""What a maker asks for is an outside size and some choices; what is cut follows.  One construction a file."""
