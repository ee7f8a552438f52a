"""Spreadsheets and job files in; job files and tables out."""
