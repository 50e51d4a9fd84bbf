"""Lines of small worn type, read by a network of their own where Tesseract is not sure of them."""
