"""Addresses of people and clubs: outside any club, and inside one."""

from django.urls import path

from shared.accounts.views import erasure, home, invitations, joining, members, person

outside_patterns = [
    path("", home.home, name="home"),
    path("account/", person.account, name="account"),
    # Invitations, for whoever holds the link
    path("invitation/<str:token>/", joining.invitation, name="invitation"),
    path("invitation/<str:token>/join/", joining.invitation_accept, name="invitation-accept"),
    path("invitation/<str:token>/account/", joining.invitation_account, name="invitation-account"),
]
club_patterns = [
    path("", home.club_home, name="club"),
    # Members
    path("members/", members.members, name="members"),
    path("members/left/", members.members_left, name="members-left"),
    path("members/<int:member>/", members.member, name="member"),
    path("members/<int:member>/end/", members.member_end, name="member-end"),
    path("members/<int:member>/take-back/", members.member_back, name="member-back"),
    # Erasing somebody, and asking for it
    path("members/<int:member>/erase/", erasure.member_erase, name="member-erase"),
    path("members/<int:member>/erase/decline/", erasure.member_erase_decline, name="member-erase-decline"),
    path("erasure/", erasure.erasure, name="erasure"),
    path("erasure/withdraw/", erasure.erasure_withdraw, name="erasure-withdraw"),
    # Invitations
    path("invitations/", invitations.invitations, name="invitations"),
    path("invitations/new/", invitations.invitation_new, name="invitation-new"),
    path(
        "invitations/<int:invitation>/withdraw/", invitations.invitation_withdraw, name="invitation-withdraw"
    ),
]
