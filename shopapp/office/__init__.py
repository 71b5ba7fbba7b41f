"""The office: tables, verbs and sheets; the only room where SQL is spoken.

A verb is a plain function: the session first, everything else by keyword, the time handed in.
Return keeps, raise undoes: a verb never commits and never asks the clock.
Reading gives column rows or sheets (frozen dataclasses), never a table's row.
Never here: HTTP, HTML, PDF, a default "now".
"""
