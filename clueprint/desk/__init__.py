"""The desk: a page on this machine to look at readings beside their scans, answer queries and save.

`server.py` answers the page (`static/`); `sheet.py` is one puzzle that is worked on, `edits.py` what can be done to it,
`shelf.py` the folder with its puzzles, `scans.py` the pictures of the pages that they were read from."""
