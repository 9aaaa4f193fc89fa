/* Reads the published project files: PSPLIB .sm (Kolisch and Sprecher 1996) and ProGen/max .SCH
 * (Schwindt 1998), either line ending. */
#ifndef BENCH_PROJECT_FILE_H
#define BENCH_PROJECT_FILE_H

#include "core/timetable/project.h"

/* NULL on success, else what was wrong (static text). Everything in *out is the arena's. */
const char *project_file_read(const char *path, struct arena *arena, struct project *out);

#endif
