"""A CSV file as three programs read it: Python's csv in strict mode, pandas, and openpyxl from the workbook that pandas makes of it."""

import csv, io, json, sys

import openpyxl, pandas

text = json.load(sys.stdin)["csv"]

# RFC 4180: a comma, doubled quotes. Strict: anything else is an error. The reader ends rows at CR LF, CR or LF outside quotes.
strict = list(csv.reader(io.StringIO(text, newline=""), strict=True))

# Every cell as a text, nothing taken for a missing value.
frame = pandas.read_csv(io.StringIO(text, newline=""), dtype=str, keep_default_na=False, na_filter=False)
table = [list(frame.columns)] + frame.values.tolist()

# As a person would who opens the file and keeps it as a workbook: openpyxl takes a text with a leading "=" for a formula.
workbook = io.BytesIO()
frame.to_excel(workbook, index=False, engine="openpyxl")
sheet = openpyxl.load_workbook(workbook).active
cells = [["" if cell.value is None else cell.value for cell in row] for row in sheet.iter_rows()]
kinds = sorted({cell.data_type for row in sheet.iter_rows() for cell in row if cell.value is not None})

# And with pandas deciding what a column is, as it does unasked.
numbers = {}
guessed = pandas.read_csv(io.StringIO(text, newline=""))
for name in guessed.columns:
    if pandas.api.types.is_float_dtype(guessed[name]):
        numbers[name] = [None if pandas.isna(value) else float(value) for value in guessed[name]]

json.dump({"strict": strict, "table": table, "cells": cells, "kinds": kinds, "numbers": numbers}, sys.stdout)
