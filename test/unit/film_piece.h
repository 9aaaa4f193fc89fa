/* A nightstand with a sound old film, to be entered in a book: of a year, with more members. */
#ifndef TEST_UNIT_FILM_PIECE_H
#define TEST_UNIT_FILM_PIECE_H

#include "test/unit/ask_one.h"

#define FILM(year, more)                                                                           \
    "{\"title\":\"Stand\",\"piece\":{\"template\":\"nightstand\",\"width\":\"20 "                  \
    "in\",\"depth\":\"16 in\","                                                                    \
    "\"height\":\"26 "                                                                             \
    "in\",\"finish\":\"oil_varnish\",\"wood\":\"eastern_white_pine\",\"year\":" year               \
    ",\"wanted\":{\"color\":\"#f4efe4\"}" more "}}"

#endif
