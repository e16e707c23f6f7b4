"""Every limit on what may come in, with one line each."""

PAGE_LENGTH = 50  # rows on one page of a list
STANDARD_BYTES = 1_000_000  # an uploaded written standard
EXHIBITS_AT_ONCE = 40  # pictures in one upload
EXHIBITS_OFFERED = 48  # exhibits offered at once to be ticked for an item
PINS_PER_ANSWER = 40  # pins on one exhibit
REGIONS_PER_FAULT = 8  # polygons for one fault of a key
REGION_POINTS = 120  # corners of one polygon
CRITIQUE_PART = 2000  # characters of one part of a critique
RUBRIC_LEVEL = 200  # characters that describe one level of a rubric
FAULTS_PER_KEY = 20  # entries of one key
NAMES_ACCEPTED = 8  # other names that one entry of a key accepts
PANELLISTS_PER_PANEL = 12  # members who mark one item for its key
ITEMS_PER_QUIZ = 60  # items of one quiz
PANELLISTS_PER_CUT = 30  # members who estimate one quiz for its pass mark
CANDIDATES_PER_PAPER = 400  # people invited to one examination paper
REGULATIONS_SHOWN = 30  # versions of the regulations for examinations on their page
INVITATION_DAYS = 14  # life of an invitation
MENTORS_PER_TRAINEE = 4  # mentors who look at one trainee's answers
REASONS_PER_DECISION = 8  # reasons of one assessor about one sitting
WORDS_OF_A_PANEL = 40  # what a panel tells a trainee, each tied to clause or answer
TRAINEES_PER_SESSION = 12  # trainees at one mentoring session
KEEPING_RULES_SHOWN = 30  # versions of how long things are kept on their page
PEOPLE_PER_KEEPING_RUN = 200  # people whose time is over and who leave a club's rows in one run
ENDED_SHOWN = 10  # memberships that ended last, to be taken back
OPEN_INVITATIONS = 200  # invitations of one club that are still open
BREEDS_PER_CLUB = 30  # breeds of one club
EDITIONS_PER_BREED = 60  # editions of one breed
SECTIONS_PER_EDITION = 80  # sections of one edition
CLAUSES_PER_EDITION = 600  # clauses of one edition
UNDO_STEPS = 20  # changes of an edition that can be undone
FAULTS_PER_BREED = 500  # the club's list of faults of one breed
NAMES_PER_FAULT = 12  # other names of one fault
READINGS_PER_BREED = 100  # words of degree that a club reads in its own way
LADDERS_PER_CLUB = 100  # severity ladders of one club, past, present and to come
FORM_BYTES = 5_000_000  # an owner's signed form
PLACEMENTS_PER_EXHIBIT = 12  # people who place points on one exhibit
BLANKS_PER_EXHIBIT = 40  # shapes painted over on one exhibit
BLANK_CORNERS = 60  # corners of one such shape
USES_SHOWN = 100  # plates, and modules, named as using one exhibit
PERMISSIONS_PER_EXHIBIT = 20  # permissions recorded for one exhibit
CLAUSES_FOUND = 12  # clauses offered while a plate is made
PLATES_PER_EDITION = 400  # plates of one edition
COURSES_PER_CLUB = 100  # courses of one club
PLATE_CLAUSES = 6  # clauses on one plate
PLATE_EXHIBITS = 6  # exhibits on one side of a plate
MODULES_PER_COURSE = 60  # modules of one course
PLACES_PER_MODULE = 120  # places of one module
PICTURE_LINK_SECONDS = 300  # life of a signed link to a picture in object storage
MAIL_SECONDS = 10  # wait for the mail server
RATES = {
    "wrong_token": "20/10m/ip",  # invitation links that do not exist
    "new_account": "10/10m/ip",  # accounts asked for with an invitation
    "invite": "60/h/user",  # invitations made by one secretary
}  # how often in how long; sign-in, password and second factor have allauth's own
OPTIONS_PER_ITEM = 8  # options of one choice
GAPS_PER_CLAUSE = 12  # gaps of one clause to be completed
WORDS_PER_GAP = 12  # other words accepted in one gap, and other words offered for all
