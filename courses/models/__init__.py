"""What there is to know: the standard, exhibits, plates, modules and courses."""

from courses.models.course import Course, Module, Place, Progress
from courses.models.exhibit import Exhibit, PicturePermission, Placement, Rendition, ShownFault
from courses.models.plate import Plate, PlateClause, PlateExhibit
from courses.models.standard import Breed, Clause, Edition, EditionStep, Fault, Section, SeverityScale

__all__ = [
    "Breed",
    "Clause",
    "Course",
    "Edition",
    "EditionStep",
    "Exhibit",
    "Fault",
    "Module",
    "PicturePermission",
    "Place",
    "Placement",
    "Plate",
    "PlateClause",
    "PlateExhibit",
    "Progress",
    "Rendition",
    "Section",
    "SeverityScale",
    "ShownFault",
]
