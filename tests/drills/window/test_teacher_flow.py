"""What the teacher's page offers can be done."""

from drills.app.practice_context import PracticeOptions
from drills.storage.studio import Studio
from drills.window.pages.teacher_page import NEED_PUPIL, USES
from drills.window.teacher_flow import TeacherFlow
from drills.window.window_flow import WindowFlow, WindowOptions


def test_every_button_of_the_teachers_page_leads_somewhere(tmp_path):
    flow = TeacherFlow(WindowFlow(Studio(tmp_path), PracticeOptions(), 0, WindowOptions()))
    offered = {use.name for _heading, uses in USES for use in uses}
    assert flow._uses.keys() == NEED_PUPIL
    assert flow._uses_without_pupil.keys() == offered - NEED_PUPIL
