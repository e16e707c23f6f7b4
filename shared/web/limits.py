"""Every limit on what may come in, with one line each."""

PAGE_LENGTH = 50  # rows on one page of a list
STANDARD_BYTES = 1_000_000  # an uploaded written standard
EXHIBITS_AT_ONCE = 40  # pictures in one upload
PINS_PER_ANSWER = 40  # pins on one exhibit
REGIONS_PER_FAULT = 8  # polygons for one fault of a key
REGION_POINTS = 120  # corners of one polygon
FAULTS_PER_KEY = 20  # entries of one key
INVITATION_DAYS = 14  # life of an invitation
OPEN_INVITATIONS = 200  # invitations of one club that are still open
