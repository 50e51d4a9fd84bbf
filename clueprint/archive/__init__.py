"""A back catalogue read in parallel, over days, restartable after any stop, with one catalogue of all that was read.

`work.py` goes through it; `crew.py` is the way of running (dask), `reader.py` the process that reads a page and may
die of it, `catalogue.sql` the tables."""
