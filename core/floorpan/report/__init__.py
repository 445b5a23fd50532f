"""From findings to papers: words, rows, drawings, and the documents that carry them."""
