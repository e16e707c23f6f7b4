"""When the panels of keys were asked, handed in and closed."""

from __future__ import annotations

import datetime as dt

from assessments.models import Key, KeyPanel, KeyPanelEvent, Panellist
from media_demo.dates.calendar import DAY, MINUTE, NEWEST, PANEL_DAYS, Calendar
from media_demo.dates.rows import write_times


def date_key_panels(calendar: Calendar) -> int:
    """A panel is asked a good week before its key is published; an open one a few days ago."""
    club, chance = calendar.people.club, calendar.chance
    panels = list(KeyPanel.objects.filter(item__edition__breed__club=club).prefetch_related("panellists"))
    keys = Key.objects.filter(panel__in=panels, version=1).values_list("panel", "published_at")
    published = dict(keys)
    seats: list[Panellist] = []
    opened: dict[int, dt.datetime] = {}
    closed: dict[int, dt.datetime] = {}
    for panel in panels:
        until = published.get(panel.pk, calendar.evening(NEWEST))
        panel.opened_at = opened[panel.pk] = until - PANEL_DAYS * DAY
        if panel.closed_at:
            panel.closed_at = closed[panel.pk] = until - dt.timedelta(hours=2)
        for seat in panel.panellists.all():
            seat.invited_at = panel.opened_at
            if seat.handed_in_at:
                seat.handed_in_at = panel.opened_at + chance.uniform(0.2, 0.8) * PANEL_DAYS * DAY
                seat.saved_at = seat.handed_in_at - MINUTE
            seats.append(seat)
    handed_in = {(seat.panel_id, seat.member_id): seat.handed_in_at for seat in seats}
    events = list(KeyPanelEvent.objects.filter(panel__in=panels).order_by("pk"))
    for event in events:
        if event.what == KeyPanelEvent.What.INVITED:
            event.at = opened[event.panel_id]
        elif event.what == KeyPanelEvent.What.HANDED_IN:
            event.at = handed_in[event.panel_id, event.by_id]
        else:
            event.at = closed[event.panel_id]
    return (
        write_times(panels, "opened_at", "closed_at")
        + write_times(seats, "invited_at", "saved_at", "handed_in_at")
        + write_times(events, "at")
    )
