"""Everything that can be printed or shown as a picture: drawings, labels."""
