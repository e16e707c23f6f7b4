"""Addresses of courses, under the club's own."""

from django.urls import path

from courses.views import (
    breed,
    clause,
    drawing,
    edition,
    exhibit,
    fault,
    ladder,
    paste,
    permission,
    picture,
    release,
    section,
    study_standard,
)

urlpatterns = [
    # The standard: breeds, and the club's severity ladder
    path("standard/", breed.standard, name="standard"),
    path("standard/ladder/", ladder.ladder, name="standard-ladder"),
    path("standard/ladder/<int:scale>/withdraw/", ladder.withdraw, name="standard-ladder-withdraw"),
    path("breeds/new/", breed.breed_new, name="breed-new"),
    path("breeds/<slug:breed>/", breed.breed_name, name="breed-name"),
    path("breeds/<slug:breed>/readings/", breed.readings, name="breed-readings"),
    path("study/standard/", study_standard.study_standard, name="study-standard"),
    # Editions
    path("breeds/<slug:breed>/editions/new/", edition.edition_new, name="edition-new"),
    path("editions/<int:pk>/", edition.edition, name="edition"),
    path("editions/<int:pk>/details/", edition.details, name="edition-details"),
    path("editions/<int:pk>/paste/", paste.paste, name="edition-paste"),
    path("editions/<int:pk>/review/", paste.review, name="edition-review"),
    path("editions/<int:pk>/undo/", edition.undo, name="edition-undo"),
    path("editions/<int:pk>/remove/", edition.remove, name="edition-remove"),
    path("editions/<int:pk>/copy/", release.copy, name="edition-copy"),
    path("editions/<int:pk>/release/", release.release, name="edition-release"),
    path("editions/<int:pk>/compare/", release.compare, name="edition-compare"),
    # Sections
    path("editions/<int:edition>/sections/new/", section.section_new, name="section-new"),
    path("sections/<int:pk>/", section.section_name, name="section-name"),
    path("sections/<int:pk>/up/", section.move, {"direction": "up"}, name="section-up"),
    path("sections/<int:pk>/down/", section.move, {"direction": "down"}, name="section-down"),
    path("sections/<int:pk>/renumber/", section.renumber, name="section-renumber"),
    path("sections/<int:pk>/confirm/", section.confirm, name="section-confirm"),
    path("sections/<int:pk>/remove/", section.remove, name="section-remove"),
    # Clauses
    path("sections/<int:section>/clauses/new/", clause.clause_new, name="clause-new"),
    path("clauses/<int:pk>/", clause.clause, name="clause"),
    path("clauses/<int:pk>/edit/", clause.edit, name="clause-edit"),
    path("clauses/<int:pk>/split/", clause.split, name="clause-split"),
    path("clauses/<int:pk>/ways/", clause.ways, name="clause-ways"),
    path("clauses/<int:pk>/confirm/", clause.confirm, name="clause-confirm"),
    path("clauses/<int:pk>/place/", clause.place, name="clause-place"),
    path("clauses/<int:pk>/join/", clause.join, name="clause-join"),
    path("clauses/<int:pk>/remove/", clause.remove, name="clause-remove"),
    path("clauses/<int:pk>/up/", clause.move, {"direction": "up"}, name="clause-up"),
    path("clauses/<int:pk>/down/", clause.move, {"direction": "down"}, name="clause-down"),
    # The club's list of faults
    path("faults/", fault.faults, name="faults"),
    path("breeds/<slug:breed>/faults/new/", fault.fault_new, name="fault-new"),
    path("breeds/<slug:breed>/faults/lines/", fault.fault_lines, name="fault-lines"),
    path("faults/<int:pk>/", fault.fault, name="fault"),
    path("faults/<int:pk>/remove/", fault.remove, name="fault-remove"),
    # Pictures
    path("pictures/<str:name>", picture.picture, name="picture"),
    # Exhibits
    path("exhibits/", exhibit.exhibits, name="exhibits"),
    path("exhibits/new/", exhibit.exhibit_new, name="exhibit-new"),
    path("exhibits/<int:number>/", exhibit.exhibit, name="exhibit"),
    path("exhibits/<int:number>/describe/", exhibit.exhibit_describe, name="exhibit-describe"),
    path("exhibits/<int:number>/publish/", exhibit.exhibit_publish, name="exhibit-publish"),
    path("exhibits/<int:number>/withdraw/", exhibit.exhibit_withdraw, name="exhibit-withdraw"),
    path("exhibits/<int:number>/remove/", exhibit.exhibit_remove, name="exhibit-remove"),
    path("exhibits/<int:number>/faults/", exhibit.exhibit_fault, name="exhibit-fault"),
    path(
        "exhibits/<int:number>/faults/<int:shown>/remove/",
        exhibit.exhibit_fault_remove,
        name="exhibit-fault-remove",
    ),
    # Drawn exhibits
    path("drawing/", drawing.drawing_new, name="drawing-new"),
    path("drawing/preview/", drawing.drawing_preview, name="drawing-preview"),
    path("drawing/regions/", drawing.drawing_regions, name="drawing-regions"),
    path("drawing/keep/", drawing.drawing_keep, name="drawing-keep"),
    # Owners' permissions
    path("exhibits/<int:number>/permission/", permission.exhibit_permission, name="exhibit-permission"),
    path(
        "exhibits/<int:number>/permission/withdraw/",
        permission.exhibit_permission_withdraw,
        name="exhibit-permission-withdraw",
    ),
    path(
        "exhibits/<int:number>/permission/<int:permission>/form/",
        permission.exhibit_permission_form,
        name="exhibit-permission-form",
    ),
]
