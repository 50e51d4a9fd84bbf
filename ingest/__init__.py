"""Any file to upright pages: raster, and for PDFs the vector paths and words."""
