"""The papers people work from: what each says, and its bytes. `papers` names every one of a month."""

from planning.documents.listing import Box, list_boxes
from planning.documents.paper import Paper
from planning.documents.papers import papers
from planning.documents.stamp import Stamp

__all__ = ["Box", "Paper", "Stamp", "list_boxes", "papers"]
