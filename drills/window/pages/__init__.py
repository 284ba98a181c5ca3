"""The pages of the window, one page a module."""
