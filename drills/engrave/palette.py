"""The colours of paper, pencil and ink.

Every text colour stands at least 4.5:1 against both grounds, every drawn mark at least 3:1
(WCAG 2.1, success criteria 1.4.3 and 1.4.11); no meaning is carried by colour alone. They are
roles as well: `theme` says what each becomes in another look.
"""

PAPER = "#efe9dc"
CARD = "#fffdf8"
INK = "#1b2340"
PENCIL = "#66645f"
PENCIL_SHADE = "#cfccc4"
FADED = "#7a82a0"
ACCENT = "#a63c06"
KEY_EDGE = "#89857c"
