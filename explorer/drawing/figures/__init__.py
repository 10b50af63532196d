"""The small pictures beside the five questions: from plain numbers and finished words to SVG."""

from explorer.drawing.figures.arms import Arm, Push
from explorer.drawing.figures.envelope import Envelope, EnvelopeMember, draw_envelope
from explorer.drawing.figures.free_body import FreeBody, draw_free_body
from explorer.drawing.figures.ladder import Ladder, Rung, draw_ladder
from explorer.drawing.figures.make_up import MakeUp, Segment, draw_make_up
from explorer.drawing.figures.miniature import Miniature, draw_miniature
from explorer.drawing.figures.movement import Movement, Standing, draw_movement, draw_standing
from explorer.drawing.figures.part import draw_part
from explorer.drawing.figures.part_layout import CutArm, PartPicture, PartPush
from explorer.drawing.figures.peaks import PeakPicture, PeakRow, draw_peaks
from explorer.drawing.figures.shares import ShareCurve, draw_share_curve
from explorer.drawing.figures.ticks import CaseTick, CaseTicks, draw_case_ticks
from explorer.drawing.figures.train import Following, TrainPicture, draw_train_picture
from explorer.drawing.figures.waking import WakingPicture, draw_waking
from explorer.drawing.figures.words import Box

__all__ = [
    "Arm",
    "Box",
    "CaseTick",
    "CaseTicks",
    "CutArm",
    "Envelope",
    "EnvelopeMember",
    "Following",
    "FreeBody",
    "Ladder",
    "MakeUp",
    "Miniature",
    "Movement",
    "PartPicture",
    "PartPush",
    "PeakPicture",
    "PeakRow",
    "Push",
    "Rung",
    "Segment",
    "ShareCurve",
    "Standing",
    "TrainPicture",
    "WakingPicture",
    "draw_case_ticks",
    "draw_envelope",
    "draw_free_body",
    "draw_ladder",
    "draw_make_up",
    "draw_miniature",
    "draw_movement",
    "draw_part",
    "draw_peaks",
    "draw_share_curve",
    "draw_standing",
    "draw_train_picture",
    "draw_waking",
]
