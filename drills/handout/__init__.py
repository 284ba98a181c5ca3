"""The handout: a practice sheet to print, for a week at the piano without a screen."""
