"""Published equations and limits, one module per document and edition. They know nothing of chimneys."""
