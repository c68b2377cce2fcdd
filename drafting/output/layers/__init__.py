"""The pictures of the order of work: what lies on what in a step, and what is seen after it."""

from drafting.output.layers.ply import WorkDone, list_done
from drafting.output.layers.step import picture_step
from drafting.output.layers.view import ClothLayer, NotchShown, StepView

__all__ = ["ClothLayer", "NotchShown", "StepView", "WorkDone", "list_done", "picture_step"]
