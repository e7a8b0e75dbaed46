from django.urls import URLPattern, path

from quotes.views import letters, looks, openings, quotes, rates, rooms, walls

app_name = "quotes"
LOOK = "jobs/<int:job_id>/look/"
ROOM = f"{LOOK}rooms/<int:room_id>/"
QUOTE = "jobs/<int:job_id>/quote/"
VERSION = "quotes/<int:version_id>/"
urlpatterns: list[URLPattern] = [
    path(QUOTE, quotes.quote, name="quote"),
    path(f"{QUOTE}write/", quotes.write, name="quote-write"),
    path(VERSION, quotes.read, name="read"),
    path(f"{VERSION}send/", quotes.send, name="quote-send"),
    path(f"{VERSION}yes/", quotes.heard_yes, name="quote-accepted-by-phone"),
    path("letters/quote/", letters.letter, name="letter"),
    path("letters/quote/yes/", letters.accept, name="letter-accept"),
    path("letters/quote/no/", letters.decline, name="letter-decline"),
    path("letters/quote/paper/", letters.paper, name="letter-paper"),
    path("firm/rates/", rates.rates, name="rates"),
    path(LOOK, looks.look, name="look"),
    path(f"{LOOK}start/", looks.start, name="look-start"),
    path(f"{LOOK}change/", looks.change, name="look-change"),
    path(f"{LOOK}finish/", looks.finish, name="look-finish"),
    path(f"{LOOK}spec/", looks.spec, name="spec"),
    path(f"{LOOK}rooms/new/", rooms.new, name="room-new"),
    path(ROOM, rooms.room, name="room"),
    path(f"{ROOM}change/", rooms.change, name="room-change"),
    path(f"{ROOM}copy/", rooms.copy, name="room-copy"),
    path(f"{ROOM}remove/", rooms.remove, name="room-remove"),
    path(f"{ROOM}walls/", walls.all_walls, name="walls"),
    path(f"{ROOM}walls/<int:wall_id>/", walls.wall, name="wall"),
    path(f"{ROOM}openings/new/", openings.new, name="opening-new"),
    path(f"{ROOM}openings/<int:opening_id>/", openings.change, name="opening"),
    path(
        f"{ROOM}openings/<int:opening_id>/remove/",
        openings.remove,
        name="opening-remove",
    ),
]
