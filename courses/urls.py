"""Addresses of courses, under the club's own."""

from django.urls import path

from courses.views import exhibit, permission, picture

urlpatterns = [
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
